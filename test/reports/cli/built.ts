import { execFileSync, spawn } from 'node:child_process'
import { cpSync, mkdtempSync, realpathSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { writePageAssets } from '../../../reports/cli/page-assets.ts'

const ROOT = fileURLToPath(new URL('../../..', import.meta.url))

/** How a process ended. */
export interface BuiltEnd {
  readonly code: number | null
  readonly signal: NodeJS.Signals | null
  readonly stdout: string
  readonly stderr: string
}

/** The program compiled as in the package, in a folder of its own: it starts quicker than from sources. */
export async function builtProgram() {
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'built-')))
  const compiler = path.join(ROOT, 'node_modules/typescript/bin/tsc')
  const project = ['-p', path.join(ROOT, 'tsconfig.build.json'), '--outDir', path.join(folder, 'dist')]
  execFileSync(process.execPath, [
    compiler,
    ...project,
    '--declaration',
    'false',
    '--sourceMap',
    'false',
    '--inlineSources',
    'false',
    // Types have been checked before any test; here only the code is wanted.
    '--noCheck',
  ])
  await writePageAssets(path.join(folder, 'dist/reports/browser'))
  cpSync(path.join(ROOT, 'package.json'), path.join(folder, 'package.json'))
  symlinkSync(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'))
  const main = path.join(folder, 'dist/reports/cli/main.js')
  return {
    main,
    remove: () => rmSync(folder, { recursive: true, force: true }),
    /** Starts the program in a folder. */
    start(cwd: string, args: readonly string[], env: Readonly<Record<string, string>> = {}) {
      const { NO_COLOR: _no, FORCE_COLOR: _force, ...own } = process.env
      const child = spawn(process.execPath, [main, ...args], { cwd, env: { ...own, ...env } })
      let [stdout, stderr] = ['', '']
      child.stdout.on('data', chunk => {
        stdout += chunk
      })
      child.stderr.on('data', chunk => {
        stderr += chunk
      })
      const ended = new Promise<BuiltEnd>((resolve, reject) => {
        child.on('error', reject)
        child.on('close', (code, signal) => resolve({ code, signal, stdout, stderr }))
      })
      return { kill: (signal: NodeJS.Signals) => child.kill(signal), ended }
    },
  }
}
