import fc from 'fast-check'
import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Group, Item, Line, Route, Step, Stop } from '../../sim/line/types.ts'

/**
 * Random valid lines. Times are small whole seconds most of the
 * time, so that ties abound: they are what the two drives could disagree on.
 */
const seconds = fc.integer({ min: 1, max: 6 }).map((n): Time => `${n} s`)
const spread: fc.Arbitrary<Spread<Time>> = fc.oneof(
  { weight: 5, arbitrary: seconds },
  { weight: 1, arbitrary: seconds.map(s => ({ exponential: s })) },
  { weight: 1, arbitrary: fc.constant({ uniform: ['1 s', '3 s'] as const }) },
  { weight: 1, arbitrary: fc.constant({ observed: ['1 s', '2 s', '5 s'] as const }) },
)

function stop(kind: 'single' | 'belt' | 'batch', index: number): fc.Arbitrary<Stop> {
  const fates: NonNullable<Stop['inside']>[] =
    kind === 'belt'
      ? ['resume', 'lose', 'run out', { lose: [1, 3] }]
      : ['resume', 'restart', 'lose', { lose: [0, 2] }]
  const inside = fc.constantFrom(...fates)
  const every = fc.integer({ min: 10, max: 90 })
  return fc
    .record({
      counts: fc.constantFrom('running', 'calendar', 'pieces'),
      every,
      random: fc.boolean(),
      lasts: spread,
      inside,
      scheduled: fc.boolean(),
    })
    .map(({ counts, every, random, lasts, inside, scheduled }): Stop => {
      const base = {
        stop: `stop ${index}`,
        lasts,
        inside,
        kind: scheduled ? ('scheduled' as const) : ('unscheduled' as const),
      }
      if (counts === 'pieces')
        return {
          ...base,
          counts: kind === 'batch' ? 'loads' : 'wafers',
          every: random ? { geometric: every / 5 } : Math.ceil(every / 5),
        }
      const time: Time = `${every} s`
      return {
        ...base,
        counts: counts === 'running' ? 'running time' : 'calendar time',
        every: random ? { exponential: time } : time,
      }
    })
}

const stopsOf = (kind: 'single' | 'belt' | 'batch') =>
  fc.oneof(fc.constant([]), fc.tuple(stop(kind, 1)), twoStops(kind))

/** Neither, one or each of them is done along with the other. */
const twoStops = (kind: 'single' | 'belt' | 'batch') =>
  fc
    .tuple(stop(kind, 1), stop(kind, 2), fc.boolean(), fc.boolean())
    .map(([one, two, byOne, byTwo]): Stop[] => [
      { ...one, ...(byOne && { renews: [two.stop] }) },
      { ...two, ...(byTwo && { renews: [one.stop] }) },
    ])
const share = fc.constantFrom(undefined, '2 %' as const, '10 %' as const)

interface Draft {
  readonly kind: 'single' | 'belt' | 'batch'
  readonly step: Omit<Step, 'step' | 'rework'>
  readonly backTo: number
  readonly store: number
}

const single = fc
  .record({
    tools: fc.integer({ min: 1, max: 4 }),
    cycle: spread,
    stops: stopsOf('single'),
    breakage: share,
    reject: share,
    clears: fc.boolean(),
  })
  .map(({ tools, cycle, stops, breakage, reject, clears }): Draft['step'] => ({
    tools,
    cycle,
    stops,
    ...(breakage && {
      breakage: clears ? { share: breakage, clearing: { share: '50 %', lasts: '4 s' } } : breakage,
    }),
    ...(reject && { reject }),
  }))
const belt = fc
  .record({
    tools: fc.integer({ min: 1, max: 2 }),
    transit: fc.integer({ min: 3, max: 12 }),
    stops: stopsOf('belt'),
    whenFull: fc.constantFrom('run out' as const, 'stop' as const),
    keepFree: fc.constantFrom(undefined, 1, 2),
    tolerance: fc.constantFrom(undefined, '2 s' as const),
    breakage: share,
  })
  .map(({ tools, transit, stops, whenFull, keepFree, tolerance, breakage }): Draft['step'] => ({
    tools,
    stops,
    belt: {
      spacing: '2 s',
      transit: `${transit} s`,
      whenFull,
      ...(whenFull === 'run out' && keepFree && { keepFree }),
      ...(tolerance && { tolerance }),
      ...(whenFull === 'stop' && tolerance && { overProcessed: '50 %' as const }),
    },
    ...(breakage && { breakage }),
  }))
const batch = fc
  .record({
    tools: fc.integer({ min: 1, max: 2 }),
    tubes: fc.integer({ min: 1, max: 3 }),
    load: fc.integer({ min: 1, max: 6 }),
    short: fc.boolean(),
    time: fc.integer({ min: 4, max: 20 }),
    loader: fc.boolean(),
    stops: stopsOf('batch'),
    breakage: share,
    clears: fc.boolean(),
  })
  .map(({ tools, tubes, load, short, time, loader, stops, breakage, clears }): Draft['step'] => ({
    tools,
    stops,
    batch: {
      load,
      tubes,
      time: `${time} s`,
      ...(short && { least: Math.ceil(load / 2), longestWait: '5 s' }),
      ...(loader && { loading: '2 s', unloading: '1 s' }),
    },
    ...(breakage && { breakage: clears ? { share: breakage, clearing: { lasts: '4 s' } } : breakage }),
  }))

const draft: fc.Arbitrary<Draft> = fc
  .oneof(
    { weight: 4, arbitrary: fc.record({ kind: fc.constant('single' as const), step: single }) },
    { weight: 2, arbitrary: fc.record({ kind: fc.constant('belt' as const), step: belt }) },
    { weight: 2, arbitrary: fc.record({ kind: fc.constant('batch' as const), step: batch }) },
  )
  .chain(d =>
    fc.record({
      kind: fc.constant(d.kind),
      step: fc.constant(d.step),
      backTo: fc.integer({ min: -4, max: 3 }),
      store: fc.integer({ min: 0, max: 9 }),
    }),
  )

/** Stores before a step: none, buffers of several sizes and orders, a conveyor, two in a row. */
function stores(draft: Draft, name: string): Item[] {
  const least = draft.kind === 'batch' ? (draft.step.batch?.load ?? 1) : 0
  const capacity = Math.max(least, [0, 1, 2, 3, 5, 8][draft.store % 6])
  const buffer = { buffer: `before ${name}`, capacity }
  if (draft.kind === 'batch')
    return [draft.store > 7 && !name.endsWith(' 1') ? { ...buffer, capacity: 'unlimited' as const } : buffer]
  if (draft.store === 0) return []
  if (draft.store === 6) return [{ conveyor: `to ${name}`, transit: '3 s', capacity: 4 }]
  if (draft.store === 7) return [buffer, { conveyor: `to ${name}`, transit: '2 s', capacity: 3 }]
  if (draft.store === 8) return [{ ...buffer, order: 'last in, first out' }]
  if (draft.store === 9) return [{ ...buffer, capacity: 4, leastDwell: '3 s' }]
  return [buffer]
}

function routeOf(drafts: readonly Draft[], prefix: string): Route {
  const names: string[] = []
  return drafts.flatMap((d, index) => {
    const name = `${prefix}${index + 1}`
    names.push(name)
    const to = names[index - d.backTo]
    const rework =
      d.backTo >= 0 && to
        ? {
            rework: {
              share: '5 %' as const,
              to,
              atMost: 2,
              then: d.store % 2 ? ('pass' as const) : ('reject' as const),
            },
          }
        : {}
    return [...stores(d, name), { step: name, ...d.step, ...rework }]
  })
}

const group = fc
  .record({
    drafts: fc.array(draft, { minLength: 1, maxLength: 2 }),
    lanes: fc.integer({ min: 2, max: 3 }),
    split: fc.constantFrom('least full' as const, 'in turn' as const),
  })
  .map(
    ({ drafts, lanes, split }): Group => ({
      group: 'group',
      split,
      lanes: ['A', 'B', 'C'].slice(0, lanes),
      each: routeOf(drafts, 'lane step '),
    }),
  )

const feed: fc.Arbitrary<NonNullable<Line['feed']>> = fc.oneof(
  fc.constant('as fast as taken' as const),
  fc.record({
    every: spread,
    carrier: fc.integer({ min: 1, max: 4 }),
    whenFull: fc.constantFrom('wait' as const, 'turn away' as const),
  }),
  fc.record({ every: spread, wafers: fc.constant(200) }),
)

export const randomLine: fc.Arbitrary<Line> = fc
  .record({
    before: fc.array(draft, { minLength: 1, maxLength: 3 }),
    group: fc.option(group, { nil: undefined }),
    after: fc.array(draft, { maxLength: 2 }),
    feed,
  })
  .map(
    ({ before, group, after, feed }): Line => ({
      line: 'random',
      feed,
      route: [...routeOf(before, 'step '), ...(group ? [group] : []), ...routeOf(after, 'late step ')],
    }),
  )
  // A belt may ask for more free places than stand behind it.
  .filter(line => checkLine(line).problems.length === 0)
