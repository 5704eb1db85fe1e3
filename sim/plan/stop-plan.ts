import type { Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'
import { calendarPace } from '../line/availability.ts'
import { clockTimes } from '../line/clock.ts'
import { isSpan } from '../line/first-times.ts'
import { copiesOf } from '../line/items.ts'
import { pacesOf } from '../line/pace.ts'
import { takesPart } from '../line/renewals.ts'
import { OWN_STOPS } from '../line/reserved-names.ts'
import { type Site, siteOf } from '../line/site.ts'
import { putOff } from '../line/stop-times.ts'
import type { FirstSpan, Line, SiteEvent, Step, Stop } from '../line/types.ts'
import { countLaw, share, ticks, timeLaw } from './laws.ts'
import { callPlan, closings, peoplePlan, weekTicks } from './people.ts'
import {
  AT_ONCE,
  AT_SHIFT_CHANGE,
  CALENDAR,
  IDLENESS,
  LOSE,
  LOSE_SOME,
  type OccasionsPlan,
  type PeoplePlan,
  PIECES,
  RESTART,
  RESUME,
  RUN_OUT,
  RUNNING,
  type StopPlan,
  TICKS_PER_SECOND,
  WHEN_EMPTY,
  WHEN_PEOPLE_COME,
  WHEN_STARVED,
} from './plan.ts'

const NONE = { kind: 'fixed', value: 1 } as const

/** What all stops of a line share. */
export class StopCompiler {
  readonly people: PeoplePlan
  private readonly events: readonly SiteEvent[]
  private readonly site: Site
  private readonly closing: StopPlan | undefined
  /** How many of each step there are, and for how many of them stops have been asked. */
  private readonly copies: ReadonlyMap<string, number>
  private readonly asked = new Map<string, number>()

  constructor(line: Line) {
    this.people = peoplePlan(line)
    this.events = line.events ?? []
    this.site = siteOf(line)
    this.copies = copiesOf(line.route)
    const { starts, ends } = closings(line.calendar)
    this.closing = starts.length > 0 ? closingPlan({ kind: 'weekly', starts, ends }) : undefined
  }

  /**
   * The stops of a step, then the events of the site, then the closing hours. To be asked
   * once for each of its copies in equal lanes, in their order.
   */
  stopsOf(step: Step): StopPlan[] {
    const index = this.asked.get(step.step) ?? 0
    this.asked.set(step.step, index + 1)
    const copy = { index, of: this.copies.get(step.step) ?? 1 }
    const where = step.belt ? 'on a belt' : 'not on a belt'
    const events = this.events.filter(({ steps }) => steps === undefined || steps.includes(step.step))
    const fate: StopPlan['fate'] = step.belt ? RUN_OUT : RESUME
    const closing = this.closing && { ...this.closing, fate }
    return [
      ...(step.stops ?? []).map(stop => this.stopPlan(stop, step, copy, where)),
      ...events.map(event => eventPlan(event, where)),
      ...(closing ? [closing] : []),
    ]
  }

  private stopPlan(stop: Stop, step: Step, copy: Copy, where: Where): StopPlan {
    const clock = clockOf(stop)
    const every = stop.every ?? '1 s'
    const call = callPlan(stop, this.people)
    return {
      name: stop.stop,
      clock,
      every: clock === PIECES ? countLaw(every as Spread<number>) : timeLaw(every as Spread<Time>),
      ...(stop.afterIdle !== undefined && { afterIdle: ticks(stop.afterIdle) }),
      ...firstOf(stop, step, copy),
      ...walkedOf(stop, step, this.site),
      ...(stop.at && { occasions: { kind: 'weekly', starts: clockTimes(stop.at).map(weekTicks) } }),
      lasts: timeLaw(stop.lasts),
      ...fateOf(stop.inside, where),
      setUp: setUpOf(stop),
      renews: (stop.renews ?? []).map(name => (step.stops ?? []).findIndex(other => other.stop === name)),
      kind: stop.kind ?? 'unscheduled',
      ...(call && { call }),
      waits: stop.waits ? WAITS[stop.waits.until] : AT_ONCE,
      moments: stop.waits?.until === 'shift change' ? this.site.shiftChanges(stop).map(weekTicks) : [],
      waitsAtMost: stop.waits ? ticks(stop.waits.atMost) : 0,
      overdue: share(stop.overdue),
    }
  }
}

function clockOf({ counts = 'running time', at, afterIdle }: Stop): StopPlan['clock'] {
  if (afterIdle !== undefined) return IDLENESS
  if (at !== undefined || counts === 'calendar time') return CALENDAR
  return counts === 'running time' ? RUNNING : PIECES
}

function setUpOf({ setUpWafers = 0 }: Stop): StopPlan['setUp'] {
  return typeof setUpWafers === 'number' ? [setUpWafers, setUpWafers] : setUpWafers
}

type Where = 'on a belt' | 'not on a belt'

/** Which of the copies of a step in equal lanes, from 0. */
interface Copy {
  readonly index: number
  readonly of: number
}

const WAITS = {
  starved: WHEN_STARVED,
  'load ends': WHEN_EMPTY,
  'shift change': AT_SHIFT_CHANGE,
  'people come': WHEN_PEOPLE_COME,
} as const
const FATES = { resume: RESUME, restart: RESTART, lose: LOSE, 'run out': RUN_OUT } as const

function fateOf(given: Stop['inside'], where: Where): Pick<StopPlan, 'fate' | 'lose'> {
  const inside = given ?? (where === 'on a belt' ? 'run out' : 'resume')
  const lose = typeof inside === 'string' ? 0 : inside.lose
  return {
    fate: typeof inside === 'string' ? FATES[inside] : LOSE_SOME,
    lose: typeof lose === 'number' ? [lose, lose] : lose,
  }
}

/**
 * At random; or one time for all tools, or one for each (the tubes of a tool have the same), or spread
 * evenly over the tubes and tools of all copies.
 */
function firstOf({ first }: Stop, { tools = 1, batch }: Step, copy: Copy): Pick<StopPlan, 'first' | 'aged'> {
  if (first === undefined) return {}
  if (first === 'at random') return { aged: true }
  const tubes = batch?.tubes ?? 1
  if (isSpan(first)) return { first: firstInSpan(first, tools * tubes, copy) }
  const each = typeof first === 'string' ? Array.from({ length: tools }, () => first) : first
  return { first: each.flatMap(time => Array.from({ length: tubes }, () => ticks(time))) }
}

/** As paper has it: the tool has always been at work. */
function walkedOf(stop: Stop, step: Step, site: Site): Pick<StopPlan, 'walked'> {
  if (stop.first !== 'at random' || !takesPart(step, stop)) return {}
  const [pace] = pacesOf(step)
  const counted = stop.counts === 'wafers' || stop.counts === 'loads'
  return {
    walked: {
      unit: counted ? pace.work * TICKS_PER_SECOND : 1,
      waits: putOff(stop, pace, site) * TICKS_PER_SECOND,
      calendar: calendarPace(step, pace, site),
    },
  }
}

function firstInSpan(span: FirstSpan, tools: number, { index, of }: Copy): number[] {
  const from = ticks(span.from)
  const apart = (ticks(span.to) - from) / (tools * of)
  return Array.from({ length: tools }, (_, tool) => Math.round(from + (index * tools + tool) * apart))
}

function eventPlan(event: SiteEvent, where: Where): StopPlan {
  const [every, lasts] = [timeLaw(event.every), timeLaw(event.lasts)]
  return {
    ...atOccasions({ kind: 'random', every, lasts, stream: `event ${event.event}` }),
    ...fateOf(event.inside, where),
    name: event.event,
    kind: event.kind ?? 'unscheduled',
  }
}

/** The tool ends what it has in work, and is closed. */
function closingPlan(occasions: OccasionsPlan): StopPlan {
  return {
    ...atOccasions(occasions),
    fate: RESUME,
    lose: [0, 0],
    name: OWN_STOPS.closed,
    kind: 'closed',
    waits: WHEN_EMPTY,
    moments: [],
    waitsAtMost: Infinity,
  }
}

function atOccasions(occasions: OccasionsPlan) {
  return {
    clock: CALENDAR,
    every: NONE,
    occasions,
    lasts: NONE,
    waits: AT_ONCE,
    moments: [],
    waitsAtMost: 0,
    overdue: 0,
    setUp: [0, 0],
    renews: [],
  } as const
}
