import type { NumberCheck, PathCheck, PathFigures } from './check.ts'
import type { Verdict } from './verdict.ts'

/** Compares a sample path in both drives. A list of times gives one verdict, on its sum, and passes when every time agrees. */
export function runPath(check: PathCheck, clock: () => number): Verdict[] {
  const started = clock()
  const drives = { strict: check.find('strict'), eager: check.find('eager') }
  const seconds = clock() - started
  return Object.entries(check.expected).map(([name, expected]) => {
    const strict = faultOf(drives.strict, name, expected)
    const eager = faultOf(drives.eager, name, expected)
    const drive = strict === '' && eager !== '' ? 'eager' : 'strict'
    const fault = strict || eager
    return exact(check, 'sample path', seconds, {
      figure: typeof expected === 'number' ? name : `${name}, sum of ${expected.length}`,
      expected: total(expected),
      found: total(drives[drive][name] ?? Number.NaN),
      fault: fault === '' ? '' : `${drive} drive: ${fault}`,
    })
  })
}

/** Compares numbers that functions return. */
export function runNumbers(check: NumberCheck, clock: () => number): Verdict[] {
  const started = clock()
  const comparisons = check.figures.map(({ name, expected, tolerance, find }): Comparison => {
    const found = find()
    const distance = found === expected ? 0 : Math.abs(found / expected - 1)
    const fault = distance <= tolerance ? '' : `${distance.toPrecision(2)} of its size away`
    return { figure: name, expected, found, fault }
  })
  return comparisons.map(comparison => exact(check, 'number', clock() - started, comparison))
}

interface Comparison {
  readonly figure: string
  readonly expected: number
  readonly found: number
  readonly fault: string
}

function exact(
  { id, family, what, source }: Pick<Verdict, 'id' | 'family' | 'what' | 'source'>,
  kind: Verdict['kind'],
  seconds: number,
  { figure, expected, found, fault }: Comparison,
): Verdict {
  return {
    ...{ id, family, kind, what, source, figure, expected },
    ...{ mean: found, low: found, high: found, halfWidth: 0, within: 0 },
    ...{ pass: fault === '', fault, secondTry: false, seconds },
  }
}

function total(value: number | readonly number[]): number {
  return typeof value === 'number' ? value : value.reduce((sum, one) => sum + one, 0)
}

function faultOf(all: PathFigures, name: string, expected: number | readonly number[]): string {
  const found = all[name]
  if (typeof expected === 'number') return found === expected ? '' : 'differs'
  if (found === undefined || typeof found === 'number' || found.length !== expected.length)
    return 'another number of times'
  const at = expected.findIndex((time, index) => found[index] !== time)
  return at < 0 ? '' : `number ${at + 1} is ${found[at]}, not ${expected[at]}`
}
