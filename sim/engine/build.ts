import { classesOf } from '../plan/bins-plan.ts'
import { extraStops } from '../plan/extra-stops.ts'
import { losesWafers } from '../plan/loses.ts'
import { outputsOf } from '../plan/outputs.ts'
import type { ChannelPlan, Plan, StationPlan, ToolPlan } from '../plan/plan.ts'
import { BatchStation } from './batch.ts'
import { BeltStation } from './belt.ts'
import type { Blocks } from './blocks.ts'
import { CarriersStation } from './carriers.ts'
import { Channel } from './channel.ts'
import { Departures } from './departures.ts'
import { Desk } from './desk.ts'
import type { RunKey } from './draw.ts'
import { FeedStation } from './feed.ts'
import { JunctionStation } from './junction.ts'
import { Meter } from './meter.ts'
import { PassingStation } from './passing-station.ts'
import { Signals } from './signals.ts'
import { SingleStation } from './single.ts'
import type { Seat, Station } from './station.ts'
import { ToolStation } from './tool-station.ts'
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
  const signals = new Signals(plan.stations.length)
  const stations = plan.stations.map((station, position) => {
    const inputs = station.inputs.map(c => channels[c])
    const outputs = outputsOf(station).map(c => channels[c])
    const meter = new Meter(meterShape(station, plan), blocks)
    return makeStation(station, { position, inputs, outputs, meter, wafers, signals, key })
  })
  plan.stations.forEach((station, position) => {
    stations[position].suppliers = station.inputs.map(c => supplierOf(plan.channels[c], stations))
    stations[position].customers = outputsOf(station).map(c => stations[plan.channels[c].to])
  })
  seatDesk(stations)
  countDepartures(plan, stations)
  for (const station of stations) station.open()
  return { stations, channels, wafers }
}

/** Ties the desk to the stations that call people. */
function seatDesk(stations: readonly Station[]): void {
  const desk = stations.find(station => station instanceof Desk)
  if (!desk) return
  const members = stations.filter(station => callsPeople(station))
  for (const member of members) {
    member.calls.desk = desk
    if (member instanceof SingleStation && member.boxes) member.boxes.desk = desk
    member.others = [desk]
  }
  desk.serve(members)
}

function callsPeople(station: Station): station is ToolStation | CarriersStation {
  if (station instanceof CarriersStation) return station.plan.call !== undefined
  if (!(station instanceof ToolStation)) return false
  const { stops, outcome } = station.plan
  const swaps = outcome.boxes?.call !== undefined
  return swaps || stops.some(stop => stop.call) || outcome.clearing?.call !== undefined
}

/** Ties caps on wafers to the stations at which they leave what is counted. */
function countDepartures(plan: Plan, stations: readonly Station[]): void {
  for (const owner of stations) {
    if (owner instanceof FeedStation && owner.plan.cap)
      owner.departures = departuresFor(owner, { ...owner.plan.cap, column: -1 }, plan, stations)
    else if (owner instanceof BatchStation && owner.plan.cap)
      owner.departures = departuresFor(owner, owner.plan.cap, plan, stations)
  }
}

/** From the owner on, wafers leave at the step that ends the count, where they are lost, and where they are sent back to before the owner. */
function departuresFor(
  owner: Station,
  { until, column }: { readonly until: number; readonly column: number },
  { stations: plans, channels }: Plan,
  stations: readonly Station[],
): Departures {
  const last = plans.findLastIndex(station => until < 0 || station.step === until)
  const leadsBack = (channel: number) => channel >= 0 && channels[channel].to < owner.position
  const leaves = (plan: ToolPlan) =>
    plan.step === until || losesWafers(plan) || outputsOf(plan).some(leadsBack)
  const leaving = stations.filter(
    (station): station is PassingStation =>
      station instanceof PassingStation &&
      station.position >= owner.position &&
      station.position <= last &&
      leaves(station.plan),
  )
  const departures = new Departures(owner, leaving, until, column)
  leaving.forEach((station, number) => {
    station.countDepartures(departures, number, leadsBack)
    if (station !== owner) station.others = [...station.others, owner]
  })
  return departures
}

function supplierOf(channel: ChannelPlan, stations: readonly Station[]): Station | undefined {
  return channel.from < 0 ? undefined : stations[channel.from]
}

function meterShape(station: StationPlan, plan: Plan): Meter['shape'] {
  const tooled = 'outcome' in station
  const bins = tooled ? station.outcome.test?.bins : undefined
  return {
    flows: station.inputs.length + outputsOf(station).length + 1,
    tools: tooled ? station.tools : 0,
    stops: tooled ? station.stops.length + extraStops(station).length : 0,
    bins: bins ? classesOf(bins) : 0,
    timeLimits: tooled ? station.timeLimits.length : 0,
    origins: tooled && station.outcome.test && plan.marks ? plan.steps.length : 0,
    exits: tooled && station.outputs.length === 0,
  }
}

function makeStation(station: StationPlan, seat: Seat): Station {
  switch (station.kind) {
    case 'single':
      return new SingleStation(station, seat)
    case 'belt':
      return new BeltStation(station, seat)
    case 'batch':
      return new BatchStation(station, seat)
    case 'junction':
      return new JunctionStation(station, seat)
    case 'carriers':
      return new CarriersStation(station, seat)
    case 'feed':
      return new FeedStation(station, seat)
    case 'desk':
      return new Desk(station, seat)
  }
}
