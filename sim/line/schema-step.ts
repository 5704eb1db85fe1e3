import { isPlainObject } from '../base/plain.ts'
import {
  choose,
  keyed,
  listOf,
  measured,
  name,
  oneWord,
  quantityGauge,
  report,
  type ShapeOf,
  text,
  whole,
} from './schema-parts.ts'
import { countSpread, interval, LONGEST, lastingTime, TICK, workingTime } from './schema-spread.ts'
import type { Batch, Belt, Breakage, Rework, Step, Stop, Test } from './types.ts'

const TIME = quantityGauge('time')
const LENGTH = quantityGauge('length')

/** Any share, zero and all included. */
export const share = measured(quantityGauge('share'), { least: 0, most: 1 })
/** A time that may be nothing. */
export const anyTime = measured(TIME, { least: 0, most: LONGEST })
/** A time of one tick at least. */
export const someTime = measured(TIME, { least: TICK, most: LONGEST })
/** Wafers in one load, on one buffer: more than any real one, few enough to count. */
export const MOST_WAFERS = 10_000_000
/** More tools than any step has; each costs memory in every run. */
export const MOST_TOOLS = 200

const someLength = measured(LENGTH, { least: 1e-4, most: 1000 })

const beltShape = {
  spacing: someTime.optional(),
  transit: someTime.optional(),
  length: someLength.optional(),
  speed: measured(quantityGauge('speed'), { least: 1e-5, most: 100 }).optional(),
  pitch: someLength.optional(),
  lanes: whole(1, 50).optional(),
  whenFull: oneWord('run out', 'stop').optional(),
  keepFree: whole(0, MOST_WAFERS).optional(),
  tolerance: anyTime.optional(),
  overProcessed: share.optional(),
} satisfies ShapeOf<Belt>

const batchShape = {
  load: whole(1, MOST_WAFERS),
  least: whole(1, MOST_WAFERS).optional(),
  longestWait: anyTime.optional(),
  time: workingTime,
  tubes: whole(1, 50).optional(),
  loading: lastingTime.optional(),
  unloading: lastingTime.optional(),
} satisfies ShapeOf<Batch>

const clearingShape = {
  share: share.optional(),
  lasts: lastingTime,
  from: text.optional(),
} satisfies ShapeOf<NonNullable<Breakage['clearing']>>

const breakageShape = {
  share,
  clearing: keyed('an object such as { lasts: "5 min" }', clearingShape).optional(),
  from: text.optional(),
} satisfies ShapeOf<Breakage>
const breakage = keyed('an object such as { share: "0.1 %" }', breakageShape)

const reworkShape = {
  share,
  to: name,
  atMost: whole(1, 100),
  then: oneWord('reject', 'pass').optional(),
  from: text.optional(),
} satisfies ShapeOf<Rework>

const testShape = {
  noise: share.optional(),
  rejectBelow: share.optional(),
  reworkBelow: share.optional(),
} satisfies ShapeOf<Test>

const lostBetween = whole(0, MOST_WAFERS)
  .array()
  .check(context => {
    const [least, most] = context.value as readonly number[]
    if (context.value.length !== 2 || least > most)
      report(context, {
        expected: 'the least and the most wafers lost, as in [2, 5]',
        found: JSON.stringify(context.value),
      })
  })

/** Wafers lost at a stop: a number, or the least and the most. */
const lost = choose(value => (Array.isArray(value) ? lostBetween : whole(0, MOST_WAFERS)))
const fateWord = oneWord('resume', 'restart', 'lose', 'run out')
const fateLoss = keyed('an object such as { lose: 2 }', { lose: lost })

export function stopShape(counts: unknown) {
  return {
    stop: name,
    counts: oneWord('running time', 'calendar time', 'wafers', 'loads').optional(),
    every: counts === 'wafers' || counts === 'loads' ? countSpread(counts) : interval,
    lasts: lastingTime,
    inside: choose(value => (isPlainObject(value) ? fateLoss : fateWord)).optional(),
    kind: oneWord('unscheduled', 'scheduled').optional(),
    from: text.optional(),
  } satisfies ShapeOf<Stop>
}

const STOP = 'a stop such as { stop: "jam", every: "2 h", lasts: "5 min" }'
const timedStop = keyed(STOP, stopShape('running time'))
const waferStop = keyed(STOP, stopShape('wafers'))
const loadStop = keyed(STOP, stopShape('loads'))

/** What `every` may be depends on what the stop counts. */
const stop = choose(value => {
  if (!isPlainObject(value)) return { expected: STOP }
  return value.counts === 'wafers' ? waferStop : value.counts === 'loads' ? loadStop : timedStop
})

export const stepShape = {
  step: name,
  tools: whole(1, MOST_TOOLS).optional(),
  cycle: workingTime.optional(),
  cycles: listOf('a list of cycle times, one for each tool', workingTime).optional(),
  belt: keyed('an object such as { spacing: "1 s", transit: "60 s" }', beltShape).optional(),
  batch: keyed('an object such as { load: 1200, time: "85 min" }', batchShape).optional(),
  breakage: choose(value => (isPlainObject(value) ? breakage : share)).optional(),
  reject: share.optional(),
  rework: keyed('an object such as { share: "2 %", to: "print", atMost: 1 }', reworkShape).optional(),
  test: keyed('an object such as { noise: "0.05 %" }', testShape).optional(),
  stops: listOf('a list of stops', stop).optional(),
  from: text.optional(),
} satisfies ShapeOf<Step>
