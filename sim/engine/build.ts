import type { ChannelPlan, Plan, StationPlan } from '../plan/plan.ts'
import { BatchStation } from './batch.ts'
import { BeltStation } from './belt.ts'
import type { Blocks } from './blocks.ts'
import { Channel } from './channel.ts'
import type { RunKey } from './draw.ts'
import { FeedStation } from './feed.ts'
import { JunctionStation } from './junction.ts'
import { Meter } from './meter.ts'
import { SingleStation } from './single.ts'
import type { Station } from './station.ts'
import { Wafers } from './wafers.ts'

/** Stations, channels and wafer table of one run, tied together and at time 0. */
export interface Works {
  readonly stations: readonly Station[]
  readonly channels: readonly Channel[]
  readonly wafers: Wafers
}

export function build(plan: Plan, blocks: Blocks, key: RunKey): Works {
  const wafers = new Wafers(plan, key.seed, key.replication)
  const channels = plan.channels.map(channel => new Channel(channel))
  const stations = plan.stations.map((station, position) => {
    const inputs = station.inputs.map(c => channels[c])
    const outputs = outputsOf(station).map(c => channels[c])
    const meter = new Meter(meterShape(station), blocks)
    return makeStation(station, position, inputs, outputs, meter, wafers, key)
  })
  plan.stations.forEach((station, position) => {
    stations[position].suppliers = station.inputs.map(c => supplierOf(plan.channels[c], stations))
    stations[position].customers = outputsOf(station).map(c => stations[plan.channels[c].to])
  })
  return { stations, channels, wafers }
}

/** The main outputs, then the rework channel. */
export function outputsOf(station: StationPlan): readonly number[] {
  const rework = 'outcome' in station ? station.outcome.rework : undefined
  return rework && rework.channel >= 0 ? [...station.outputs, rework.channel] : station.outputs
}

function supplierOf(channel: ChannelPlan, stations: readonly Station[]): Station | undefined {
  return channel.from < 0 ? undefined : stations[channel.from]
}

function meterShape(station: StationPlan): Meter['shape'] {
  const tooled = 'outcome' in station
  const bins = tooled ? station.outcome.test?.bins : undefined
  return {
    flows: station.inputs.length + outputsOf(station).length + 1,
    tools: tooled ? station.tools : 0,
    stops: tooled ? station.stops.length + (station.outcome.clearing ? 1 : 0) : 0,
    bins: bins ? bins.count + 1 : 0,
    exits: tooled && station.outputs.length === 0,
  }
}

function makeStation(
  station: StationPlan,
  position: number,
  inputs: readonly Channel[],
  outputs: readonly Channel[],
  meter: Meter,
  wafers: Wafers,
  key: RunKey,
): Station {
  switch (station.kind) {
    case 'single':
      return new SingleStation(station, position, inputs, outputs, meter, wafers, key)
    case 'belt':
      return new BeltStation(station, position, inputs, outputs, meter, wafers, key)
    case 'batch':
      return new BatchStation(station, position, inputs, outputs, meter, wafers, key)
    case 'junction':
      return new JunctionStation(station, position, inputs, outputs, meter, wafers)
    case 'feed':
      return new FeedStation(station, position, outputs, meter, wafers, key)
  }
}
