import type { RunStudy } from '../../sim/study/run-study.ts'

/** What is added to the result of a run in its document. */
export interface DocumentContext {
  readonly variant?: string
  /** What the variant changes, in words. */
  readonly changes?: readonly string[]
  readonly fingerprint: string
  /** The command line that made it. */
  readonly command: string
  /** Wall time of the study [s]. */
  readonly seconds: number
}

/** The result of a run as one JSON document; the same for `--json` and for `run.json`. */
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
