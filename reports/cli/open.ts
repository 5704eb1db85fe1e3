import { spawn } from 'node:child_process'

/** Opens a file with what this system opens such files with. Where nothing can, nothing happens. */
export function openFile(file: string): void {
  const [program, args] = opener(file)
  const child = spawn(program, args, { detached: true, stdio: 'ignore' })
  child.on('error', () => {})
  child.unref()
}

function opener(file: string): [string, string[]] {
  if (process.platform === 'darwin') return ['open', [file]]
  // The empty word is the title of the window that `start` would take a quoted name for.
  if (process.platform === 'win32') return ['cmd', ['/c', 'start', '', file]]
  return ['xdg-open', [file]]
}
