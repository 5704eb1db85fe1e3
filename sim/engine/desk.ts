import type { CallPlan, CrewPlan, DeskPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { inForce, nextStep } from '../plan/week.ts'
import { Bounds } from './bounds.ts'
import { CrewBook } from './crew-book.ts'
import { type Call, type DeskMember, goesBefore, type Job } from './desk-calls.ts'
import { Reaches } from './reaches.ts'
import { START } from './start.ts'
import { type Seat, Station } from './station.ts'

const { TICKS_PER_WEEK } = Plans

/**
 * The people and vehicles of the line. A call is granted once every station's promise
 * has reached the time of the grant, so that no earlier call can still come: by
 * priority, then first come first served, at equal times the station further down the
 * route first. Who comes next and needs more people than are free is waited for:
 * nobody overtakes with the same crew. Who has begun a job ends it. The desk stands first
 * in the order of stations: at equal times it acts last.
 */
export class Desk extends Station {
  override readonly patient = true
  declare advance: Station['advance']
  static {
    Desk.prototype.advance = Station.seldomLoop
  }

  readonly book: CrewBook
  private members: readonly DeskMember[] = []
  private bounds = new Bounds([])
  /** In the order in which they are granted. */
  private readonly calls: Call[] = []
  /** By when they end. */
  private jobs: Job[] = []
  private readonly crews: readonly CrewPlan[]
  /** Crews that have the skill, in the order of the plan. */
  private readonly able: readonly (readonly number[])[]
  private readonly reaches: Reaches
  /** The next grant by what is recorded; NaN: to be found. */
  private next = Number.NaN
  /** Before this tick no call comes that is not recorded, as far as the loop has asked on this visit; NaN: it has not. */
  private known = Number.NaN
  /** Heads of each crew that are free at the tick in question; those of a crew that somebody waits for count no more. */
  private readonly free: Float64Array
  /** Heads of each crew, which stay so from one tick up to another. */
  private readonly heads: Float64Array
  private headsFrom = START
  private headsUntil = START
  /** Per position of a member: nobody who could go to one of its calls is free before. */
  private readonly busyUntil: Float64Array
  /** Who waits, or who is free, is no longer as when these were found. */
  private stale = false
  /** Kinds of calls that there have been; while chances are found, those of each. */
  private readonly kinds: CallPlan[] = []
  private readonly chances: number[] = []

  constructor(
    readonly plan: DeskPlan,
    seat: Seat,
  ) {
    super(plan.name, seat)
    const { crews, skills } = plan.people
    this.crews = crews
    this.able = skills.map((_, skill) =>
      crews.flatMap((crew, index) => (crew.skills.includes(skill) ? [index] : [])),
    )
    this.reaches = new Reaches(crews, seat.signals.hears.length, seat.key)
    this.free = new Float64Array(crews.length)
    this.heads = new Float64Array(crews.length)
    this.busyUntil = new Float64Array(seat.signals.hears.length)
    this.book = new CrewBook(plan.people, seat.meter.blocks)
  }

  /** Ties the desk to the stations that call. */
  serve(members: readonly DeskMember[]): void {
    this.members = this.others = members
    this.bounds = new Bounds(members.map(member => () => member.callsNotBefore()))
  }

  /**
   * No call of this member is granted before this tick: an earlier call could still come, or
   * all who could go are with others until then, whoever calls meanwhile.
   */
  grantsFrom({ position }: DeskMember): number {
    if (this.stale) this.findChances()
    return Math.max(this.promises.take, this.busyUntil[position])
  }

  /** @param stays how long people stay once they are there [ticks] @param stands from when on somebody stands and waits for them */
  call(
    member: DeskMember,
    handle: number,
    plan: CallPlan,
    time: number,
    stays: number,
    place = handle,
    stands = time,
  ): void {
    const kind = this.kindOf(plan)
    const call = { member, handle, plan, kind, time, stays, stands, place, until: Infinity }
    let index = this.calls.length
    while (index > 0 && goesBefore(call, this.calls[index - 1]) < 0) index--
    this.calls.splice(index, 0, call)
    this.next = Number.NaN
    this.promises.want(true)
    this.stale = true
  }

  /** From `time` on nobody is needed: the call is granted no more, and others wait behind it no more. */
  drop(member: DeskMember, handle: number, time: number): void {
    const call = this.calls.find(
      ({ member: caller, handle: name, until }) => caller === member && name === handle && until === Infinity,
    )
    if (!call) throw new Error(`no call is open at ${member.name}`)
    call.until = time
    this.next = Number.NaN
    this.stale = true
  }

  private kindOf(plan: CallPlan): number {
    const { kinds, chances } = this
    for (let k = 0; k < kinds.length; k++)
      if (kinds[k].skill === plan.skill && kinds[k].people === plan.people) return k
    chances.push(Number.NaN)
    return kinds.push(plan) - 1
  }

  /** Of the members that wait, how long nobody is free for them: for each kind of call once. */
  private findChances(): void {
    const { calls, busyUntil, chances, now } = this
    this.stale = false
    for (let c = 0; c < calls.length; c++) {
      busyUntil[calls[c].member.position] = Infinity
      chances[calls[c].kind] = Number.NaN
    }
    this.countFree(now)
    for (let c = 0; c < calls.length; c++) {
      const { member, plan, kind, time } = calls[c]
      if (Number.isNaN(chances[kind])) chances[kind] = this.firstChance(plan, now)
      busyUntil[member.position] = Math.min(busyUntil[member.position], Math.max(time, chances[kind]))
    }
  }

  /** Before this tick no crew has the people for a call, even if nobody else calls; who is free has been counted for `time`. */
  private firstChance(plan: CallPlan, time: number): number {
    let first = this.headsUntil
    for (const crew of this.able[plan.skill]) {
      let missing = plan.people - this.free[crew]
      if (missing <= 0) return time
      for (let j = 0; missing > 0 && j < this.jobs.length; j++) {
        const job = this.jobs[j]
        if (job.crew !== crew || job.ends <= time) continue
        missing -= job.people
        if (missing <= 0) first = Math.min(first, job.ends)
      }
    }
    return first
  }

  // ---- the next grant ----------------------------------------------------------

  protected find(): number {
    if (Number.isNaN(this.next)) this.next = this.calls.length === 0 ? Infinity : this.findGrant()
    return this.next
  }

  /** The first tick at which one of the calls can be granted, as things stand; Infinity when nobody ever comes: the weeks are alike, and a job ends. */
  private findGrant(): number {
    const { calls, jobs } = this
    let time = this.now
    let last = time
    for (const call of calls) last = Math.max(last, call.time)
    for (const job of jobs) last = Math.max(last, job.ends)
    last += 2 * TICKS_PER_WEEK
    while (time <= last) {
      if (this.firstGrantable(time) >= 0) return time
      time = this.nextChange(time)
    }
    return Infinity
  }

  /** The next tick after `time` at which a call comes, somebody becomes free, or the number of heads changes. */
  private nextChange(time: number): number {
    this.countHeads(time)
    let next = this.headsUntil
    for (const call of this.calls)
      for (const change of [call.time, call.until]) if (change > time) next = Math.min(next, change)
    for (const job of this.jobs) if (job.ends > time) next = Math.min(next, job.ends)
    return next
  }

  /** Index of the call to be granted at `time`; -1: none. */
  private firstGrantable(time: number): number {
    this.countFree(time)
    for (let index = 0; index < this.calls.length; index++) {
      const { plan, time: called, until } = this.calls[index]
      if (called > time || until <= time) continue
      if (this.firstFree(plan) >= 0) return index
      for (const crew of this.able[plan.skill]) this.free[crew] = 0
    }
    return -1
  }

  private countFree(time: number): void {
    const { jobs, free } = this
    this.countHeads(time)
    free.set(this.heads)
    for (const job of jobs) if (job.ends > time) free[job.crew] -= job.people
  }

  private countHeads(time: number): void {
    if (this.headsFrom <= time && time < this.headsUntil) return
    this.headsFrom = time
    this.headsUntil = Infinity
    this.crews.forEach(({ heads }, crew) => {
      this.heads[crew] = inForce(heads, time).heads
      this.headsUntil = Math.min(this.headsUntil, nextStep(heads, time))
    })
  }

  /** The first crew that has the people; -1: none. */
  private firstFree({ skill, people }: CallPlan): number {
    for (const crew of this.able[skill]) if (this.free[crew] >= people) return crew
    return -1
  }

  protected knows(time: number): boolean {
    this.known = this.bounds.least(time)
    return this.known > time
  }

  protected perform(time: number): void {
    const index = this.firstGrantable(time)
    const crew = this.firstFree(this.calls[index].plan)
    const [call] = this.calls.splice(index, 1)
    for (let c = this.calls.length - 1; c >= 0; c--) if (this.calls[c].until <= time) this.calls.splice(c, 1)
    const { people } = call.plan
    const takes = this.reaches.draw(crew, call.member, call.place)
    const reached = time + (call.handle < 0 ? Math.max(1, takes) : takes)
    const ends = reached + call.stays
    const going = this.jobs.filter(job => job.ends > time)
    const later = going.findIndex(job => job.ends > ends)
    going.splice(later < 0 ? going.length : later, 0, { crew, people, ends })
    this.jobs = going
    this.book.granted(crew, people, Math.min(reached, call.stands), time, reached, ends)
    this.next = Number.NaN
    call.member.granted(call.handle, reached)
    // What it said of its calls left out what comes of this grant.
    this.known = Number.NaN
    this.bounds.forget(this.members.indexOf(call.member), time)
    call.member.promises.want(true)
    this.stale = true
  }

  /** A call that is still to come may go first, whoever calls. */
  protected promise(next: number): void {
    this.promises.want(this.calls.length > 0)
    if (this.calls.length === 0) return
    const known = Number.isNaN(this.known) ? this.bounds.least(next) : this.known
    const bound = Math.max(this.promises.take, this.now, Math.min(next, known))
    this.known = Number.NaN
    this.promises.give(bound, bound)
  }

  protected accrue(_time: number): void {}

  inside(): number[] {
    return []
  }

  waitsFor(): string {
    return this.skillsCalled().join(', ')
  }

  /** Of the calls that nobody has come to, each once. */
  skillsCalled(): string[] {
    const open = this.calls.filter(({ until }) => until === Infinity)
    return [...new Set(open.map(({ plan }) => this.plan.people.skills[plan.skill]))]
  }
}
