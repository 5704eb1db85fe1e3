import fc from 'fast-check'
import type { Time } from '../../sim/base/units.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Item, Line, Step, Stop } from '../../sim/line/types.ts'

/**
 * Random lanes of prints and belts as they stand in a cell line: magazines, last in, first out,
 * that fill up, a handful of places between a print and its dryer, and a flip that hands its
 * wafers straight to a print. Here the loops of the eager drive do most, and go furthest ahead.
 */
const tenths = (least: number, most: number) =>
  fc.integer({ min: 10 * least, max: 10 * most }).map((n): Time => `${n / 10} s`)
const share = fc.constantFrom(undefined, undefined, '0.3 %' as const, '3 %' as const)

const stop: fc.Arbitrary<Omit<Stop, 'stop'>> = fc.oneof(
  fc
    .record({ every: tenths(30, 400), lasts: tenths(1, 40) })
    .map(s => ({ ...s, kind: 'unscheduled' as const })),
  fc.record({ every: tenths(60, 400), lasts: tenths(5, 60) }).map(s => ({
    ...s,
    counts: 'calendar time' as const,
    kind: 'scheduled' as const,
  })),
  fc.record({ wafers: fc.integer({ min: 20, max: 300 }), lasts: tenths(2, 30) }).map(s => ({
    counts: 'wafers' as const,
    every: s.wafers,
    lasts: s.lasts,
    kind: 'unscheduled' as const,
  })),
  fc
    .record({ afterIdle: tenths(1, 4), lasts: tenths(2, 20) })
    .map(s => ({ ...s, kind: 'scheduled' as const })),
)
const stops = fc
  .array(stop, { maxLength: 2 })
  .map((list): Stop[] => list.map((s, i) => ({ ...s, stop: `stop ${i + 1}` })))
const effect = fc.constantFrom(
  {},
  { effect: { shift: '0.1 %', sd: '0.1 %' }, defects: '2 %' } as const,
  { effect: { shift: '0 %', sd: '0.05 %' } } as const,
)

const print = fc.record({ cycle: tenths(1, 4), stops, breakage: share, effect }).map(
  ({ effect: does, breakage, ...step }): Omit<Step, 'step'> => ({
    ...step,
    ...does,
    ...(breakage && { breakage: { share: breakage, clearing: { share: '50 %', lasts: '4 s' } } }),
  }),
)
const belt = (whenFull: 'run out' | 'stop') =>
  fc
    .record({ spacing: tenths(1, 3), slots: fc.integer({ min: 2, max: 30 }), stops, breakage: share, effect })
    .map(
      ({ effect: does, breakage, spacing, slots, stops: list }): Omit<Step, 'step'> => ({
        belt: { spacing, transit: `${(Number.parseFloat(spacing) * slots).toFixed(1)} s` as Time, whenFull },
        stops: list,
        ...does,
        ...(breakage && { breakage }),
      }),
    )

// Behind a belt that runs out all places are spoken for before wafers stand in them; behind one that stops a magazine fills up.
const dryer = fc.oneof({ weight: 2, arbitrary: belt('run out') }, { weight: 1, arbitrary: belt('stop') })

const BACK = { share: '2 %', atMost: 1, then: 'pass' } as const

const few = fc.integer({ min: 1, max: 6 })
const magazine = fc.constantFrom(18, 40, 66, 70)

/** It may harm what is on it when it stands for too long. */
function flip(step: Omit<Step, 'step'>, tolerance: Time | undefined, limits: object | undefined): Step {
  const { belt: moves, ...rest } = step
  if (!moves || !tolerance) return { ...step, step: 'flip', ...limits }
  return { ...rest, step: 'flip', ...limits, belt: { ...moves, tolerance, overProcessed: '50 %' } }
}

export const printLane: fc.Arbitrary<Line> = fc
  .record({
    prints: fc.tuple(print, print, print),
    dryers: fc.tuple(dryer, dryer, dryer),
    flip: belt('stop'),
    tolerance: fc.constantFrom(undefined, undefined, '2 s' as const),
    pair: fc.oneof(belt('run out'), belt('stop')),
    again: fc.boolean(),
    few: fc.tuple(few, few, few),
    magazines: fc.tuple(magazine, magazine, magazine),
    straight: fc.boolean(),
    limit: fc.constantFrom(undefined, '4 s' as const, '30 s' as const),
    after: fc.constantFrom('print 3', 'print 3', 'dryer 2'),
    late: fc.constantFrom('scrap' as const, { loses: '0.1 %' as const }),
    test: tenths(1, 4),
    every: fc.constantFrom(undefined, '1.7 s' as const, '3 s' as const, { exponential: '2.5 s' } as const),
  })
  .map((d): Line => {
    const limits = (after: string) => d.limit && { timeLimits: [{ after, atMost: d.limit, late: d.late }] }
    const last = (name: string, capacity: number): Item => ({
      buffer: name,
      capacity,
      order: 'last in, first out',
    })
    const places = d.straight ? [] : [{ buffer: 'before print 3', capacity: d.few[2] }]
    return {
      line: 'print lane',
      ...(d.every && { feed: { every: d.every } }),
      wafer: { area: '330 cm2', efficiency: { mean: '23 %', sd: '0.1 %' } },
      bins: { first: '22 %', width: '0.1 %', count: 12 },
      route: [
        { buffer: 'before print 1', capacity: 30 },
        { step: 'print 1', ...d.prints[0] },
        { buffer: 'before dryer 1', capacity: d.few[0] },
        { step: 'dryer 1', ...d.dryers[0], ...limits('print 1') },
        last('magazine 1', d.magazines[0]),
        { step: 'print 2', ...d.prints[1] },
        { buffer: 'before dryer 2', capacity: d.few[1] },
        { step: 'dryer 2', ...d.dryers[1] },
        last('magazine 2', d.magazines[1]),
        flip(d.flip, d.tolerance, limits('dryer 2')),
        ...places,
        { step: 'print 3', ...d.prints[2] },
        { buffer: 'before furnace', capacity: d.few[2] },
        { step: 'furnace', ...d.dryers[2], ...limits(d.after) },
        last('magazine 3', d.magazines[2]),
        { step: 'pair', ...d.pair, tools: 2, ...(d.again && { rework: { ...BACK, to: 'pair' } }) },
        { buffer: 'before test', capacity: 200 },
        { step: 'test', cycle: d.test, test: { noise: '0.05 %' } },
      ],
    }
  })
  .filter(line => checkLine(line).problems.length === 0)
