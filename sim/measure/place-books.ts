import { type Blocks, FINE_PER_COARSE } from '../engine/blocks.ts'
import type { Meter } from '../engine/meter.ts'
import { outputsOf } from '../plan/outputs.ts'
import type { Plan } from '../plan/plan.ts'
import type { PlaceRows } from './place-rows.ts'

/** One place while its doors are added up: per fine row wafers there, area within the block, wafers that have left. */
export interface PlaceBook {
  readonly level: Float64Array
  readonly area: Float64Array
  readonly left: Float64Array
}

export function emptyBook({ fineCount }: Blocks): PlaceBook {
  const rows = fineCount + 1
  return { level: new Float64Array(rows), area: new Float64Array(rows), left: new Float64Array(rows) }
}

export function placeRows({ level, area, left }: PlaceBook, fine: number): PlaceRows {
  return { area: coarseArea(level, area, fine), left: coarse(left), level }
}

/** Every coarse row of a column of fine rows. */
function coarse(column: Float64Array): Float64Array {
  const rows = (column.length - 1) / FINE_PER_COARSE + 1
  return Float64Array.from({ length: rows }, (_, row) => column[row * FINE_PER_COARSE])
}

/** Cumulative area: what was there at the start of each block, and what went in and out within it. */
export function coarseArea(level: Float64Array, within: Float64Array, fine: number): Float64Array {
  const area = new Float64Array(level.length)
  for (let row = 1; row < level.length; row++) area[row] = area[row - 1] + level[row - 1] * fine + within[row]
  return coarse(area)
}

/** Adds one door: wafers in (sign 1) or out (sign -1); `stays`: out of one part of the place into another. */
export function addFlow(
  book: PlaceBook,
  meter: Meter,
  flow: number,
  sign: 1 | -1,
  out: 'leaves' | 'stays' = 'leaves',
): void {
  const { flows } = meter.shape
  for (let row = 0; row < book.level.length; row++) {
    const count = meter.countRows[row * flows + flow]
    book.level[row] += sign * count
    book.area[row] += sign * meter.areaRows[row * flows + flow]
    if (sign < 0 && out === 'leaves') book.left[row] += count
  }
}

export function foldChannels(plan: Plan, meters: readonly Meter[], places: readonly PlaceBook[]): void {
  plan.channels.forEach((channel, index) => {
    if (channel.outside) return
    const producer = plan.stations[channel.from]
    const out = producer.inputs.length + outputsOf(producer).indexOf(index)
    const into = plan.stations[channel.to].inputs.indexOf(index)
    const place = places[channel.place]
    addFlow(place, meters[channel.from], out, 1)
    addFlow(place, meters[channel.to], into, -1, staysBehind(plan, channel) ? 'stays' : 'leaves')
  })
}

export function foldStations(plan: Plan, meters: readonly Meter[], places: readonly PlaceBook[]): void {
  plan.stations.forEach((station, s) => {
    if (station.kind === 'feed' || station.kind === 'desk') return
    const flows = meters[s].shape.flows
    const outputs = outputsOf(station)
    for (let f = 0; f < flows; f++) {
      const output = outputs[f - station.inputs.length]
      const stays = output !== undefined && plan.channels[output].place === station.place
      addFlow(
        places[station.place],
        meters[s],
        f,
        f < station.inputs.length ? 1 : -1,
        stays ? 'stays' : 'leaves',
      )
    }
  })
}

/** Whether what leaves the channel goes through a junction into the same place again: a door of a buffer. */
function staysBehind(plan: Plan, channel: Plan['channels'][number]): boolean {
  const behind = plan.stations[channel.to]
  return (
    behind.kind === 'junction' &&
    behind.outputs.length === 1 &&
    plan.channels[behind.outputs[0]].place === channel.place
  )
}
