import { nearest } from '../base/nearest.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { quantity } from '../base/quantity.ts'
import { checkRenewed, checkRenews } from './check-renews.ts'
import { isSpan } from './first-times.ts'
import type { FirstSpan, Step, Stop } from './types.ts'

/** What cannot be in the stops of a step with exactly one way to work. */
export function checkStops(step: Step, path: Path): Problem[] {
  const stops = step.stops ?? []
  return stops.flatMap((stop, index) => {
    const stopPath = [...path, 'stops', index, { name: stop.stop }]
    const first = stops.findIndex(other => other.stop === stop.stop)
    const twice =
      first < index
        ? [problemAt([...stopPath, 'stop'], quoted(stop.stop), 'a name of its own', `stops[${first}] has it`)]
        : []
    return [
      ...twice,
      ...checkDue(stop, stopPath),
      ...checkFirst(step, stop, stopPath),
      ...checkIdleness(stop, stopPath),
      ...checkCount(step, stop, stopPath),
      ...checkFate(step, stop, stopPath),
      ...checkHelp(stop, stopPath),
      ...checkWaits(step, stop, stopPath),
      ...checkRenews(stops, stop, stopPath),
      ...checkRenewed(stops, stop, stopPath),
    ]
  })
}

/** A stop is due after so much of something, by the clock, or after idleness. That it is due at all its form has shown. */
function checkDue({ every, at, afterIdle, counts }: Stop, path: Path): Problem[] {
  const given = Object.entries({ every, at, afterIdle }).flatMap(([key, value]) =>
    value === undefined ? [] : [key],
  )
  if (given.length > 1) return [problemAt(path, wordList(given, 'and'), `either ${wordList(given, 'or')}`)]
  if (at === undefined) return []
  if (at.length === 0) return [problemAt([...path, 'at'], 'an empty list', 'at least one time')]
  if (counts === undefined || counts === 'calendar time') return []
  const hint = 'a stop with "at" is due by the clock'
  return [problemAt([...path, 'counts'], quoted(counts), '"calendar time", or nothing', hint)]
}

/** Only the calendar knows beforehand when it will be due; some of an interval may be over by any clock. */
function checkFirst(step: Step, { first, at, afterIdle, counts }: Stop, path: Path): Problem[] {
  if (first === undefined) return []
  const firstPath = [...path, 'first']
  const found = firstText(first)
  if (at !== undefined) return [problemAt(firstPath, found, 'none beside at', 'at says when it is due')]
  if (afterIdle !== undefined)
    return [
      problemAt(firstPath, found, 'none beside afterIdle', 'it is due after idleness, whenever that is'),
    ]
  if (first === 'at random') return []
  if (counts !== 'calendar time')
    return [
      problemAt(
        firstPath,
        found,
        '"at random", or counts: "calendar time"',
        'the other clocks go with the work, so nobody knows when it will be due',
      ),
    ]
  if (typeof first === 'string') return []
  if (isSpan(first)) return checkSpan(first, firstPath)
  const { tools = 1 } = step
  if (first.length === tools) return []
  const expected = `one time, or one for each tool: ${tools}`
  return [problemAt(firstPath, found, expected, 'a span such as { from: "0 h", to: "12 h" } fits any number')]
}

function firstText(first: NonNullable<Stop['first']>): string {
  if (typeof first === 'string') return quoted(first)
  return isSpan(first) ? `${first.from} to ${first.to}` : `a list of ${first.length}`
}

function checkSpan({ from, to }: FirstSpan, path: Path): Problem[] {
  if (quantity('time', to) > quantity('time', from)) return []
  return [problemAt([...path, 'to'], quoted(to), `more than from, ${quoted(from)}`)]
}

/** What is due only when the tool is to work again has nothing inside, and nothing to wait for. */
function checkIdleness({ afterIdle, counts, inside, waits }: Stop, path: Path): Problem[] {
  if (afterIdle === undefined) return []
  const problem = (key: string, found: string, hint: string) =>
    problemAt([...path, key], found, 'none beside afterIdle', hint)
  return [
    ...(counts === undefined ? [] : [problem('counts', quoted(counts), 'afterIdle says when it is due')]),
    ...(inside === undefined
      ? []
      : [problem('inside', typeof inside === 'string' ? quoted(inside) : 'a loss', 'an idle tool is empty')]),
    ...(waits === undefined
      ? []
      : [problem('waits', `until ${quoted(waits.until)}`, 'it comes before the next work')]),
  ]
}

function checkCount(step: Step, { counts }: Stop, path: Path): Problem[] {
  if (counts === 'loads' && !step.batch)
    return [problemAt([...path, 'counts'], '"loads"', '"wafers"', 'only batch tools work in loads')]
  if (counts === 'wafers' && step.batch)
    return [problemAt([...path, 'counts'], '"wafers"', '"loads"', 'a batch tool works in loads')]
  return []
}

function checkFate(step: Step, { inside }: Stop, path: Path): Problem[] {
  if (inside === 'run out' && !step.belt)
    return [
      problemAt(
        [...path, 'inside'],
        '"run out"',
        '"resume", "restart" or "lose"',
        'only the wafers on a belt can run out',
      ),
    ]
  if (inside === 'restart' && step.belt)
    return [
      problemAt(
        [...path, 'inside'],
        '"restart"',
        '"run out", "resume" or "lose"',
        'the wafers on a belt cannot begin anew',
      ),
    ]
  return []
}

/** How many people it needs, and who comes first, says nothing of a stop that needs nobody. */
export function checkHelp(
  { skill, people, priority }: Pick<Stop, 'skill' | 'people' | 'priority'>,
  path: Path,
): Problem[] {
  if (skill !== undefined) return []
  return Object.entries({ people, priority }).flatMap(([key, value]) =>
    value === undefined
      ? []
      : [problemAt([...path, key], String(value), 'none without "skill"', 'without a skill it needs nobody')],
  )
}

function checkWaits(step: Step, stop: Stop, path: Path): Problem[] {
  const { waits, overdue } = stop
  if (waits === undefined) {
    const hint = 'a stop that does not wait is never overdue'
    return overdue === undefined
      ? []
      : [problemAt([...path, 'overdue'], quoted(overdue), 'none without "waits"', hint)]
  }
  const untilPath = [...path, 'waits', 'until']
  if (waits.until === 'people come') return checkPeopleCome(stop, path)
  if (waits.until !== 'load ends' || step.batch) return []
  return [
    problemAt(
      untilPath,
      '"load ends"',
      '"starved", "shift change" or "people come"',
      'only batch tools work in loads',
    ),
  ]
}

/** They are called; and nobody knows long before when they will be there, so that what they do must not take wafers. */
function checkPeopleCome({ skill, inside }: Stop, path: Path): Problem[] {
  const found = '"people come"'
  const needs = problemAt([...path, 'waits', 'until'], found, 'none without "skill"', 'it needs nobody')
  const loses = inside === 'lose' || typeof inside === 'object'
  const takes = problemAt(
    [...path, 'inside'],
    inside === 'lose' ? '"lose"' : 'a loss',
    '"resume", "restart" or "run out"',
    'a stop that waits until people come loses nothing',
  )
  return [...(skill === undefined ? [needs] : []), ...(loses ? [takes] : [])]
}

/** What wears is made good by a stop of the step. */
export function checkDrift({ drift, stops = [] }: Step, path: Path): Problem[] {
  if (!drift) return []
  const driftPath = [...path, 'drift']
  const problems: Problem[] = []
  if (drift.loses === undefined && drift.defects === undefined)
    problems.push(problemAt(driftPath, 'a drift without effect', 'loses, defects or both'))
  const names = stops.filter(({ afterIdle }) => afterIdle === undefined).map(({ stop }) => stop)
  if (names.includes(drift.until)) return problems
  const near = nearest(drift.until, names)
  const hint = stops.some(({ stop }) => stop === drift.until)
    ? 'that one comes after idleness, not after wear'
    : near && `did you mean "${near}"?`
  const expected =
    names.length === 0
      ? 'a stop of this step, but it has none'
      : `a stop of this step: ${wordList(names.map(quoted), 'or')}`
  return [...problems, problemAt([...driftPath, 'until'], quoted(drift.until), expected, hint)]
}
