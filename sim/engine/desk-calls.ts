import type { CallPlan } from '../plan/plan.ts'
import type { Station } from './station.ts'

/** A station that calls people. */
export interface DeskMember extends Station {
  /** Before this tick it makes no call that is not recorded. A tool that waits for people makes none. */
  callsNotBefore(): number
  /** People reach the handle (a tool, a carrier trip) at `reached`; granted at or before, a negative one before. */
  granted(handle: number, reached: number): void
}

/** A call for people that is not granted yet. */
export interface Call {
  readonly member: DeskMember
  readonly handle: number
  readonly plan: CallPlan
  /** Calls for as many people of the same skill have the same chances. */
  readonly kind: number
  readonly time: number
  /** How long people stay once they are there [ticks]. */
  readonly stays: number
  /** Somebody stands and waits from then on: since the call, or when the tool may work on no longer. */
  readonly stands: number
  /** Where they go: the handle, or the tool that works on until they come. */
  readonly place: number
  /** Nobody is needed any more from this tick on. */
  until: number
}

/** People of a crew who are away until it ends. */
export interface Job {
  readonly crew: number
  readonly people: number
  readonly ends: number
}

/** Who is granted first: by priority, then first come first served, at equal times the station further down. */
export function goesBefore(a: Call, b: Call): number {
  return (
    b.plan.priority - a.plan.priority ||
    a.time - b.time ||
    b.member.position - a.member.position ||
    a.handle - b.handle
  )
}
