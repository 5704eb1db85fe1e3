import { spawn } from 'node:child_process'
import { mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'

/** Runs the program as a user does: another process, a folder of its own, pipes. */

const ROOT = fileURLToPath(new URL('../../..', import.meta.url))
const MAIN = path.join(ROOT, 'reports/cli/main.ts')
const TSX = pathToFileURL(path.join(ROOT, 'node_modules/tsx/dist/loader.mjs')).href

export interface Ended {
  readonly code: number | null
  readonly stdout: string
  readonly stderr: string
}

export interface Ways {
  readonly env?: Readonly<Record<string, string>>
  /** Called once the process has been started; may send it a signal. */
  readonly started?: (kill: (signal: NodeJS.Signals) => void) => void
  /** The reader of standard output goes away at once. */
  readonly reader?: 'gone'
}

/** A folder outside of the package, for scenarios and results. */
export function ownFolder() {
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'lines-')))
  return {
    folder,
    remove: () => rmSync(folder, { recursive: true, force: true }),
    write(name: string, text: string): string {
      writeFileSync(path.join(folder, name), text)
      return name
    },
    linewright: (args: readonly string[], ways: Ways = {}) => linewright(folder, args, ways),
  }
}

function linewright(folder: string, args: readonly string[], ways: Ways): Promise<Ended> {
  const { NO_COLOR: _no, FORCE_COLOR: _force, LINEWRIGHT_DEBUG: _debug, ...env } = process.env
  const child = spawn(process.execPath, ['--import', TSX, MAIN, ...args], {
    cwd: folder,
    env: { ...env, ...ways.env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let [stdout, stderr] = ['', '']
  child.stdout.on('data', chunk => {
    stdout += chunk
  })
  if (ways.reader === 'gone') child.stdout.destroy()
  child.stderr.on('data', chunk => {
    stderr += chunk
  })
  ways.started?.(signal => child.kill(signal))
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('close', code => resolve({ code, stdout, stderr }))
  })
}
