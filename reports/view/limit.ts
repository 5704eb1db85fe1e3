import type { Estimate } from '../../sim/stats/estimate.ts'
import type { CrewFigures, RunStudy, StepFigures } from '../../sim/study/run-study.ts'
import { grouped, halfWidth, percent, significant } from './format.ts'
import { shortened } from './width.ts'

/** So many steps are named, the busiest included; of a long line of equals the rest are counted. */
const NAMED = 4
/** A busiest step that waits longer than this share of its scheduled time does not look like the limit of the line. */
const LONGEST_WAIT = 0.15
/** Room for a name inside a sentence, in columns. */
const NAME_WIDTH = 30

interface Busy {
  readonly name: string
  /** Share of the scheduled time in which the step neither starved nor was blocked. */
  readonly share: number
  /** Half-widths of the shares behind it, added as independent; 0 when there are none. */
  readonly margin: number
  /** Wafers an hour that pile up behind it; 0: none do. */
  readonly pilesUp: number
}

/**
 * Which step looks like it holds the line, in one careful sentence. A step that is
 * hardly ever starved or blocked is evidence for the limit, no proof: proof is what
 * the line makes when the step gets faster. A step behind which wafers pile up does not
 * hold the output.
 */
export function limitSentence(study: RunStudy): string {
  const all = rankedSteps(study)
  const ranked = holding(all)
  const [first] = ranked
  if (first === undefined) return 'The line has no steps.'
  if (!(first.share > 0)) return 'By these figures no step did any work.'
  const name = quoted(first.name)
  // The table has shares of all hours.
  const closes = study.steps.some(({ states }) => states.nonScheduled.mean > 0)
  const waits = `waits ${percentOf(1 - first.share, first.margin)} of ${closes ? 'its open' : 'the'} time`
  if (feedHolds(study, first))
    return `The feed holds the line: all that it brings, ${grouped(study.allOfFeedPerHour ?? 0, 0)} wafers/h, is taken, and ${name}, which waits least, ${waits}.`
  const [busiest] = all
  const ahead = busiest !== undefined && busiest !== first ? busiest : undefined
  if (1 - first.share > LONGEST_WAIT) {
    if (ahead !== undefined)
      return `Behind ${quoted(ahead.name)} ${perHour(ahead)} pile up, so it is not the limit, and no other step stands out: ${name}, which waits least, ${waits}.`
    return `No step stands out as the limit: ${name}, which waits least, ${waits}.`
  }
  const busy = `${percentOf(first.share, first.margin)}${closes ? ' of its open time' : ''}`
  const piles = ahead === undefined ? '' : `; behind ${quoted(ahead.name)} ${perHour(ahead)} pile up`
  if (study.replications === 1)
    return `In this one replication the step that waits least is ${name}: ${busy} busy or down${piles}.`
  const [, ...others] = alikeOf(ranked)
  if (others.length === 0)
    return `By these figures the limit looks to be ${name}: ${busy} busy or down${piles}.`
  const named = others.slice(0, NAMED - 1).map(busyText)
  if (others.length >= NAMED) named.push(`${others.length - NAMED + 1} more`)
  return `The limit may be ${name}, ${busy} busy or down; ${study.replications} replications do not tell it from ${list(named)}${piles}.`
}

/** Waiting for less than this share of its time is no sign that a step could do more. */
const SLACK = 0.01

/** All that the feed brings is taken, and no step is at work or down all the time. */
function feedHolds({ allOfFeedPerHour }: RunStudy, { share, margin }: Busy): boolean {
  return allOfFeedPerHour !== undefined && 1 - share > Math.max(SLACK, margin)
}

function perHour({ pilesUp }: Busy): string {
  return `${grouped(pilesUp, 0)} wafers/h`
}

/** A crew or fleet that works for longer than this share of its time, in a shift at least, keeps callers waiting. */
const SHORT = 0.9
/** Crews named in the sentence below. */
const CREWS_NAMED = 2

/** Crews and fleets that have hardly a minute to spare, which no figure of a step tells; empty where there are none. */
export function shortOfSentence({ crews }: RunStudy): string[] {
  const short = crews
    .map(crew => ({ crew, busiest: busiestShift(crew) }))
    .filter(({ busiest }) => busiest.utilisation.mean > SHORT)
    .sort((a, b) => b.busiest.utilisation.mean - a.busiest.utilisation.mean)
  if (short.length === 0) return []
  const named = short.slice(0, CREWS_NAMED).map(({ crew, busiest }) => {
    const shift = busiest.shift === undefined ? '' : `, in the shift ${quoted(busiest.shift)}`
    const wait = significant(crew.waitMinutes.mean, 2)
    return `${quoted(crew.name)} works ${percent(busiest.utilisation).text} % of its time${shift}; calls wait ${wait} min`
  })
  const more = short.length > CREWS_NAMED ? `; and ${short.length - CREWS_NAMED} more` : ''
  return [`People or vehicles may hold the line too: ${named.join('; ')}${more}.`]
}

function busiestShift({ utilisation, byShift }: CrewFigures): { utilisation: Estimate; shift?: string } {
  const manned = byShift.filter(({ heads }) => heads > 0)
  const [first] = [...manned].sort((a, b) => b.utilisation.mean - a.utilisation.mean)
  return manned.length > 1 && first !== undefined ? first : { utilisation }
}

/** More steps than this cannot be marked as near the limit: where nearly all are, none stands out. */
const MARKED = 8

/** Names of the steps that `limitSentence` takes for the limit, the busiest first; none when it sees none, or too many. */
export function nearLimit(study: RunStudy): string[] {
  const ranked = holding(rankedSteps(study))
  const [first] = ranked
  if (first === undefined || !(first.share > 0) || 1 - first.share > LONGEST_WAIT) return []
  if (feedHolds(study, first)) return []
  const alike = alikeOf(ranked)
  return alike.length > MARKED ? [] : alike.map(step => step.name)
}

function rankedSteps(study: RunStudy): Busy[] {
  return study.steps.map(busyShare).sort((a, b) => b.share - a.share)
}

/** The steps that may hold the output: what others make more than leaves the line piles up behind them. */
function holding(ranked: readonly Busy[]): readonly Busy[] {
  const may = ranked.filter(({ pilesUp }) => pilesUp === 0)
  return may.length > 0 ? may : ranked
}

/** The busiest step and those that the figures do not tell apart from it. */
function alikeOf(ranked: readonly Busy[]): Busy[] {
  const [first] = ranked
  return ranked.filter(
    other => first !== undefined && first.share - other.share <= Math.hypot(first.margin, other.margin),
  )
}

function busyShare(step: StepFigures): Busy {
  const { starved, blocked, nonScheduled } = step.states
  const scheduled = 1 - nonScheduled.mean
  const waiting = starved.mean + blocked.mean
  const margins = [starved, blocked].map(halfWidth).filter(Number.isFinite)
  return {
    name: step.name,
    share: scheduled > 0 ? 1 - waiting / scheduled : 0,
    margin: Math.hypot(...margins),
    pilesUp: step.pilesUpPerHour?.mean ?? 0,
  }
}

/** `"fire" (88 %)`. */
function busyText({ name, share, margin }: Busy): string {
  return `${quoted(name)} (${percentOf(share, margin)})`
}

function list(words: readonly string[]): string {
  const [last, ...before] = [...words].reverse()
  return before.length === 0 ? `${last}` : `${before.reverse().join(', ')} and ${last}`
}

function quoted(name: string): string {
  return `"${shortened(name, NAME_WIDTH)}"`
}

/** In per cent, whole unless the margin is narrower than half of one. */
function percentOf(value: number, margin: number): string {
  return `${grouped(value * 100, margin > 0 && margin < 0.005 ? 1 : 0)} %`
}
