import { HAND_OVER, latePlace, reworkPlace } from '../line/reserved-names.ts'
import type { Carriers, Group, Item, Line, Route, Step } from '../line/types.ts'
import { type Sorts, sortsPlan } from './bins-plan.ts'
import { carriersPlan } from './carriers-plan.ts'
import { widenDoors } from './doors.ts'
import { ticks, timeLaw } from './laws.ts'
import { PlaceList } from './places.ts'
import type { ChannelPlan, FeedPlan, JunctionPlan, Plan, StationPlan, ToolPlan } from './plan.ts'
import { allSteps, backTo, callsPeople, lanesOf, repeats } from './route-items.ts'
import { stampColumns } from './stamps.ts'
import { outcomePlan, toolPart } from './step-plan.ts'
import { StopCompiler } from './stop-plan.ts'
import { type Store, storeChannel, storeName } from './stores.ts'
import { limitPlan } from './time-limits.ts'
import { treatmentPlan } from './treatment-plan.ts'

/** Where the route stands: who puts, and through which stores in a row. */
interface Open {
  /** Station that puts; -1: the endless supply. */
  readonly from: number
  readonly stores: readonly Store[]
}

/** Most wafers that stand between a tool and the carrier it fills. */
const MOST_BEFORE = 64

/** Channel back, and the column of the wafer table that counts how often. */
type WayBack = { readonly channel: number; readonly loop: number }
type Draft<T> = { -readonly [K in keyof T]: T[K] }
/**
 * Walks the route and lays stations and channels in its order. Where flows join or
 * split, and between two stores in a row, it inserts a junction; each door of a
 * junction that no store feeds gets a hand-over place for one wafer.
 */
export class RouteCompiler {
  private readonly stations: Draft<StationPlan>[] = []
  private readonly channels: Draft<ChannelPlan>[] = []
  private readonly steps: string[] = []
  private readonly places = new PlaceList()
  /** Junction before each rework target, by full step name. */
  private readonly reworkDoor = new Map<string, number>()
  private readonly targets: ReadonlySet<string>
  /** The last step with a test, which sorts, what it sorts into, and the step that has the boxes. */
  private readonly sorter: string | undefined
  private readonly boxed: string | undefined
  private readonly sorts: Sorts | undefined
  readonly stops: StopCompiler
  /** Junctions that fill the least full of the lanes behind them. */
  private readonly splits = new Set<number>()
  private loops = 0
  private open: Open = { from: -1, stores: [] }

  constructor(line: Line) {
    const all = allSteps(line.route)
    this.targets = new Set(all.flatMap(backTo))
    this.stops = new StopCompiler(line)
    if (callsPeople(line)) this.addDesk()
    this.sorts = line.bins && sortsPlan(line.bins, this.stops.people)
    this.sorter = all.findLast(step => step.test)?.step
    this.boxed = line.bins?.boxes?.at ?? this.sorter
  }

  private addDesk(): void {
    const { people } = this.stops
    const apart = { step: -1, place: -1, inputs: [], outputs: [] }
    this.stations.push({ kind: 'desk', name: 'people', ...apart, people })
  }

  addFeed(feed: Omit<FeedPlan, 'kind' | 'name' | 'step' | 'place' | 'inputs' | 'outputs'>): void {
    const place = this.places.add('gate', 'gate', 0)
    const from = this.stations.length
    this.stations.push({ kind: 'feed', name: 'feed', step: -1, place, inputs: [], outputs: [], ...feed })
    this.open = { from, stores: [] }
  }

  addRoute(route: Route): void {
    this.walk(route, [], true)
  }

  result(): Pick<Plan, 'stations' | 'channels' | 'steps' | 'places' | 'loops' | 'stamps'> {
    const { stations, channels, steps, loops } = this
    const places = this.places.all
    const stamps = stampColumns(stations, channels)
    widenDoors(stations, channels)
    return { stations, channels, steps, places, loops, stamps }
  }

  /** @param last nothing follows this route: its last steps let wafers leave the line */
  private walk(route: Route, lane: readonly string[], last: boolean): void {
    for (let i = 0; i < route.length; i++) {
      const item: Item = route[i]
      const ends = last && i === route.length - 1
      if ('step' in item) this.addStep(item, lane)
      else if ('group' in item) this.addGroup(item, lane, ends)
      else if ('carriers' in item) this.addCarriers(item, lane)
      else this.open = { from: this.open.from, stores: [...this.open.stores, item] }
    }
  }

  // ---- steps -------------------------------------------------------------------

  private addStep(step: Step, lane: readonly string[]): void {
    const name = [...lane, step.step].join(' ')
    if (this.targets.has(step.step)) this.openReworkDoor(name)
    const input = this.closeInto()
    let family = this.steps.indexOf(step.step)
    if (family < 0) family = this.steps.push(step.step) - 1
    const part = toolPart(step)
    const station = {
      ...part,
      name,
      step: family,
      place: this.places.add(step.step, 'step', part.tools),
      inputs: [input],
      outputs: [],
      stops: this.stops.stopsOf(step),
      timeLimits: [],
      stamp: -1,
      ...(step.warmUp && { warmUp: { after: ticks(step.warmUp.after), lasts: timeLaw(step.warmUp.lasts) } }),
    } as unknown as Draft<ToolPlan>
    const treatment = treatmentPlan(step, part, station.stops)
    if (treatment) station.treatment = treatment
    this.stations.push(station)
    const position = this.stations.length - 1
    const { bins, boxes } = this.sorts ?? {}
    const sorts = {
      ...(bins && step.step === this.sorter && { bins }),
      ...(boxes && step.step === this.boxed && { boxes }),
    }
    const rework = step.rework && this.rework(step, lane, position)
    station.outcome = outcomePlan(step, rework, sorts, this.stops.people)
    station.timeLimits = (step.timeLimits ?? []).map(limit =>
      limitPlan(limit, this.steps.indexOf(limit.after), to =>
        this.addBack(latePlace(step.step), to, lane, position),
      ),
    )
    this.open = { from: position, stores: [] }
  }

  /** Before a step to which wafers come back stands a junction, in front of the last store. */
  private openReworkDoor(name: string): void {
    const { from, stores } = this.open
    const last = stores.at(-1)
    // Carriers are emptied where they are put down, so the door is behind them.
    const behind = last && !('carriers' in last) ? [last] : []
    this.open = { from, stores: stores.slice(0, stores.length - behind.length) }
    const door = this.addJunction(`before ${name}`, 'least full')
    this.reworkDoor.set(name, door)
    this.open = { from: door, stores: behind }
  }

  private rework(step: Step, lane: readonly string[], position: number): WayBack {
    if (repeats(step)) return { channel: -1, loop: this.loops++ }
    return this.addBack(reworkPlace(step.step), step.rework?.to ?? '', lane, position)
  }

  /** A way back, by cart: it always has room. */
  private addBack(name: string, to: string, lane: readonly string[], from: number): WayBack {
    const door = this.doorOf(to, lane)
    const channel = this.channels.push({
      place: this.places.add(name, 'rework', Infinity),
      capacity: Infinity,
      delay: 0,
      lifo: false,
      from,
      to: door,
      outside: false,
    })
    const station = this.stations[door]
    station.inputs = [...station.inputs, channel - 1]
    return { channel: channel - 1, loop: this.loops++ }
  }

  /** The step of that name in this lane, or in the lane around it. */
  private doorOf(to: string, lane: readonly string[]): number {
    for (let depth = lane.length; depth >= 0; depth--) {
      const door = this.reworkDoor.get([...lane.slice(0, depth), to].join(' '))
      if (door !== undefined) return door
    }
    throw new Error(`rework to "${to}" has no target before it`)
  }

  // ---- carriers ----------------------------------------------------------------

  /** A station that fills and moves them; the far end, where they are emptied, is the store behind it. */
  private addCarriers(item: Carriers, lane: readonly string[]): void {
    this.closeStores(1)
    const position = this.stations.length
    const place = this.places.add(item.carriers, 'carriers', item.holds * item.number)
    const name = [...lane, item.carriers].join(' ')
    const plan = carriersPlan(item, this.stops.people)
    this.stations.push({ ...plan, kind: 'carriers', name, step: -1, place, inputs: [], outputs: [] })
    // So many stand before the carrier that is filled: a hand-over wafer by wafer would be slow, here as there.
    this.connectTo(position, Math.min(item.holds, MOST_BEFORE))
    this.open = { from: position, stores: [item] }
  }

  // ---- lanes -------------------------------------------------------------------

  private addGroup(group: Group, lane: readonly string[], ends: boolean): void {
    const split = this.splitFor(group, lane)
    const open: Open[] = []
    for (const [name, route] of lanesOf(group)) {
      this.open = { from: split, stores: [] }
      this.walk(route, [...lane, name], ends)
      open.push(this.open)
    }
    if (!ends) this.joinLanes([...lane, group.group, 'join'].join(' '), open)
  }

  /** A group that begins a lane of another shares its split where both go by least full. */
  private splitFor(group: Group, lane: readonly string[]): number {
    const { split: rule = 'least full', group: name } = group
    const { from, stores } = this.open
    if (rule === 'least full' && stores.length === 0 && this.splits.has(from)) return from
    const split = this.addJunction([...lane, name, 'split'].join(' '), rule)
    if (rule === 'least full') this.splits.add(split)
    return split
  }

  private joinLanes(name: string, lanes: readonly Open[]): void {
    const join = this.pushJunction(name, 'least full')
    for (const open of lanes) {
      this.open = open
      this.connectTo(join)
    }
    this.open = { from: join, stores: [] }
  }

  // ---- junctions and channels --------------------------------------------------

  private pushJunction(name: string, split: JunctionPlan['split']): number {
    const place = this.places.add(HAND_OVER, 'hand-over', Infinity)
    return this.stations.push({ kind: 'junction', name, step: -1, place, inputs: [], outputs: [], split }) - 1
  }

  private addJunction(name: string, split: JunctionPlan['split']): number {
    this.closeStores(1)
    const junction = this.pushJunction(name, split)
    this.connectTo(junction)
    return junction
  }

  /** Between two stores in a row a junction carries wafers on (a feed fills a first one). Leaves at most `most` stores open. */
  private closeStores(most: number): void {
    while (this.open.stores.length > most) {
      const [first, ...rest] = this.open.stores
      this.open = { from: this.open.from, stores: [first] }
      this.passOn(`${storeName(first)} to ${storeName(rest[0])}`, rest)
    }
  }

  private passOn(name: string, stores: readonly Store[]): void {
    const pass = this.pushJunction(name, 'least full')
    this.connectTo(pass)
    this.open = { from: pass, stores }
  }

  /** Lays the channel from the open end into a junction, and makes sure that it has a place. */
  private connectTo(junction: number, least = 1): void {
    const station = this.stations[junction]
    const channel = this.layChannel(junction, least)
    station.inputs = [...station.inputs, channel]
  }

  /** Lays the channel from the open end into the next station, a step; without a store between them it is direct. */
  private closeInto(): number {
    this.closeStores(1)
    return this.layChannel(this.stations.length, this.atGate() ? Infinity : 0)
  }

  /** The open end is a feed that does no more than keep a cap, without a place behind it: then it need not hear when wafers are taken. */
  private atGate(): boolean {
    const { from, stores } = this.open
    const feed = this.stations[from]
    return stores.length === 0 && feed?.kind === 'feed' && !feed.every && feed.shut.length === 0
  }

  /** @param least places without a store, or with one of capacity 0 */
  private layChannel(to: number, least: number): number {
    const { from, stores } = this.open
    const store = stores[0]
    const channel = store
      ? storeChannel(store, this.places)
      : { place: this.places.add(HAND_OVER, 'hand-over', Infinity), capacity: least, delay: 0, lifo: false }
    const capacity = Math.max(channel.capacity, least)
    const outside = from < 0 || (this.atGate() && least === Infinity)
    const index = this.channels.push({ ...channel, capacity, from, to, outside }) - 1
    if (from >= 0) this.stations[from].outputs = [...this.stations[from].outputs, index]
    return index
  }
}
