import type { Verdict } from './verdict.ts'

/** Width that the text keeps to. */
export const WIDTH = 100
const INDENT = 7
const FIGURE = 32
const NUMBER = 12

export const HEAD = [
  'Published checks. Each line gives a figure, its published value, what the simulator finds, and',
  'whether it holds: the 99.9 % interval over independent replications or repeats covers the value,',
  'and the run was long enough. Where nothing is left to chance one number must agree.',
]

/** The verdicts of one check. */
export function checkText(verdicts: readonly Verdict[]): string[] {
  const [{ id, what, source, seconds, secondTry }] = verdicts
  const indent = Math.max(INDENT, id.length + 2)
  const again = secondTry ? ' [missed with its first seed; this is the second]' : ''
  return [
    ...wrapped(`${what} (${seconds.toFixed(1)} s)${again}`, indent, id),
    ...wrapped(source, indent),
    ...verdicts.flatMap(figureText),
  ]
}

function figureText({ figure, expected, low, high, pass, fault }: Verdict): string[] {
  const found = low === high ? shown(low) : `${shown(low)} to ${shown(high)}`
  const cells = [
    figure.padEnd(FIGURE),
    shown(expected).padStart(NUMBER),
    found.padEnd(2 * NUMBER + 4),
    pass ? 'holds' : 'FAILS',
  ]
  const line = `${' '.repeat(INDENT)}${cells.join('  ')}`
  return fault === '' ? [line] : [line, ...wrapped(fault, 2 * INDENT)]
}

/** Seven digits, whole numbers whole. */
function shown(value: number): string {
  return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(7)))
}

/** Text in lines of at most WIDTH, all behind the indent, `label` in that of the first. */
function wrapped(text: string, indent: number, label = ''): string[] {
  const lines: string[] = []
  let line = label.padEnd(indent - 1)
  let empty = true
  for (const word of text.split(' ')) {
    if (!empty && line.length + 1 + word.length > WIDTH) {
      lines.push(line)
      line = ' '.repeat(indent - 1)
    }
    line += ` ${word}`
    empty = false
  }
  return [...lines, line]
}

/** How many figures hold, and which checks do not. */
export function totalText(verdicts: readonly Verdict[], seconds: number): string[] {
  const checks = new Set(verdicts.map(({ id, kind }) => `${kind} ${id}`)).size
  const failed = verdicts.filter(({ pass }) => !pass)
  const time = seconds < 120 ? `${seconds.toFixed(0)} s` : `${(seconds / 60).toFixed(1)} min`
  const first = `${verdicts.length} figures of ${checks} checks in ${time}: ${verdicts.length - failed.length} hold, ${failed.length} do not.`
  const ids = [...new Set(failed.map(({ id }) => id))]
  return ids.length === 0 ? [first] : [first, ...wrapped(`Look at ${ids.join(', ')}.`, 1)]
}
