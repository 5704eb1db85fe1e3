import type {
  Buffer,
  Cap,
  Carriers,
  Conveyor,
  Group,
  Line,
  Rework,
  SiteEvent,
  Step,
  Stop,
  TimeLimit,
} from './types.ts'

/**
 * What `import { line } from 'linewright'` gives a scenario file. The functions return
 * what they are given; they are there so that an editor completes keys and marks wrong
 * ones, wrong units, and names that the route does not have.
 */

export type { Area, Length, Quantity, Rate, Share, Speed, Time } from '../base/units.ts'
export type { Spread } from '../chance/spec.ts'
export type * from './types.ts'

/**
 * A line:
 *
 * ```ts
 * export default line({
 *   line: 'two steps',
 *   route: [
 *     { step: 'texture', cycle: '1.2 s' },
 *     { buffer: 'store', capacity: 500 },
 *     { step: 'print', tools: 2, cycle: { lognormal: '2.2 s', cv: 0.1 } },
 *   ],
 *   variants: { 'more printers': { print: { tools: 3 } } },
 * })
 * ```
 */
export function line<const Name extends string>(value: LineOf<Name>): Line {
  return value as unknown as Line
}

/** A step to be used in a route, kept apart from it. */
export function step<const Name extends string, const To extends string = Name>(
  value: StepOf<Name, To>,
): Part<StepOf<Name, To>> {
  return value
}

/** A buffer to be used in a route, kept apart from it. */
export function buffer<const Name extends string>(value: BufferOf<Name>): Part<BufferOf<Name>> {
  return value
}

/** A conveyor to be used in a route, kept apart from it. */
export function conveyor<const Name extends string>(value: ConveyorOf<Name>): Part<ConveyorOf<Name>> {
  return value
}

/** Carriers to be used in a route, kept apart from it. */
export function carriers<const Name extends string>(value: CarriersOf<Name>): Part<CarriersOf<Name>> {
  return value
}

/** A group of lanes to be used in a route, kept apart from it. */
export function group<const Name extends string, const To extends string = Name>(
  value: GroupOf<Name, To>,
): Part<GroupOf<Name, To>> {
  return value
}

/** A stop to be used in several steps. */
export function stop(value: Stop): Stop {
  return value
}

/**
 * An item kept apart. Spelled out key by key: beside a reference to the same interface the
 * compiler would not look at the names of items written in the route itself.
 */
export type Part<Kind> = { readonly [Key in keyof Kind]: Kind[Key] }

/** A line whose items are called `Name`: nothing in it can name others. */
export interface LineOf<Name extends string> extends Omit<Line, 'route' | 'variants' | 'cap' | 'events'> {
  readonly cap?: Omit<Cap, 'until'> & { readonly until?: NoInfer<Name> }
  readonly events?: readonly EventOf<NoInfer<Name>>[]
  readonly route: readonly ItemOf<Name, NoInfer<Name>>[]
  readonly variants?: Readonly<Record<string, VariantOf<NoInfer<Name>>>>
}

/** An item called `Name`; rework and time limits in it name steps called `To`. */
export type ItemOf<Name extends string, To extends string> =
  | StepOf<Name, To>
  | BufferOf<Name>
  | ConveyorOf<Name>
  | CarriersOf<Name>
  | GroupOf<Name, To>

type ItemKey = 'step' | 'buffer' | 'conveyor' | 'carriers' | 'group'
/** Keeps the keys of the other kinds out, so that an editor knows which kind an item is. */
type Only<Key extends ItemKey> = { readonly [key in Exclude<ItemKey, Key>]?: never }

export interface StepOf<Name extends string, To extends string>
  extends Omit<Step, 'step' | 'rework' | 'timeLimits'>,
    Only<'step'> {
  readonly step: Name
  readonly rework?: Omit<Rework, 'to'> & { readonly to: To }
  readonly timeLimits?: readonly LimitOf<To>[]
}

/** A time limit that names steps called `To`. */
export interface LimitOf<To extends string> extends Omit<TimeLimit, 'after' | 'late'> {
  readonly after: To
  readonly late: Exclude<TimeLimit['late'], { readonly to: string }> | LateOf<To>
}

type LateOf<To> = Omit<Extract<TimeLimit['late'], { readonly to: string }>, 'to'> & { readonly to: To }

/** An event that strikes steps called `Name`. */
export interface EventOf<Name extends string> extends Omit<SiteEvent, 'steps'> {
  readonly steps?: readonly Name[]
}

export interface BufferOf<Name extends string> extends Omit<Buffer, 'buffer'>, Only<'buffer'> {
  readonly buffer: Name
}

export interface ConveyorOf<Name extends string> extends Omit<Conveyor, 'conveyor'>, Only<'conveyor'> {
  readonly conveyor: Name
}

export interface CarriersOf<Name extends string> extends Omit<Carriers, 'carriers'>, Only<'carriers'> {
  readonly carriers: Name
}

export interface GroupOf<Name extends string, To extends string>
  extends Omit<Group, 'group' | 'lanes' | 'each'>,
    Only<'group'> {
  readonly group: Name
  readonly lanes: readonly string[] | Readonly<Record<string, readonly ItemOf<Name, To>[]>>
  readonly each?: readonly ItemOf<Name, To>[]
}

type AnyOf<T> = { readonly [Key in keyof T]?: unknown }
type ItemFields = Omit<Step, 'step'> &
  Omit<Buffer, 'buffer'> &
  Omit<Conveyor, 'conveyor'> &
  Omit<Carriers, 'carriers'> &
  Omit<Group, 'group'>

/** What a variant may change of the line itself. */
type LineKey = 'feed' | 'wafer' | 'bins' | 'target' | 'calendar' | 'crews' | 'fleets' | 'events' | 'cap'

export type VariantOf<Name extends string> = { readonly [Key in Name]?: AnyOf<ItemFields> } & {
  readonly line?: AnyOf<Pick<Line, LineKey>>
}
