import type { Channel } from '../engine/channel.ts'
import { GOOD } from '../engine/meter.ts'
import type { Run } from '../engine/run.ts'
import type { Station } from '../engine/station.ts'
import { ToolStation } from '../engine/tool-station.ts'
import { type Plan, TICKS_PER_HOUR, TICKS_PER_SECOND } from '../plan/plan.ts'

/**
 * A stretch of one replication, looked at every so many seconds: what each tool did and
 * what lay in each store at that very tick. Plain data, small enough for a page.
 */
export interface Recording {
  /** Time of the first sample, from the start of the run [h]. */
  readonly startHours: number
  readonly everySeconds: number
  readonly samples: number
  readonly stations: readonly RecordedStation[]
  /** Buffers, conveyors, carriers; those of one name (in several lanes) in the order of the route. */
  readonly stores: readonly RecordedStore[]
  /** Good cells that left since the sample before; 0 at the first. */
  readonly good: readonly number[]
}

export interface RecordedStation {
  /** The step, after the names of its lanes. */
  readonly name: string
  /** One text per tool, one digit per sample: the number of the state. */
  readonly tools: readonly string[]
}

type StoreKind = 'buffer' | 'conveyor' | 'carriers'

export interface RecordedStore {
  readonly name: string
  readonly kind: StoreKind
  /** Absent when unlimited. */
  readonly capacity?: number
  /** Wafers at the first sample, then the change since the sample before. */
  readonly changes: readonly number[]
}

/** What is to be recorded. */
export interface Stretch {
  readonly startHours: number
  readonly everySeconds: number
  readonly samples: number
}

/**
 * Runs up to each sample in turn and writes down how the line stands. The run goes on
 * just as it would without being looked at.
 *
 * @param run at its start, as long as the stretch at least
 */
export function record(plan: Plan, run: Run, stretch: Stretch): Recording {
  const { stations, channels } = run.works
  const tooled = stations.filter(station => station instanceof ToolStation)
  const stores = [...storesOf(plan, channels), ...carriersOf(plan, run)]
  const states = tooled.map(station => Array.from(station.state, () => ''))
  const levels = stores.map((): number[] => [])
  const good: number[] = []
  const start = Math.round(stretch.startHours * TICKS_PER_HOUR)
  for (let sample = 0; sample < stretch.samples; sample++) {
    const time = start + sample * Math.round(stretch.everySeconds * TICKS_PER_SECOND)
    run.runTo(time)
    tooled.forEach((station, s) => {
      for (let tool = 0; tool < station.tools; tool++) states[s][tool] += station.stateBefore(tool, time)
    })
    stores.forEach((store, s) => {
      const inside = store.station?.inside().length ?? 0
      levels[s].push(store.channels.reduce((sum, { waiting, stacked }) => sum + waiting + stacked, inside))
    })
    good.push(stations.reduce((sum, { meter }) => sum + meter.counter[GOOD], 0))
  }
  return {
    ...stretch,
    stations: tooled.map(({ name }, s) => ({ name, tools: states[s] })),
    stores: stores.map(({ name, kind, capacity }, s) => ({
      name,
      kind,
      ...(capacity < Infinity && { capacity }),
      changes: changesOf(levels[s]),
    })),
    good: [0, ...changesOf(good).slice(1)],
  }
}

interface Store {
  readonly name: string
  readonly kind: StoreKind
  readonly capacity: number
  readonly channels: readonly Channel[]
  /** Carriers: what is being filled and what is on the way. */
  readonly station?: Station
}

/** Each store with its channels: its own, and the doors that hold some of its places. */
function storesOf(plan: Plan, channels: readonly Channel[]): Store[] {
  const inStores = plan.channels.flatMap((channel, index) => {
    const { kind, name } = plan.places[channel.place]
    return kind === 'buffer' || kind === 'conveyor' ? [{ channel, index, kind, name }] : []
  })
  const behind = (door: (typeof inStores)[number]) => {
    const { outputs } = plan.stations[door.channel.to]
    const same = inStores.find(({ index }) => outputs.length === 1 && index === outputs[0])
    return same?.channel.place === door.channel.place ? same : undefined
  }
  return inStores
    .filter(one => !behind(one))
    .map(one => {
      const own = inStores.filter(other => other === one || behind(other) === one)
      return {
        name: one.name,
        kind: one.kind,
        capacity: own.reduce((sum, { channel }) => sum + channel.capacity, 0),
        channels: own.map(({ index }) => channels[index]),
      }
    })
}

/** Carriers, each with what stands full at its far end. */
function carriersOf(plan: Plan, run: Run): Store[] {
  return plan.stations.flatMap((station, s) => {
    if (station.kind !== 'carriers') return []
    const far = station.outputs.filter(c => plan.channels[c].place === station.place)
    return [
      {
        name: plan.places[station.place].name,
        kind: 'carriers' as const,
        capacity: station.holds * station.number,
        channels: far.map(c => run.works.channels[c]),
        station: run.works.stations[s],
      },
    ]
  })
}

function changesOf(values: readonly number[]): number[] {
  return values.map((value, index) => (index === 0 ? value : value - values[index - 1]))
}
