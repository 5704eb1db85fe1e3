import fc from 'fast-check'
import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Group, Item, Line, Route, Step, Stop, TimeLimit } from '../../sim/line/types.ts'
import { randomLine } from './random-line.ts'

/**
 * Random lines with everything that couples stations beyond their neighbours: people,
 * vehicles, a cap, closing hours, carriers, time limits; and all that a tool can be
 * besides: waiting stops, stops after idleness, set-up wafers, boats, warm-up, wear. Minutes and seconds are short, so that a
 * run of ten minutes sees all of it.
 */

/** Choices, one after another: a random line is dressed with them from top to bottom. */
class Choices {
  private next = 0
  constructor(private readonly values: readonly number[]) {}

  /** 0 to `count` - 1. */
  pick(count: number): number {
    return this.values[this.next++ % this.values.length] % count
  }

  of<T>(...values: readonly T[]): T {
    return values[this.pick(values.length)]
  }

  /** True in one case of `n`. */
  once(n: number): boolean {
    return this.pick(n) === 0
  }
}

/** Spread over the tools and lanes. */
const FIRST = { from: '0 s', to: '20 s' } as const
/** For how long a carrier is away. */
const AWAY = { uniform: ['2 s', '30 s'] } as const
const SKILLS = ['operator', 'fitter'] as const

function dressedStop(stop: Stop, step: Step, c: Choices, calendar: boolean): Stop {
  let dressed = stop
  if (c.once(2))
    dressed = { ...dressed, skill: c.of(...SKILLS), people: c.of(1, 1, 2), priority: c.of(0, 0, 1) }
  if (c.once(4)) {
    const untils = [
      'starved',
      ...(step.batch ? ['load ends' as const] : []),
      ...(calendar ? ['shift change' as const] : []),
      ...(dressed.skill !== undefined ? ['people come' as const, 'people come' as const] : []),
    ]
    const until = c.of(...untils) as NonNullable<Stop['waits']>['until']
    dressed = {
      ...dressed,
      waits: { until, atMost: until === 'people come' ? c.of('0 s', '8 s', '90 s') : c.of('3 s', '8 s') },
      ...(c.once(2) && { overdue: '20 %' as const }),
    }
  }
  if (dressed.counts === 'calendar time' && c.once(3))
    dressed = { ...dressed, first: c.of<NonNullable<Stop['first']>>('5 s', '17 s', FIRST, 'at random') }
  else if (c.once(4)) dressed = { ...dressed, first: 'at random' }
  if (c.once(6)) {
    const { every: _every, counts: _counts, first: _first, ...rest } = dressed
    dressed = { ...rest, at: c.of(['00:01'], ['00:02', '00:05'], ['Mon 00:07']) }
  }
  if (c.once(5)) {
    const { every: _every, counts: _counts, first: _first, at: _at, inside: _inside, ...rest } = dressed
    const { waits: _waits, overdue: _overdue, ...more } = rest
    dressed = { ...more, afterIdle: c.of('1 s', '4 s', '9 s', '30 s') }
  }
  if (c.once(4)) dressed = { ...dressed, setUpWafers: c.of<NonNullable<Stop['setUpWafers']>>(1, 3, [0, 4]) }
  return c.once(5) ? { ...dressed, kind: 'supply' } : dressed
}

/** Nothing renews what has no clock, and nothing begins within an interval that has just been renewed. */
function fittingRenewals(stops: readonly Stop[]): Stop[] {
  const counting = stops.filter(({ afterIdle }) => afterIdle === undefined).map(({ stop }) => stop)
  return stops.map(({ renews = [], first, ...stop }): Stop => {
    const left = renews.filter(name => counting.includes(name))
    const just = stops.some(
      other => other.renews?.includes(stop.stop) && !other.first && !other.at && !other.afterIdle,
    )
    return {
      ...stop,
      ...(left.length > 0 && { renews: left }),
      ...(first && !(just && first === 'at random') && { first }),
    }
  })
}

function dressedStep(step: Step, before: readonly string[], c: Choices, calendar: boolean): Step {
  const stops = fittingRenewals((step.stops ?? []).map(stop => dressedStop(stop, step, c, calendar)))
  const { breakage, batch } = step
  return {
    ...step,
    stops,
    ...(typeof breakage === 'object' &&
      breakage.clearing &&
      c.once(2) && { breakage: { ...breakage, clearing: { ...breakage.clearing, skill: 'operator' } } }),
    ...(batch && { batch: dressedBatch(batch, c) }),
    ...(c.once(5) && { warmUp: { after: c.of('4 s', '10 s'), lasts: '3 s' as const } }),
    ...(c.once(5) && { effect: { shift: '-0.1 %' as const, sd: '0.1 %' as const } }),
    ...(c.once(5) && { defects: '10 %' as const }),
    ...(c.once(5) &&
      (!step.belt || step.belt.whenFull === 'stop' || stops.some(({ inside }) => inside === 'resume')) && {
        heldUp: { after: '2 s' as const, loses: '0.2 %' as const },
      }),
    ...(stops.length > 0 &&
      stops[0].afterIdle === undefined &&
      c.once(3) && { drift: { until: stops[0].stop, loses: '0.3 %' as const, defects: '30 %' as const } }),
    ...(before.length > 0 && c.once(3) && { timeLimits: timeLimits(before, c) }),
  }
}

function dressedBatch(batch: NonNullable<Step['batch']>, c: Choices): NonNullable<Step['batch']> {
  if (c.once(2)) return batch
  return {
    ...batch,
    ...(batch.least !== undefined && { dummies: { runs: 5 } }),
    loaderServes: c.of('longest waiting', 'lowest number', 'in turn'),
    boats: {
      perTool: c.of(1, 2, 3),
      cooling: c.of('0 s', '3 s', '9 s'),
      ...(c.once(2) && {
        cleaning: { every: 4, lasts: '12 s' as const, ...(c.once(2) && { coating: '5 s' as const }) },
      }),
      ...(c.once(3) && { breakage: { share: '10 %' as const, replacedAfter: '20 s' as const } }),
    },
  }
}

function timeLimits(before: readonly string[], c: Choices): TimeLimit[] {
  const limit = timeLimit(before, c)
  const other = before.find(step => step !== limit.after)
  return other !== undefined && c.once(2) ? [limit, timeLimit([other], c)] : [limit]
}

function timeLimit(before: readonly string[], c: Choices): TimeLimit {
  const after = before[before.length - 1 - c.pick(Math.min(2, before.length))]
  const late: TimeLimit['late'] = c.of<TimeLimit['late']>(
    'scrap',
    { loses: '0.5 %' },
    { to: after, atMost: 1 },
    { to: before[0], atMost: 2, then: 'pass' },
  )
  return { after, atMost: c.of('3 s', '9 s', '20 s'), late }
}

/** The loads of some batch steps are held back until later steps have taken those before. */
function capped(step: Step, load: number, later: readonly string[], c: Choices): Step {
  if (!step.batch || later.length === 0 || c.pick(3) === 0) return step
  return {
    ...step,
    batch: { ...step.batch, cap: { wafers: load + c.of(0, 3, 7, 12), until: later[c.pick(later.length)] } },
  }
}

/** Some buffers become carriers. */
function dressedItems(route: Route, seen: string[], c: Choices, calendar: boolean): Item[] {
  return route.map((item, index): Item => {
    if ('step' in item) {
      const step = dressedStep(item, [...seen], c, calendar)
      seen.push(item.step)
      const later = route.slice(index + 1).flatMap(other => ('step' in other ? [other.step] : []))
      return capped(step, step.batch?.load ?? 1, later, c)
    }
    if ('group' in item)
      return { ...item, each: dressedItems(item.each as Route, [...seen], c, calendar) } as Group
    if (!('buffer' in item) || item.order || index === 0 || !c.once(4)) return item
    const load = Math.max(2, typeof item.capacity === 'number' ? item.capacity : 6)
    return {
      carriers: item.buffer,
      holds: c.of(1, 2, 3),
      number: load + c.pick(3),
      ...(c.once(2) && { longestWait: c.of('2 s', '7 s') }),
      ...(c.once(3) && { fullAtMost: load }),
      ...(c.once(3) && { back: '3 s' as const }),
      ...(c.once(2) && {
        cleaning: { every: c.of(1, 3, 4), lasts: c.of<Spread<Time>>('6 s', '20 s', AWAY) },
      }),
      ...(c.once(3) && {
        breakage: { share: '20 %' as const, replacedAfter: c.of<Spread<Time>>('9 s', AWAY) },
      }),
      moved: c.of<Extract<Item, { carriers: string }>['moved']>(
        { takes: '2 s' },
        { takes: { uniform: ['1 s', '3 s'] } },
        { takes: '2 s', by: 'operator', perTrip: 2 },
        { takes: '3 s', by: 'trolleys', returns: '2 s', priority: 1 },
      ),
    }
  })
}

const CALENDAR = {
  shifts: {
    early: {
      from: '00:00',
      to: '00:03',
      days: ['Mon'],
      breaks: [{ at: '00:01', lasts: '20 s', relief: '50 %' }],
    },
    late: { from: '00:04', to: '00:08', days: ['Mon'] },
    rest: { from: '00:09', to: '00:00', days: ['Mon'] },
  },
} as const satisfies Line['calendar']

function dressed(line: Line, c: Choices): Line {
  const calendar = c.once(2)
  const heads = calendar && c.once(2) ? { early: 1, late: 3, rest: 1 } : c.of(2, 3)
  const ends = tested(c, calendar)
  const route = [...dressedItems(line.route, [], c, calendar), ...ends]
  const last = line.route.findLast(item => 'step' in item)
  return {
    ...line,
    ...(calendar && { calendar: c.once(2) ? { ...CALENDAR, runDown: '15 s' } : CALENDAR }),
    crews: {
      everyone: { heads, skills: c.once(2) ? ['operator'] : [...SKILLS], reach: c.of('0 s', '2 s') },
      fitters: { heads: 2, skills: ['fitter'], reach: { uniform: ['0 s', '3 s'] } },
    },
    fleets: { trolleys: { number: c.of(1, 2) } },
    ...(c.once(3) && {
      events: [{ event: 'power dip', every: { exponential: '150 s' }, lasts: '9 s', inside: 'lose' }],
    }),
    ...(c.once(2) && {
      cap: { wafers: c.of(4, 9, 20), ...(c.once(2) && last && 'step' in last && { until: last.step }) },
    }),
    wafer: { area: '330 cm2', efficiency: { mean: '23 %', sd: '0.1 %' } },
    bins: c.once(3) ? BINS : sortedBins(c, ends.length > 1),
    route,
  }
}

const TESTER: Step = {
  step: 'tester',
  tools: 2,
  cycle: '1 s',
  test: { noise: '0.05 %', finds: '80 %', downgrades: '5 %' },
}

/** The tester, now and then with stops of its own and a way on behind it. */
function tested(c: Choices, calendar: boolean): Item[] {
  if (c.once(3)) return [TESTER]
  const jam: Stop = c.of<Stop>(
    { stop: 'jam', every: '11 s', lasts: '3 s', inside: 'restart' },
    { stop: 'jam', counts: 'calendar time', every: '13 s', lasts: '4 s' },
    { stop: 'jam', counts: 'wafers', every: 7, lasts: '2 s' },
  )
  const tester: Step = {
    ...TESTER,
    tools: c.of(1, 2, 3),
    ...(c.once(2) && { rework: { share: '20 %', to: 'tester', atMost: 1, then: 'pass' } as const }),
    stops: [dressedStop(jam, TESTER, c, calendar)],
  }
  const pack: Step = {
    ...{ step: 'pack', tools: c.of(1, 2), cycle: c.of('1 s', '2 s') },
    ...(c.once(2) && {
      stops: [dressedStop({ stop: 'miss', every: '9 s', lasts: '2 s' }, TESTER, c, calendar)],
    }),
  }
  return c.of<Item[]>(
    [tester],
    [tester, pack],
    [tester, { conveyor: 'sorter', transit: '3 s', capacity: 4 }, pack],
    [tester, { buffer: 'boxes', capacity: 40 }, pack],
    [{ group: 'testers', lanes: ['I', 'II'], each: [{ buffer: 'to test', capacity: 2 }, tester] }, pack],
  )
}

const BINS = { first: '22 %', width: '0.1 %', count: 12 } as const

/** Colours, and boxes that are full soon, some of them behind the test. */
function sortedBins(c: Choices, packed: boolean): NonNullable<Line['bins']> {
  return {
    ...BINS,
    ...(c.once(2) && { colours: { light: '30 %', dark: '70 %' } as const }),
    ...(c.pick(4) > 0 && {
      boxes: {
        ...(packed && c.once(2) && { at: 'pack' }),
        holds: c.of(1, 2, 3, 8),
        perOutput: c.of(1, 2, 2, 3),
        ...(c.once(2) && { ownBins: c.of<[number, number]>([9, 11], [10, 12], [3, 10]) }),
        swap: {
          lasts: c.of<Spread<Time>>('2 s', '6 s', { uniform: ['1 s', '4 s'] }),
          ...(c.pick(4) > 0 && { skill: c.of(...SKILLS), people: c.of(1, 1, 2), priority: c.of(0, 0, 1) }),
        },
      },
    }),
  }
}

/** Lines that `check` passes. */
export const richLine: fc.Arbitrary<Line> = fc
  .record({ line: randomLine, choices: fc.array(fc.nat({ max: 997 }), { minLength: 60, maxLength: 120 }) })
  .map(({ line, choices }) => dressed(line, new Choices(choices)))
  .filter(line => checkLine(line).problems.length === 0)
