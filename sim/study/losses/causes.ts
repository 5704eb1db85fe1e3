import { resolvedLine } from '../../line/recipes.ts'
import type { Line, Step, Variant } from '../../line/types.ts'
import { applyChanges } from '../../line/vary.ts'
import { stepsOf, withStop } from '../designs/changes.ts'
import type { SeenStop } from '../designs/worst-stops.ts'
import type { Cause, CauseKind } from './cause.ts'
import { limitsOf } from './limits.ts'

/**
 * All causes of a line: each of the worst stops, the other stops together, breakage, rejects,
 * rework, hidden defects and time limits of each step, and what holds the line from outside its tools
 * (`limitsOf`).
 *
 * @param stops all stops of the line, the worst first; the first `most` are tried one by one
 */
export function causesOf(line: Line, stops: readonly SeenStop[], most: number): Cause[] {
  const single = stops.slice(0, most)
  const others = stops.slice(most)
  return [
    ...single.map(stopCause),
    ...(others.length === 0 ? [] : [otherStops(others)]),
    ...WAYS.flatMap(way => lostBy(line, way)),
    ...limitsOf(line),
  ]
}

/** How a stop is called in answers. */
export function stopName(step: string, stop: string): string {
  return `stop "${stop}" at ${step}`
}

function stopCause({ step, stop }: SeenStop): Cause {
  return {
    name: stopName(step, stop.stop),
    kind: 'stop',
    without: line => withoutStop(line, step, stop.stop),
  }
}

function otherStops(stops: readonly SeenStop[]): Cause {
  return {
    name: stops.length === 1 ? 'the smallest stop' : `the ${stops.length} smaller stops together`,
    kind: 'other stops',
    without: line => stops.reduce((made, { step, stop }) => withoutStop(made, step, stop.stop), line),
  }
}

/**
 * Planned work that renews other stops, left out altogether: what it prevents comes then. Without the stop that
 * ends the wear of a tool nothing is known of the wear.
 */
export function leftOutOf(line: Line, stops: readonly SeenStop[]): Cause[] {
  const wears = (name: string, stop: string) =>
    stepsOf(line).some(({ step, drift }) => step === name && drift?.until === stop)
  return stops
    .filter(
      ({ step, stop }) =>
        stop.renews && (stop.kind ?? 'unscheduled') !== 'unscheduled' && !wears(step, stop.stop),
    )
    .map(({ step, stop }) => ({
      name: stopName(step, stop.stop),
      kind: 'left out',
      without: made => withStop(made, step, stop.stop, null),
    }))
}

/** All that a stop costs besides its being there. */
const COSTS = ['skill', 'people', 'priority', 'inside', 'setUpWafers', 'waits', 'overdue']

/** Something else rests on the stop being done: the wear of its tool, or stops that it renews. */
export function helpsOthers(line: Line, step: string, name: string): boolean {
  return stepsOf(line).some(
    one =>
      one.step === step &&
      (one.drift?.until === name || one.stops?.some(({ stop, renews }) => stop === name && renews)),
  )
}

/** The line without a stop. One that something else rests on is done all the same, in no time and by nobody. */
function withoutStop(line: Line, step: string, stop: string): Line {
  const free = { ...Object.fromEntries(COSTS.map(cost => [cost, null])), lasts: '0 s' }
  return withStop(line, step, stop, helpsOthers(line, step, stop) ? free : null)
}

/** A way in which steps lose wafers, or have them come once more. */
interface Way {
  readonly kind: CauseKind
  /** How the loss is called, the name of the step to follow. */
  readonly called: string
  readonly has: (step: Step) => boolean
  readonly without: (step: Step) => Variant[string]
}

const WAYS: readonly Way[] = [
  {
    kind: 'breakage',
    called: 'breakage at',
    has: step => step.breakage !== undefined,
    without: () => ({ breakage: null }),
  },
  {
    kind: 'reject',
    called: 'reject at',
    has: step => step.reject !== undefined || step.test?.rejectBelow !== undefined,
    without: ({ test }) => ({
      reject: null,
      ...(test?.rejectBelow !== undefined && { test: lacking(test, 'rejectBelow') }),
    }),
  },
  {
    kind: 'rework',
    called: 'rework at',
    has: step => step.rework !== undefined,
    without: () => ({ rework: null }),
  },
  {
    kind: 'defects',
    called: 'hidden defects at',
    has: step => step.defects !== undefined || step.drift?.defects !== undefined,
    without: ({ drift }) => ({
      defects: null,
      ...(drift?.defects !== undefined && {
        drift: drift.loses === undefined ? null : lacking(drift, 'defects'),
      }),
    }),
  },
  {
    kind: 'late',
    called: 'time limits before',
    has: step => (step.timeLimits ?? []).length > 0,
    without: () => ({ timeLimits: null }),
  },
]

function lacking<Part extends object, Key extends keyof Part>(part: Part, key: Key): Omit<Part, Key> {
  const { [key]: _gone, ...rest } = part
  return rest
}

/** More steps than this are taken together. */
const FEW = 5

/** Steps that lose wafers this way as they run, by their recipes where they pick one. */
function lostBy(line: Line, way: Way): Cause[] {
  const { kind, called } = way
  const steps = stepsOf(resolvedLine(line)).filter(way.has)
  const taken = steps.length > FEW ? [steps] : steps.map(step => [step])
  return taken.map(some => ({
    name: `${called} ${some.length > 1 ? `${some.length} steps together` : some[0].step}`,
    kind,
    without: made => without(made, some, way),
  }))
}

/** @param steps as they run: taken away from the step alone, its recipe would bring it back */
function without(line: Line, steps: readonly Step[], way: Way): Line {
  return applyChanges(
    resolvedLine(line),
    Object.fromEntries(steps.map(step => [step.step, way.without(step)])),
  )
}
