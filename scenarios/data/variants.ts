import type { Item, Spread, Stop, Time, Variant } from 'linewright'
import { printLane, printLine } from './print-lane.ts'

/**
 * Two print lanes with half the index instead of four. The belts run twice as fast and
 * are twice as long, so a wafer dries and fires as before; twice as many lie on them,
 * and the magazines hold twice as many. One stop now takes half of the back end.
 */
export const fastBackEnd: Variant = {
  'print lines': { lanes: ['A'] },
  'cassette at the print lane': { capacity: 200 },
  'rear pad print': { cycle: '0.9 s' },
  'rear pad print outfeed': { capacity: 10 },
  'dryer 1': { belt: { speed: '13.6 m/min', length: '11.4 m' } },
  'magazine after dryer 1': { capacity: 160 },
  'rear aluminium print': { cycle: '0.9 s' },
  'rear aluminium print outfeed': { capacity: 10 },
  'dryer 2': { belt: { speed: '13.6 m/min', length: '13.6 m' } },
  'magazine after dryer 2': { capacity: 160 },
  flip: { belt: { spacing: '0.85 s' } },
  'front print': { cycle: '1 s' },
  'front print outfeed': { capacity: 10 },
  'firing furnace': { belt: { speed: '13.6 m/min', length: '27.2 m' } },
  'magazine after furnace': { capacity: 160 },
  regeneration: { belt: { speed: '13.6 m/min', length: '16 m' } },
  'magazine before test': { capacity: 400 },
  test: { cycle: '0.9 s' },
  'way to the sorter': { capacity: 28 },
  sort: { cycle: '0.9 s' },
}

/** A crew with so many heads in every shift. */
export function withHeads(crew: string, heads: number): Variant {
  return { line: { crews: { [crew]: { heads } } } }
}

/** At most so many wafers in the line. */
export function withCap(wafers: number): Variant {
  return { line: { cap: { wafers } } }
}

/** Every unscheduled stop of the print lanes that lasts less than 5 min on average comes half as often. */
export function halfTheMicroStops(): Variant {
  const changes = [...printLane, ...printLine].flatMap(item => {
    const stops = stopsOf(item).filter(isMicroStop)
    if (!('step' in item) || stops.length === 0) return []
    return [[item.step, { stops: Object.fromEntries(stops.map(stop => [stop.stop, halfAsOften(stop)])) }]]
  })
  return Object.fromEntries(changes)
}

function stopsOf(item: Item): readonly Stop[] {
  return 'step' in item ? (item.stops ?? []) : []
}

function isMicroStop({ kind, lasts }: Stop): boolean {
  return (
    (kind ?? 'unscheduled') === 'unscheduled' &&
    typeof lasts === 'object' &&
    'lognormal' in lasts &&
    minutes(lasts.lognormal) < 5
  )
}

function minutes(time: Time): number {
  if (!time.endsWith(' min')) throw new Error(`"${time}" is not in minutes`)
  return Number.parseFloat(time)
}

function halfAsOften({ stop, every }: Stop): { every: Spread<Time> } {
  if (typeof every !== 'object' || !('exponential' in every)) throw new Error(`"${stop}" is not exponential`)
  return { every: { exponential: `${2 * Number.parseFloat(String(every.exponential))} h` } }
}
