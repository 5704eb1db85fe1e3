import fc from 'fast-check'

/** Random parts of lines that are right by construction: people, calendar, and what steps may have besides their work. */

const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined })
const share = fc.integer({ min: 0, max: 300 }).map(count => `${count / 100} %` as const)
const minutes = (least: number, most: number) =>
  fc.integer({ min: least, max: most }).map(count => `${count} min` as const)

const heads = fc.integer({ min: 0, max: 3 })
const breaks = optional(fc.constant([{ at: '10:00', lasts: '30 min', relief: '50 %' }]))

/** Shifts with crews counted by them, or neither. The skill `people` is always there. */
export const peopled = fc.oneof(
  fc.record({ crews: fc.record({ people: fc.record({ heads, reach: optional(minutes(0, 9)) }) }) }),
  fc.record({
    calendar: fc.record({
      shifts: fc.record({
        day: fc.record({ from: fc.constant('06:00'), to: fc.constant('18:00'), breaks }),
        night: fc.record({
          from: fc.constant('18:00'),
          to: fc.constantFrom('02:00', '06:00'),
          days: optional(fc.subarray(['Mon', 'Wed', 'Sun'], { minLength: 1 })),
        }),
      }),
      runDown: optional(minutes(0, 90)),
    }),
    crews: fc.record({
      several: fc.record({
        heads: fc.record({ day: heads, night: heads }),
        skills: fc.constant(['people', 'more']),
      }),
      one: fc.record({ heads, skills: fc.constant(['people']) }),
    }),
  }),
)

export const site = {
  fleets: fc.constant({ vans: { number: 2 } }),
  events: optional(
    fc.array(
      fc.constantFrom({ every: '60 d', lasts: '1 h' }, { every: { exponential: '9 d' }, lasts: '2 h' }),
      {
        maxLength: 2,
      },
    ),
  ),
  cap: optional(fc.integer({ min: 1000, max: 9000 }).map(wafers => ({ wafers }))),
}

/** What any stop may have besides. */
export const help = fc.oneof(
  fc.constant({}),
  fc.record({
    skill: fc.constant('people'),
    people: optional(fc.constantFrom(1, 2)),
    priority: optional(fc.integer({ min: -3, max: 3 })),
  }),
)
export const waits = optional(
  fc.record({ until: fc.constant('starved'), atMost: minutes(0, 600) }).map(until => ({ waits: until })),
)

/** What any step may have besides. */
export const treatment = fc.record({
  effect: optional(fc.record({ shift: fc.constantFrom('-0.05 %', '0.1 %'), sd: optional(share) })),
  defects: optional(share),
  heldUp: optional(fc.record({ after: minutes(0, 5), loses: share })),
  warmUp: optional(fc.record({ after: minutes(0, 90), lasts: minutes(0, 30) })),
  recipes: optional(
    fc.constant({ careful: { reject: '1 %' }, rough: { effect: { sd: '0.1 %' }, defects: '1 %' } }),
  ),
})

/** What a late wafer meets; the steps are filled in. */
export const late = optional(fc.constantFrom('scrap', 'pass', 'back'))

export const carriers = fc.record({
  holds: fc.integer({ min: 1, max: 50 }),
  number: fc.integer({ min: 1, max: 50 }),
  longestWait: optional(minutes(0, 30)),
  moved: fc.oneof(
    fc.record({ takes: minutes(0, 9) }),
    fc.record({
      takes: minutes(0, 9),
      by: fc.constantFrom('people', 'vans'),
      returns: optional(minutes(0, 3)),
    }),
  ),
  back: optional(minutes(0, 9)),
  cleaning: optional(fc.record({ every: fc.integer({ min: 1, max: 90 }), lasts: minutes(0, 90) })),
  breakage: optional(fc.record({ share, replacedAfter: minutes(0, 900) })),
})

export const boats = optional(
  fc.record({
    perTool: fc.integer({ min: 1, max: 5 }),
    cooling: optional(minutes(0, 30)),
    cleaning: optional(
      fc.record({
        every: fc.integer({ min: 1, max: 90 }),
        lasts: minutes(0, 90),
        coating: optional(minutes(1, 60)),
      }),
    ),
    breakage: optional(fc.record({ share, replacedAfter: minutes(0, 900) })),
  }),
)

/** What the last test sorts into. */
export const sorted = fc.record({
  first: fc.constant('22.5 %'),
  width: fc.constant('0.1 %'),
  count: fc.integer({ min: 10, max: 15 }),
  colours: optional(fc.constantFrom({ all: '100 %' }, { light: '33.3 %', dark: '66.7 %' })),
  boxes: optional(
    fc.record({
      holds: fc.integer({ min: 1, max: 200 }),
      perOutput: optional(fc.integer({ min: 1, max: 3 })),
      ownBins: optional(fc.constantFrom([1, 10], [4, 4])),
      swap: fc.oneof(
        fc.record({ lasts: minutes(0, 5) }),
        fc.record({ lasts: minutes(0, 5), skill: fc.constant('people'), people: optional(fc.constant(2)) }),
      ),
    }),
  ),
})
