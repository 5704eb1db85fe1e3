import { observedMean } from '../../sim/line/observed.ts'
import type { Item, Line, Route } from '../../sim/line/types.ts'

/** What a scenario says of one of its items, in words. */
export interface Assumption {
  readonly item: string
  readonly kind: string
  /** One statement each. */
  readonly says: readonly string[]
  /** Where it comes from; empty when the scenario does not say. */
  readonly from: string
}

type Fields = Readonly<Record<string, unknown>>

const KINDS = ['step', 'buffer', 'conveyor', 'carriers', 'group'] as const
/** Keys that say what a thing is called or where it comes from, or that are told of elsewhere. */
const UNTOLD = ['from', 'stops', 'lanes', 'each', 'route', 'variants', 'run', 'notes', 'line']
/** Words for keys that are not words themselves. */
const WORDS: Readonly<Record<string, string>> = {
  cycle: 'time per wafer',
  cycles: 'time per wafer, by tool',
  reject: 'rejected',
  breakage: 'broken',
  every: 'every',
  cv: 'coefficient of variation',
  sd: 'standard deviation',
}

/** Everything that the line assumes, item by item, stops and lanes among them. */
export function assumptionsOf(line: Line): Assumption[] {
  const fields = line as unknown as Fields
  const ofLine = Object.entries(fields)
    .filter(([key, value]) => !UNTOLD.includes(key) && value !== undefined)
    .map(([key, value]) => assumption(spaced(key), 'line', value))
  return [...ofLine, ...ofRoute(line.route)]
}

/** How often each source is named, the most frequent first; what names none is counted too. */
export function sourcesOf(items: readonly Assumption[]): { from: string; times: number }[] {
  const counts = new Map<string, number>()
  for (const { from } of items) counts.set(from, (counts.get(from) ?? 0) + 1)
  return [...counts]
    .map(([from, times]) => ({ from: from === '' ? 'no source of its own' : from, times }))
    .sort((a, b) => b.times - a.times)
}

function ofRoute(route: Route): Assumption[] {
  return route.flatMap(item => ofItem(item))
}

function ofItem(item: Item): Assumption[] {
  const fields = item as unknown as Fields
  const kind = KINDS.find(key => key in fields) ?? 'step'
  const name = String(fields[kind])
  const { [kind]: _name, ...rest } = fields
  const stops = Array.isArray(fields.stops) ? (fields.stops as readonly Fields[]) : []
  const own = assumption(name, kind, { ...rest, ...(kind === 'group' && laneNames(fields)) })
  const ofStops = stops.map(({ stop, ...more }) => assumption(`${name}: ${String(stop)}`, 'stop', more))
  return [own, ...ofStops, ...(kind === 'group' ? ofLanes(fields) : [])]
}

function laneNames({ lanes }: Fields): Fields {
  return { 'side by side': Array.isArray(lanes) ? lanes : Object.keys(lanes as Fields) }
}

function ofLanes({ lanes, each }: Fields): Assumption[] {
  if (Array.isArray(lanes)) return ofRoute((each ?? []) as Route)
  return Object.values(lanes as Readonly<Record<string, Route>>).flatMap(ofRoute)
}

function assumption(item: string, kind: string, value: unknown): Assumption {
  if (!isFields(value)) return { item, kind, says: [valueWords(value)], from: '' }
  // The numbers of lanes that `sizing` leaves open are no lanes.
  const untold = kind === 'line' ? ['from'] : UNTOLD
  return {
    item,
    kind,
    says: Object.entries(value)
      .filter(([key, part]) => !untold.includes(key) && part !== undefined)
      .map(([key, part]) => `${spaced(key)} ${valueWords(part)}`),
    from: typeof value.from === 'string' ? value.from : '',
  }
}

/** A value in words: `3 h on average (exponential)`, `2 to 5`. */
function valueWords(value: unknown): string {
  if (Array.isArray(value)) return listWords(value)
  if (typeof value === 'number') return value.toLocaleString('en')
  if (!isFields(value)) return String(value)
  // Where something ends too, `from` is when it begins and not a source.
  const parts = Object.entries(value).filter(([key]) => key !== 'from' || 'to' in value)
  const [first, ...more] = parts
  if (first === undefined) return ''
  if (LAWS.includes(first[0])) {
    const shape = more.map(([key, part]) => `, ${spaced(key)} ${valueWords(part)}`).join('')
    return lawWords(first[0], first[1], shape)
  }
  return parts.map(([key, part]) => `${spaced(key)} ${valueWords(part)}`).join(', ')
}

/** Distributions whose first value is their mean. */
const MEAN_FIRST = ['exponential', 'weibull', 'lognormal', 'gamma', 'normal', 'geometric']
const LAWS = [...MEAN_FIRST, 'uniform', 'triangular', 'observed']

function lawWords(law: string, value: unknown, shape: string): string {
  if (MEAN_FIRST.includes(law)) return `${valueWords(value)} on average (${law}${shape})`
  if (law === 'uniform' && Array.isArray(value))
    return `${valueWords(value[0])} to ${valueWords(value[1])} (uniform)`
  const log = law === 'observed' ? observedMean(value) : undefined
  return log
    ? `${log.mean} on average (${log.count} observed values)`
    : `${valueWords(value)} (${law}${shape})`
}

function listWords(values: readonly unknown[]): string {
  return values.map(valueWords).join(', ')
}

/** `reworkBelow` -> `rework below`. */
function spaced(key: string): string {
  return WORDS[key] ?? key.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`)
}

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
