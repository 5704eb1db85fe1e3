import path from 'node:path'
import type { RunStudy } from '../../sim/study/run-study.ts'

/** What is added to the result of a run in its document. */
export interface DocumentContext {
  readonly variant?: string
  /** What the variant changes, in words. */
  readonly changes?: readonly string[]
  readonly fingerprint: string
  /** The command that makes these figures. */
  readonly command: string
  /** Wall time of the study [s]; left out when runs were there already. */
  readonly seconds?: number
  /** Files written beside the document, by what they are. */
  readonly files?: { readonly page: string }
}

/**
 * The result of a run as it is kept in `run.json`: the same to the last byte however often
 * the study was interrupted, on however many workers and machines it ran, and where to.
 */
export function keptDocument(
  study: RunStudy,
  { seconds: _wall, files, ...context }: DocumentContext,
): string {
  const named = files && { files: { page: path.basename(files.page) } }
  return documentText({ ...study, ...context, ...named })
}

/** The result of a run as one JSON document, for `--json`. */
export function runDocument(study: RunStudy, context: DocumentContext): string {
  return documentText({ ...study, ...context })
}

/**
 * JSON with a line feed at its end. JSON has no word for what is no finite number: such
 * a field is left out, such an element of a list becomes null.
 */
export function documentText(value: object): string {
  const keep = function (this: unknown, _key: string, item: unknown) {
    if (typeof item !== 'number' || Number.isFinite(item)) return item
    return Array.isArray(this) ? null : undefined
  }
  return `${JSON.stringify(value, keep, 2)}\n`
}

/** The command line as it can be typed again. */
export function commandText(args: readonly string[]): string {
  const quoted = (arg: string) => (/^[\w@%+=:,./-]+$/.test(arg) ? arg : `'${arg.replaceAll("'", "'\\''")}'`)
  return ['linewright', ...args.map(quoted)].join(' ')
}
