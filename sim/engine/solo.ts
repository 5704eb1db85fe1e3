import type { SinglePlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Outcomes from './outcome.ts'
import * as Phases from './phases.ts'
import type { RushHost } from './rush-tools.ts'
import * as Fields from './tool-fields.ts'
import type { Treatment } from './treatment.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { PASSES } = Outcomes
const { FULL, IDLE, PLAIN } = Phases
const { AT, CALENDAR, FINISH, FIXED, HOLDS, IDLE_FROM, LEFT, PHASE } = Fields
const { QUIET, RESTS, SINCE, STANDS, STATE, STRIKING, WORK } = Fields

/** What the loop for one tool reads and writes of a station, besides what that for several does. */
export interface SoloHost extends RushHost {
  readonly plan: SinglePlan
  readonly position: number
  readonly treatment: Treatment | undefined
  takeFrom(input: Channel, time: number): number
  /** Has the station behind act, to make room. @returns whether it has */
  press(): boolean
  isLate(wafer: number, time: number): boolean
  /** What becomes of the wafer whose work has ended. @returns see `settle` of the outcome */
  judge(wafer: number, time: number): number
  goOnAfter(fate: number, tool: number, time: number): void
  /** Stops that wait for a good moment; until when the tool rests, idle from `time` on. */
  readonly stopsWaiting: number
  restsUntil(time: number): number
}

/**
 * The fast loop of a station with one single-wafer tool: the same acts in the same order as
 * `SingleStation.advance`, for as long as nothing happens but plain work, and every arrival
 * and every free place that matters is recorded. With one tool its phase says what comes
 * next: idle, it takes; at work, it ends; done, it hands over. At anything else the loop
 * returns, with the station as if the acts had been done one by one. The strict drive never
 * comes here, so each comparison of the drives also compares this loop with the general one.
 *
 * It is long because it holds everything it touches in locals.
 *
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @param untilIdle ends once the tool has handed over what it holds
 * @returns acts done
 */
export function solo(
  host: SoloHost,
  input: Channel,
  output: Channel,
  stop: number,
  untilIdle: boolean,
): number {
  const { exit, treatment, stamp, idleLimit } = host
  const { all } = host.fields
  const { timeLimits } = host.plan
  const { base } = host.meter
  const stamps = stamp >= 0 ? host.wafers.stamps[stamp] : undefined
  const arrivals = input.lifo ? input.arrivesFrom() : Infinity
  // A wafer that is handed to the tool, or chosen when it is taken, needs an act of its own.
  const takesAtOnce = !input.direct && !input.lifo && !untilIdle
  const calendar = all[CALENDAR]
  const rests = all[RESTS]
  const stands = all[STANDS]
  let { now } = host
  let phase = all[PHASE]
  let at = all[AT]
  let since = all[SINCE]
  let left = all[LEFT]
  let finish = all[FINISH]
  let work = all[WORK]
  let wafer = all[HOLDS]
  let quiet = all[QUIET]
  let acts = 0
  let taken = 0
  let takenSum = 0
  let put = 0
  let putSum = 0
  let ideal = 0
  let productive = 0
  let starved = 0
  let blocked = 0
  let fate = -1
  const { stopsWaiting } = host
  let plain = all[STRIKING] < 0 && (phase === IDLE || phase === PLAIN || phase === FULL)
  while (plain) {
    let time = at
    let finds = true
    let takes = phase === IDLE
    if (takes) {
      if (input.waiting === 0 && input.stacked === 0) break
      time = input.stacked > 0 || input.ready[input.head] < now ? now : input.ready[input.head]
      if (!(time < at && time < stop && time <= arrivals)) break
    } else {
      let place = exit ? at : output.roomAt(phase === PLAIN ? at : now)
      if (place === Infinity && host.press()) place = output.roomAt(phase === PLAIN ? at : now)
      if (phase === PLAIN) {
        if (!(time < stop) || (place === Infinity && !(output.takesFrom > time))) break
        finds = place === time
      } else {
        if (!(place <= at && place < stop)) break
        time = place
      }
      takes = finds && takesAtOnce && rests > time && input.waiting > 0 && input.ready[input.head] <= time
    }
    if (phase !== PLAIN && time - finish > idleLimit) break
    if (takes && timeLimits.length > 0 && host.isLate(input.nextAt(time), time)) break
    acts++
    now = time
    if (phase === PLAIN) {
      quiet--
      ideal += work
      productive += time - since
    } else if (phase === IDLE) starved += time - since
    else blocked += time - since
    since = time
    if (phase === PLAIN && quiet <= 0) {
      all[QUIET] = quiet
      all[LEFT] = left
      fate = host.judge(wafer, time)
      quiet = all[QUIET]
      // It is lost or done again, or a stop has become due: the general loop goes on from here.
      plain = fate === PASSES && all[STRIKING] < 0 && host.stopsWaiting === stopsWaiting
      if (!plain) break
      fate = -1
    }
    if (!finds) {
      phase = FULL
      at = stands > time ? stands : time
      continue
    }
    if (phase !== IDLE) {
      treatment?.apply(0, wafer, finish, time - finish)
      if (exit) host.leave(wafer, time)
      else {
        if (stamps) stamps[wafer] = time
        if (output.bounded) output.useRoom(time)
        output.put(wafer, time)
        put++
        putSum += time - base
      }
      if (!takes) {
        wafer = -1
        phase = IDLE
        at = stopsWaiting > 0 ? host.restsUntil(time) : rests > time ? rests : time
        all[IDLE_FROM] = time
        if (input.direct) input.request(time, at)
        if (untilIdle) break
        continue
      }
    }
    wafer = host.takeFrom(input, time)
    taken++
    takenSum += time - base
    work = all[FIXED] > 0 ? all[FIXED] : host.nextCycle(0)
    phase = PLAIN
    // Unless a stop comes into it.
    plain = work <= left && time + work < calendar
    if (!plain) break
    left -= work
    at = finish = time + work
  }
  if (acts === 0) return 0
  host.now = now
  changeQueues(host, all[PHASE], phase)
  all[PHASE] = phase
  all[STATE] = phase === PLAIN ? PRODUCTIVE : phase === IDLE ? STARVED : BLOCKED
  all[AT] = at
  all[SINCE] = since
  all[LEFT] = left
  all[FINISH] = finish
  all[WORK] = work
  all[HOLDS] = wafer
  all[QUIET] = quiet
  const { flow, counter, state } = host.meter
  flow[0] += taken
  flow[1] += takenSum
  if (!exit) flow[2] += put
  if (!exit) flow[3] += putSum
  counter[STARTS] += taken
  counter[IDEAL_TIME] += ideal
  state[PRODUCTIVE] += productive
  state[STARVED] += starved
  state[BLOCKED] += blocked
  if (fate >= 0) {
    all[STATE] = STARVED
    host.goOnAfter(fate, 0, now)
  } else if (!plain) host.begin(0, now, work)
  return acts
}

/** The only tool waits for a wafer, or for a place, or no longer. */
export function changeQueues({ idle, full }: SoloHost, from: number, to: number): void {
  if (from === to) return
  if (from === IDLE) idle.takeFirst()
  else if (from === FULL) full.takeFirst()
  if (to === IDLE) idle.add(0)
  else if (to === FULL) full.add(0)
}
