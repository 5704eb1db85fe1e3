import { mkdtempSync, realpathSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { bundle } from './bundle.ts'
import { failed } from './failure.ts'
import { shownPath, thrownText } from './source-position.ts'

/** What a scenario file exports, not yet checked. */
export interface LoadedFile {
  readonly value: unknown
  /** What the bundler found odd, e.g. a key written twice. */
  readonly warnings: readonly string[]
}

const ENDINGS = ['.ts', '.mts', '.js', '.mjs', '.cjs', '.json']
/** A file that describes a line needs no longer; one that waits for something for ever must not hang the program. */
const LONGEST_LOAD_SECONDS = 30

/**
 * Loads the default export of a scenario file (`.ts`, `.js` or `.json`) from anywhere
 * on disk. Throws a `Failure` that says where and what is wrong: no such file,
 * a folder, syntax, an import that is not found, no default export, a file that throws.
 */
export async function loadScenario(file: string): Promise<LoadedFile> {
  const full = path.resolve(file)
  refuseUnreadable(full)
  process.setSourceMapsEnabled(true)
  const folder = mkdtempSync(path.join(realpathSync(tmpdir()), 'linewright-'))
  try {
    const outfile = path.join(folder, 'scenario.mjs')
    const { code, files, warnings } = await bundle(full, outfile)
    writeFileSync(outfile, code)
    return { value: await imported(outfile, full, files), warnings }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function refuseUnreadable(file: string): void {
  const found = statSync(file, { throwIfNoEntry: false })
  if (found === undefined) throw failed(`${shownPath(file)}: no such file`)
  if (found.isDirectory()) throw failed(`${shownPath(file)}: is a folder; name the scenario file inside it`)
  if (!ENDINGS.includes(path.extname(file))) {
    throw failed(`${shownPath(file)}: a scenario is a .ts, .js or .json file`)
  }
}

async function imported(outfile: string, file: string, files: readonly string[]): Promise<unknown> {
  const write = process.stdout.write
  // What a scenario prints must not end up inside the results.
  process.stdout.write = process.stderr.write.bind(process.stderr) as typeof process.stdout.write
  let timer: NodeJS.Timeout | undefined
  try {
    const timeout = new Promise<never>((_, reject) => {
      const late = () => reject(new Error(`did not finish loading within ${LONGEST_LOAD_SECONDS} s`))
      timer = setTimeout(late, LONGEST_LOAD_SECONDS * 1000)
    })
    const loaded = await Promise.race([import(pathToFileURL(outfile).href), timeout])
    return loaded.default
  } catch (thrown) {
    throw failed(thrownText(thrown, file, files))
  } finally {
    clearTimeout(timer)
    process.stdout.write = write
  }
}
