import { spawn } from 'node:child_process'
import { mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { commandLine } from '../../../reports/cli/command-line.ts'
import { madeUp } from './surroundings.ts'

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
  const inFolder = (arg: string) => (/\.ts$|^results$|\/results$/.test(arg) ? path.join(folder, arg) : arg)
  const seconds = () => performance.now() / 1000
  return {
    folder,
    remove: () => rmSync(folder, { recursive: true, force: true }),
    write(name: string, text: string): string {
      writeFileSync(path.join(folder, name), text)
      return name
    },
    /** The program as another process, in this folder. */
    spawned: (args: readonly string[], ways: Ways = {}) => spawned(folder, args, ways),
    /** The program within this process: quicker, and all the same but for signals and streams. */
    async linewright(args: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<Ended> {
      const { surroundings, stdout, stderr } = madeUp({ args: args.map(inFolder), env, seconds })
      const code = await commandLine(surroundings)
      const bare = (text: string) => text.replaceAll(`${folder}${path.sep}`, '')
      return { code, stdout: bare(stdout.text()), stderr: bare(stderr.text()) }
    },
  }
}

function spawned(folder: string, args: readonly string[], ways: Ways): Promise<Ended> {
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
