import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { problemText } from '../../sim/base/problems.ts'
import { capacityTable, lineYield } from '../../sim/line/capacity.ts'
import { checkLine } from '../../sim/line/check.ts'
import { allItems } from '../../sim/line/items.ts'
import type { Step } from '../../sim/line/types.ts'
import { applyVariant, describeVariant } from '../../sim/line/vary.ts'
import { arbitraryLine } from './arbitrary-line.ts'

/** Lines whose paper figures are found: those with renewals take a tenth of a second each. */
const LINES = Math.ceil(Number(process.env.LINEWRIGHT_RUNS ?? 600) / 8)

/** Texts of the schema library. None of them may reach a person. */
const FOREIGN = /invalid|expected .*, received|unrecognized|required|undefined/i

function judged(value: unknown): void {
  const { line, problems, warnings } = checkLine(value)
  expect(line === undefined).toBe(problems.length > 0)
  for (const { hint } of warnings) expect(hint).toMatch(/\w/)
  for (const problem of [...problems, ...warnings]) {
    expect(problem.path).not.toBe('')
    expect(problem.found).not.toBe('')
    expect(problem.expected).not.toBe('')
    expect(`${problem.expected} ${problem.hint ?? ''}`).not.toMatch(FOREIGN)
  }
}

/** Keys and values of the language, put together without sense. */
const word = fc.constantFrom(
  'step',
  'buffer',
  'conveyor',
  'group',
  'line',
  'route',
  'lanes',
  'each',
  'stops',
  'variants',
  'carriers',
  'crews',
  'calendar',
)
const key = fc.oneof(
  word,
  fc.constantFrom(
    'shifts',
    'heads',
    'skills',
    'fleets',
    'events',
    'steps',
    'cap',
    'until',
    'bins',
    'colours',
    'boxes',
    'swap',
    'wafers',
    'holds',
  ),
  fc.constantFrom(
    'number',
    'moved',
    'takes',
    'by',
    'recipes',
    'recipe',
    'timeLimits',
    'after',
    'late',
    'atMost',
  ),
  fc.constantFrom(
    'drift',
    'effect',
    'shift',
    'boats',
    'perTool',
    'first',
    'at',
    'skill',
    'waits',
    'from',
    'breaks',
  ),
  fc.constantFrom(
    'cycle',
    'cycles',
    'belt',
    'batch',
    'tools',
    'capacity',
    'every',
    'lasts',
    'stop',
    'counts',
    'inside',
    'lose',
  ),
  fc.constantFrom(
    'rework',
    'to',
    'test',
    'feed',
    'wafer',
    'bins',
    'exponential',
    'triangular',
    'normal',
    'observed',
    '__proto__',
    'a',
  ),
)
const scrap = fc.letrec(tie => ({
  value: fc.oneof(
    { maxDepth: 6, withCrossShrink: true },
    fc.constantFrom<unknown>(
      '1 s',
      '5 %',
      'a',
      '',
      0,
      1,
      -1,
      1.5,
      1e300,
      null,
      true,
      'unlimited',
      'wafers',
      '1 wafers/h',
    ),
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(key, tie('value'), { maxKeys: 6 }),
  ),
})).value

describe('checkLine', () => {
  it('never throws, and gives either a line or problems', () => {
    fc.assert(fc.property(fc.jsonValue(), judged))
  })

  it('nor with the words of the language put together without sense', () => {
    fc.assert(fc.property(scrap, judged), { numRuns: 2000 })
    const inLine = fc.record({
      line: fc.constant('x'),
      route: scrap,
      variants: scrap,
      feed: scrap,
      wafer: scrap,
      calendar: scrap,
      crews: scrap,
      fleets: scrap,
      events: scrap,
      cap: scrap,
    })
    fc.assert(fc.property(inLine, judged), { numRuns: 500 })
    const inRoute = fc.record({ line: fc.constant('x'), route: fc.array(scrap, { maxLength: 4 }) })
    fc.assert(fc.property(inRoute, judged), { numRuns: 500 })
  })

  it('nor for a right line with one part replaced', () => {
    fc.assert(
      fc.property(arbitraryLine, fc.nat(), scrap, (line, place, value) => {
        judged(replaced(line, place, value))
      }),
      { numRuns: 300 },
    )
  })

  it('nor for a variant that says anything', () => {
    fc.assert(
      fc.property(arbitraryLine, fc.dictionary(key, scrap, { maxKeys: 3 }), scrap, (line, fields, value) => {
        judged({
          ...line,
          variants: { one: { 'step 1': fields, line: value }, other: { 'step 1': value, 'group 1': fields } },
        })
      }),
      { numRuns: 300 },
    )
  })

  it('passes lines that are right by construction, and returns their data', () => {
    fc.assert(
      fc.property(arbitraryLine, value => {
        const { line, problems } = checkLine(value)
        expect(problems.map(problemText)).toEqual([])
        expect(line).toEqual(value)
        expect(checkLine(line).problems).toEqual([])
      }),
      { numRuns: LINES },
    )
  })

  it('does not change what it is given, and returns a copy', () => {
    const value = { line: 'x', route: [{ step: 'a', cycle: '1 s' }] }
    const text = JSON.stringify(value)
    const { line } = checkLine(value)
    expect(JSON.stringify(value)).toBe(text)
    expect(line?.route[0]).not.toBe(value.route[0])
  })

  it('reports a line that holds itself', () => {
    const route: unknown[] = []
    route.push({ group: 'g', lanes: ['a'], each: route })
    expect(checkLine({ line: 'x', route }).problems.map(problemText)).toEqual([
      'the scenario: found data without an end, expected plain data (it is nested more than 40 levels deep (does a part of it hold itself?))',
    ])
  })

  it('takes code for what it is', () => {
    const route = [{ step: 'a', cycle: () => '1 s', stops: new Date(0) }]
    expect(checkLine({ line: 'x', route }).problems.map(problemText)).toEqual([
      'route[0] "a" → cycle: found a function, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
      'route[0] "a" → stops: found an empty object, expected a list of stops',
    ])
  })
})

describe('the paper capacity of random lines', () => {
  it('has sensible figures in every row', () => {
    fc.assert(
      fc.property(arbitraryLine, value => {
        const line = checkLine(value).line
        if (!line) throw new Error('the line must be right')
        const rows = capacityTable(line)
        const least = Math.min(...rows.map(row => row.goodPerHour))
        expect(lineYield(line)).toBeGreaterThan(0)
        expect(lineYield(line)).toBeLessThanOrEqual(1 + 1e-12)
        for (const row of rows) {
          expect(row.availability).toBeGreaterThan(0)
          expect(row.availability).toBeLessThanOrEqual(1)
          expect(row.netPerHour).toBeLessThanOrEqual(row.tools * row.toolPerHour * (1 + 1e-12))
          expect(row.startsPerWafer).toBeGreaterThan(0)
          expect(row.lowest).toBe(row.goodPerHour === least)
        }
      }),
      { numRuns: LINES },
    )
  })

  it('grows with a tool more, and the variant says so', () => {
    fc.assert(
      fc.property(arbitraryLine, value => {
        const plain = checkLine(value).line
        if (!plain) throw new Error('the line must be right')
        const rows = capacityTable(plain)
        const lowest = rows.find(row => row.lowest)?.step ?? ''
        const step = allItems(plain.route).find(item => 'step' in item && item.step === lowest) as Step
        const tools = (step.tools ?? 1) + 1
        const { line } = checkLine({ ...value, variants: { more: { [lowest]: { tools } } } })
        if (!line) throw new Error('the variant must be right')
        expect(describeVariant(line, 'more')).toHaveLength(1)
        const more = capacityTable(applyVariant(line, 'more')).find(row => row.step === lowest)
        const before = rows.find(row => row.step === lowest)
        expect(more?.netPerHour).toBeGreaterThan(before?.netPerHour ?? Infinity)
      }),
      { numRuns: LINES },
    )
  })
})

/** The n-th part of a value, counted through all depths, replaced. */
function replaced(value: unknown, place: number, by: unknown): unknown {
  const parts = countParts(value)
  let left = place % parts
  const walk = (part: unknown): unknown => {
    if (left-- === 0) return by
    if (Array.isArray(part)) return part.map(walk)
    if (typeof part !== 'object' || part === null) return part
    return Object.fromEntries(Object.entries(part).map(([name, inner]) => [name, walk(inner)]))
  }
  return walk(value)
}

function countParts(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 1
  return 1 + Object.values(value).reduce((sum: number, part) => sum + countParts(part), 0)
}
