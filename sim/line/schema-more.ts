import { isPlainObject } from '../base/plain.ts'
import { choose, keyed, leaf, name, oneKey, oneWord, type ShapeOf, text, whole } from './schema-parts.ts'
import { lastingTime, workingTime } from './schema-spread.ts'
import { anyTime, change, MOST_HELPERS, MOST_WAFERS, share } from './schema-values.ts'
import type { Boats, Drift, Dummies, Effect, HeldUp, LoadCap, TimeLimit, WarmUp } from './types.ts'

/** What a step may have besides its way to work. */

const awayShape = { every: whole(1, 1_000_000), lasts: lastingTime }
export const carrierCleaning = keyed('an object such as { every: 200, lasts: "4 h" }', awayShape)

const cleaningShape = {
  ...awayShape,
  coating: workingTime.optional(),
} satisfies ShapeOf<NonNullable<Boats['cleaning']>>

const breakageShape = {
  share,
  replacedAfter: lastingTime,
} satisfies ShapeOf<NonNullable<Boats['breakage']>>
export const broken = keyed('an object such as { share: "0.05 %", replacedAfter: "24 h" }', breakageShape)

const boatsShape = {
  perTool: whole(1, MOST_HELPERS),
  cooling: lastingTime.optional(),
  cleaning: keyed('an object such as { every: 100, lasts: "2 h" }', cleaningShape).optional(),
  breakage: broken.optional(),
  from: text.optional(),
} satisfies ShapeOf<Boats>
export const boats = keyed('an object such as { perTool: 8, cooling: "20 min" }', boatsShape)

const dummiesShape = { runs: whole(1, 1_000_000), from: text.optional() } satisfies ShapeOf<Dummies>
export const dummies = keyed('an object such as { runs: 50 }', dummiesShape)

const loadCapShape = {
  wafers: whole(1, MOST_WAFERS),
  until: name,
  from: text.optional(),
} satisfies ShapeOf<LoadCap>
export const loadCap = keyed('an object such as { wafers: 20000, until: "oxidation" }', loadCapShape)

const effectShape = { shift: change.optional(), sd: share.optional() } satisfies ShapeOf<Effect>
export const effect = keyed('an object such as { shift: "-0.05 %", sd: "0.05 %" }', effectShape)

const driftShape = {
  until: name,
  loses: share.optional(),
  defects: share.optional(),
} satisfies ShapeOf<Drift>
export const drift = keyed('an object such as { until: "screen change", loses: "0.03 %" }', driftShape)

const heldUpShape = { after: anyTime, loses: share } satisfies ShapeOf<HeldUp>
export const heldUp = keyed('an object such as { after: "30 s", loses: "0.1 %" }', heldUpShape)

const warmUpShape = { after: anyTime, lasts: lastingTime } satisfies ShapeOf<WarmUp>
export const warmUp = keyed('an object such as { after: "2 h", lasts: "45 min" }', warmUpShape)

const LATE = '"scrap", or an object such as { loses: "0.05 %" } or { to: "texture", atMost: 1 }'
const lateWord = leaf(value => (value === 'scrap' ? undefined : { expected: LATE }))
const lateLoss = keyed(LATE, { loses: share })
const lateBack = keyed(LATE, {
  to: name,
  atMost: whole(1, 100),
  then: oneWord('scrap', 'pass').optional(),
})

const timeLimitShape = {
  after: name,
  atMost: anyTime,
  late: choose(value => {
    if (typeof value === 'string') return lateWord
    if (!isPlainObject(value)) return { expected: LATE }
    const key = oneKey(value, ['loses', 'to'])
    if (typeof key !== 'string') return { ...key, expected: LATE }
    return key === 'loses' ? lateLoss : lateBack
  }),
  from: text.optional(),
} satisfies ShapeOf<TimeLimit>
export const timeLimit = keyed(
  'an object such as { after: "texture", atMost: "4 h", late: "scrap" }',
  timeLimitShape,
)
