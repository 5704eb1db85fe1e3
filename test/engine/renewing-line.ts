import fc from 'fast-check'
import { checkLine } from '../../sim/line/check.ts'
import type { Item, Line, Step, Stop } from '../../sim/line/types.ts'

/**
 * Lines in which a stop that asks for nobody and takes nothing renews one that calls people, takes wafers or asks
 * for set-up wafers: after it that one may come sooner than its clock had said. A cap on wafers hears of
 * every loss, and the people of every call, so a station that promises too much shows at once.
 */
type Kind = 'single' | 'belt' | 'batch'
const kinds = fc.constantFrom<Kind>('single', 'single', 'belt', 'batch')

const WAYS = {
  single: { cycle: '2 s' },
  belt: { belt: { spacing: '1 s', transit: '4 s' } },
  batch: { batch: { load: 2, time: '5 s' } },
} as const

function quiet(kind: Kind): fc.Arbitrary<Stop> {
  const more = { stop: 'quiet', lasts: '1 s', renews: ['loud'] } as const
  return fc.oneof(
    fc.integer({ min: 1, max: 5 }).map((every): Stop => ({ ...more, counts: counted(kind), every })),
    fc.constantFrom('1 s' as const, '4 s' as const).map((afterIdle): Stop => ({ ...more, afterIdle })),
  )
}

function counted(kind: Kind): 'wafers' | 'loads' {
  return kind === 'batch' ? 'loads' : 'wafers'
}

function loud(kind: Kind): fc.Arbitrary<Stop> {
  return fc
    .record({
      byPieces: fc.boolean(),
      calls: fc.boolean(),
      loses: fc.boolean(),
      setUp: fc.boolean(),
    })
    .map(({ byPieces, calls, loses, setUp }): Stop => {
      const every = byPieces
        ? { counts: counted(kind), every: { uniform: [1, 20] } as const }
        : { every: { uniform: ['1 s', '60 s'] } as const }
      return {
        ...{ stop: 'loud', lasts: '3 s' },
        ...every,
        ...(calls && { skill: 'fitter' }),
        ...(loses && { inside: 'lose' }),
        ...(setUp && { setUpWafers: 1 }),
      }
    })
}

const step = kinds.chain(kind =>
  fc.record({
    kind: fc.constant(kind),
    tools: fc.integer({ min: 1, max: 2 }),
    stops: fc.tuple(quiet(kind), loud(kind)),
    places: fc.integer({ min: 2, max: 9 }),
  }),
)

export const renewingLine: fc.Arbitrary<Line> = fc
  .record({
    steps: fc.array(step, { minLength: 2, maxLength: 4 }),
    cap: fc.integer({ min: 4, max: 30 }),
    heads: fc.integer({ min: 1, max: 2 }),
  })
  .map(({ steps, cap, heads }): Line => {
    const route = steps.flatMap(({ kind, tools, stops, places }, index): Item[] => {
      const made: Step = { step: `step ${index + 1}`, tools, stops, ...WAYS[kind] }
      return [{ buffer: `before ${index + 1}`, capacity: places }, made]
    })
    return { line: 'renewing', route, cap: { wafers: cap }, crews: { fitter: { heads } } }
  })
  .filter(line => checkLine(line).problems.length === 0)
