import { START } from './start.ts'

/** There is a place for each. */
const ALWAYS = new Float64Array(1)

/**
 * Takes that the consumer of a channel foretells: each wafer is taken as soon as it is ready
 * and has its place behind the consumer, `every` ticks after the one before. A producer that finds
 * no place records the places that those takes will free, before they have happened.
 */
export class Foretold {
  /** Places that are recorded and of which the take is still to come. */
  recorded = 0
  /** The next take comes at this tick at the earliest. */
  opens = START
  every = START
  /** So many takes more, and all before this tick. */
  most = 0
  until = START
  /** When the place of each is free, from `place` on in a ring. */
  places: Float64Array = ALWAYS
  placesMask = 0
  place = 0
  /** A wafer comes no later than so long after the consumer is free for it, and waits no longer than this. */
  idle = Infinity
  waits = Infinity
}
