import fc from 'fast-check'
import { boats, carriers, help, late, peopled, site, sorted, treatment, waits } from './arbitrary-more.ts'
import { wafer } from './lines.ts'

/**
 * Random lines that are valid by construction, with everything the language has. Names
 * are numbered in the order of the route.
 */

const milliseconds = (least: number, most: number) =>
  fc.integer({ min: least, max: most }).map(count => `${count / 1000} s` as const)
const percent = (most: number) =>
  fc.integer({ min: 0, max: most * 100 }).map(count => `${count / 100} %` as const)
const cv = fc.double({ min: 0, max: 3, noNaN: true })

/** Any distribution of a time with a mean of at least 1 s. */
const spread = fc.oneof(
  milliseconds(1, 90_000),
  milliseconds(1000, 90_000).map(exponential => ({ exponential })),
  fc.record({ lognormal: milliseconds(1000, 90_000), cv }),
  fc.record({ gamma: milliseconds(1000, 90_000), cv }),
  fc.record({ weibull: milliseconds(1000, 90_000), shape: fc.double({ min: 0.5, max: 5, noNaN: true }) }),
  fc.record({ normal: milliseconds(1000, 90_000), sd: milliseconds(0, 5000) }),
  fc.constant({ triangular: ['1 s', '2 s', '4 s'] }),
  fc.constant({ uniform: ['0 s', '3 s'] }),
  milliseconds(1000, 90_000).map(geometric => ({ geometric })),
  fc.array(milliseconds(1, 5000), { minLength: 1, maxLength: 4 }).map(observed => ({ observed })),
  fc.array(milliseconds(1, 5000), { minLength: 1, maxLength: 4 }).map(replayed => ({ replayed })),
)
const wholeCount = fc.integer({ min: 1, max: 5000 })
const countSpread = fc.oneof(
  wholeCount,
  wholeCount.map(exponential => ({ exponential })),
)

const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined })

type Way = 'single' | 'belt' | 'batch'

const firstDue = fc.constantFrom('1 h', { from: '0 h', to: '1 h' })

/** One stop; its name is given when it has its place. */
function stopFor(way: Way) {
  const pieces = way === 'batch' ? 'loads' : 'wafers'
  const fates = {
    single: ['resume', 'restart', 'lose'],
    belt: ['run out', 'resume', 'lose'],
    batch: ['resume', 'restart', 'lose'],
  }
  const inside = optional(
    fc.oneof(fc.constantFrom(...fates[way]), fc.constantFrom({ lose: 1 }, { lose: [0, 1] })),
  )
  const rest = {
    lasts: spread,
    inside,
    kind: optional(fc.constantFrom('scheduled', 'unscheduled', 'supply')),
    setUpWafers: optional(fc.constantFrom(0, 3, [0, 2], [5, 5])),
  }
  const { inside: _inside, ...empty } = rest
  const stop = fc.oneof(
    fc.record({ counts: optional(fc.constantFrom('running time', 'calendar time')), every: spread, ...rest }),
    fc.record({ counts: fc.constant('calendar time'), every: spread, first: firstDue, ...rest }),
    fc.record({ counts: fc.constant(pieces), every: countSpread, ...rest }),
    fc.record({ at: fc.constantFrom(['06:00'], ['Mon 06:00', '18:00']), ...rest }),
  )
  const idle = fc.record({ afterIdle: fc.constantFrom('2 min', '8 h'), ...empty })
  return fc.oneof(
    {
      weight: 5,
      arbitrary: fc
        .tuple(stop, help, waits)
        .map(([plain, people, wait]) => ({ ...plain, ...people, ...wait })),
    },
    {
      weight: 1,
      arbitrary: fc.tuple(idle, help).map(([plain, people]) => ({ ...plain, ...people })),
    },
  )
}

const belt = fc.oneof(
  fc.record({
    spacing: milliseconds(100, 9000),
    transit: milliseconds(100, 90_000),
    lanes: optional(fc.integer({ min: 1, max: 5 })),
  }),
  fc.record({ length: fc.constant('6 m'), speed: fc.constant('4 m/min'), pitch: fc.constant('200 mm') }),
  fc.record({
    spacing: fc.constant('1 s'),
    transit: fc.constant('20 s'),
    keepFree: fc.constantFrom(0, 1),
    tolerance: optional(spread.filter(value => typeof value === 'string')),
  }),
  fc.record({
    spacing: fc.constant('1 s'),
    transit: fc.constant('20 s'),
    whenFull: fc.constant('stop'),
    overProcessed: optional(percent(100)),
  }),
)
const batch = fc.oneof(
  fc.record({
    load: fc.constant(20),
    time: spread,
    tubes: optional(fc.integer({ min: 1, max: 3 })),
    loading: optional(spread),
    loaderServes: optional(fc.constantFrom('in turn', 'lowest number')),
    boats,
  }),
  fc.record({
    load: fc.constant(20),
    time: spread,
    least: fc.integer({ min: 1, max: 20 }),
    longestWait: optional(fc.constant('1 min')),
    dummies: optional(fc.record({ runs: fc.integer({ min: 1, max: 99 }) })),
  }),
)

const outcome = {
  breakage: optional(
    fc.oneof(
      percent(3),
      fc.record({
        share: percent(3),
        clearing: optional(fc.record({ lasts: spread, share: optional(percent(100)) })),
      }),
    ),
  ),
  reject: optional(percent(10)),
}
const single = fc.record({
  way: fc.constant('single' as const),
  tools: optional(fc.integer({ min: 1, max: 4 })),
  cycle: spread,
  stops: fc.array(stopFor('single'), { maxLength: 2 }),
  ...outcome,
})
const onBelt = fc.record({
  way: fc.constant('belt' as const),
  tools: optional(fc.integer({ min: 1, max: 2 })),
  belt,
  stops: fc.array(stopFor('belt'), { maxLength: 2 }),
  ...outcome,
})
const inBatch = fc.record({
  way: fc.constant('batch' as const),
  tools: optional(fc.integer({ min: 1, max: 2 })),
  batch,
  stops: fc.array(stopFor('batch'), { maxLength: 2 }),
  ...outcome,
})

const step = fc.record({
  kind: fc.constant('step' as const),
  body: fc.oneof(single, onBelt, inBatch),
  treatment,
  /** What becomes of wafers that are late after the step before; none: no limit. */
  late,
  /** In front of the step and its store, when a step stands before. */
  carriers: optional(carriers),
  /** How many steps back rework goes; none: no rework. */
  back: optional(fc.nat(3)),
  store: optional(
    fc.oneof(
      fc.record({
        capacity: fc.oneof(fc.integer({ min: 20, max: 90 }), fc.constant('unlimited')),
        leastDwell: optional(fc.constant('30 s')),
      }),
      fc.record({ transit: fc.constant('20 s'), capacity: fc.integer({ min: 1, max: 50 }) }),
    ),
  ),
})
type StepDraft = typeof step extends fc.Arbitrary<infer Value> ? Value : never
interface GroupDraft {
  readonly kind: 'group'
  readonly lanes: readonly (readonly Draft[])[]
  readonly equal: boolean
  readonly split: string | undefined
}
type Draft = StepDraft | GroupDraft

const { route } = fc.letrec<{ route: readonly Draft[]; group: GroupDraft }>(tie => ({
  route: fc.array(fc.oneof({ depthSize: 'small', withCrossShrink: true }, step, tie('group')), {
    minLength: 1,
    maxLength: 4,
  }),
  group: fc.record({
    kind: fc.constant('group' as const),
    lanes: fc.array(tie('route'), { minLength: 1, maxLength: 2 }),
    equal: fc.boolean(),
    split: optional(fc.constantFrom('in turn', 'least full')),
  }),
}))

/** Gives names, and puts in the stores that the rules ask for. */
function written(drafts: readonly Draft[]): unknown[] {
  let number = 0
  const next = (kind: string) => `${kind} ${++number}`
  const plain = (value: object) => JSON.parse(JSON.stringify(value)) as object

  function writeRoute(route: readonly Draft[], before: readonly string[]): unknown[] {
    const steps = [...before]
    return route.flatMap((draft, index) =>
      draft.kind === 'group' ? [writeGroup(draft, steps)] : writeStep(draft, steps, route[index - 1]),
    )
  }

  function writeStep(draft: StepDraft, steps: string[], before: Draft | undefined): unknown[] {
    const { body, back, store, treatment: treated } = draft
    const { way, ...fields } = body
    // Shards on a belt are a stop of their own.
    if (way === 'belt' && typeof fields.breakage === 'object') fields.breakage = fields.breakage.share
    // A belt that never stands holds nobody up.
    const stands = way !== 'belt' || ('belt' in fields && 'whenFull' in fields.belt)
    const { heldUp, ...others } = treated
    const named = fields.stops.map((stop, index) => ({ stop: `stop ${index}`, ...stop }))
    const [first, second] = named
    // The first is done along with the second where that can be.
    const stops =
      second && !('afterIdle' in first) && !('first' in first)
        ? [first, { ...second, renews: [first.stop] }]
        : named
    // The first store of a line or a lane needs a size.
    const sized = store && !before && store.capacity === 'unlimited' ? { ...store, capacity: 90 } : store
    const buffered = way === 'batch' ? { capacity: 20 } : sized
    const item =
      buffered && ('transit' in buffered ? { conveyor: next('conveyor') } : { buffer: next('buffer') })
    const moved = before?.kind === 'step' &&
      draft.carriers && { carriers: next('carriers'), ...draft.carriers }
    const name = next('step')
    const after = before?.kind === 'step' ? steps.at(-1) : undefined
    steps.push(name)
    const to = back === undefined ? undefined : steps[Math.max(0, steps.length - 1 - back)]
    const rework = to === undefined ? {} : { rework: { share: '5 %', to, atMost: 2 } }
    const worn = stops.find(stop => !('afterIdle' in stop))
    const drift = worn ? { drift: { until: worn.stop, loses: '0.1 %' } } : {}
    return [
      ...(moved ? [plain(moved)] : []),
      ...(item ? [plain({ ...item, ...buffered })] : []),
      plain({
        step: name,
        ...fields,
        ...others,
        ...(stands && { heldUp }),
        ...drift,
        ...limits(draft.late, after),
        stops,
        ...rework,
      }),
    ]
  }

  function limits(fate: string | undefined, after: string | undefined): object {
    if (fate === undefined || after === undefined) return {}
    const ways: Readonly<Record<string, unknown>> = {
      scrap: 'scrap',
      pass: { loses: '0.1 %' },
      back: { to: after, atMost: 1 },
    }
    return { timeLimits: [{ after, atMost: '30 min', late: ways[fate] }] }
  }

  function writeGroup({ lanes, equal, split }: GroupDraft, steps: readonly string[]): unknown {
    const group = next('group')
    const made = equal
      ? { lanes: lanes.map((_, index) => `lane ${index}`), each: writeRoute(lanes[0], steps) }
      : { lanes: Object.fromEntries(lanes.map((lane, index) => [`lane ${index}`, writeRoute(lane, steps)])) }
    return plain({ group, split, ...made })
  }

  return writeRoute(drafts, [])
}

/** The step that sorts, with which a line ends, and loads that are held back for it. */
const sorter = [
  { buffer: 'before sorter', capacity: 90 },
  { step: 'sorter', cycle: '1 s', test: {} },
]

function held(item: unknown): unknown {
  const { batch, ...others } = item as { batch?: object }
  return batch ? { ...others, batch: { ...batch, cap: { wafers: 9000, until: 'sorter' } } } : item
}

/** Random valid lines, as a person could write them. */
export const arbitraryLine: fc.Arbitrary<Record<string, unknown>> = fc
  .record({
    route,
    peopled,
    ...site,
    target: optional(fc.integer({ min: 1, max: 9000 }).map(count => `${count} wafers/h`)),
    sorted: optional(sorted),
    feed: optional(
      fc.oneof(fc.constant('as fast as taken'), fc.record({ every: spread, carrier: optional(countSpread) })),
    ),
  })
  .map(({ route, peopled: people, events, sorted: sorting, ...rest }) => {
    const named = events?.map((event, index) => ({ event: `event ${index}`, ...event }))
    const sorts = sorting ? { route: [...written(route).map(held), ...sorter], bins: sorting } : {}
    const line = {
      ...{ line: 'random', wafer, ...people, events: named, route: written(route), ...sorts },
      ...rest,
    }
    return JSON.parse(JSON.stringify(line))
  })
