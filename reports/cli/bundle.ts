import { readFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { type BuildFailure, build, type Loader, type Plugin } from 'esbuild'
import { failed } from './failure.ts'
import { messageText, shownPath } from './source-position.ts'

/** A scenario with all it imports, as one module. */
export interface Bundle {
  readonly code: Uint8Array
  /** The scenario's own files (absolute), the package's excluded. */
  readonly files: readonly string[]
  readonly warnings: readonly string[]
}

/** Source beside `sim` in development, compiled beside it in the package: the ending tells. */
const AUTHOR = fileURLToPath(
  new URL(`../../sim/line/author${path.extname(fileURLToPath(import.meta.url))}`, import.meta.url),
)
/** Errors shown of one file; the first ones matter. */
const MOST_ERRORS = 10

/**
 * Bundles a scenario file so that it can be imported from `outfile`, wherever the
 * file lies. The name `linewright` means the authoring module of this very program.
 *
 * Throws a `Failure` with `file:line:col: text` for syntax errors, imports that
 * cannot be resolved and a missing default export.
 */
export async function bundle(file: string, outfile: string): Promise<Bundle> {
  const result = await build({
    entryPoints: [file],
    outfile,
    bundle: true,
    write: false,
    metafile: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    sourcemap: 'inline',
    logLevel: 'silent',
    banner: {
      js: "import { createRequire as linewrightRequire } from 'node:module'; const require = linewrightRequire(import.meta.url);",
    },
    plugins: [ownName, ownPlace],
  }).catch((error: BuildFailure) => {
    if (!Array.isArray(error.errors)) throw error
    throw failed(errorsText(error))
  })
  const [output] = Object.values(result.metafile.outputs).filter(one => one.entryPoint !== undefined)
  if (output?.exports.includes('default') !== true) {
    throw failed(`${shownPath(file)}: no default export; end the file with: export default line({ ... })`)
  }
  return {
    code: result.outputFiles[0]?.contents ?? new Uint8Array(),
    files: Object.keys(result.metafile.inputs)
      .map(input => path.resolve(input))
      .filter(input => input !== AUTHOR),
    warnings: result.warnings.map(messageText),
  }
}

const ownName: Plugin = {
  name: 'own name',
  setup(builder) {
    builder.onResolve({ filter: /^linewright$/ }, () => ({ path: AUTHOR }))
  },
}

/** The bundle lies elsewhere: what a file asks for relative to itself must still be found. */
const ownPlace: Plugin = {
  name: 'own place',
  setup(builder) {
    builder.onLoad({ filter: /\.[cm]?[jt]s$/ }, ({ path: file }) => {
      const source = textOf(file)
      if (source?.includes('import.meta.url') !== true) return undefined
      const loader: Loader = /ts$/.test(file) ? 'ts' : 'js'
      return {
        contents: source.replaceAll('import.meta.url', JSON.stringify(pathToFileURL(file).href)),
        loader,
      }
    })
  },
}

/** The text of a file; undefined when it cannot be read, for then the bundler says so better. */
function textOf(file: string): string | undefined {
  try {
    return readFileSync(file, 'utf8')
  } catch {
    return undefined
  }
}

function errorsText({ errors }: BuildFailure): string {
  const shown = errors.slice(0, MOST_ERRORS).map(messageText)
  const rest = errors.length - shown.length
  return [...shown, ...(rest > 0 ? [`and ${rest} more`] : [])].join('\n')
}
