import {
  keyed,
  listOf,
  measured,
  name,
  namedMap,
  quantityGauge,
  report,
  type ShapeOf,
  text,
  whole,
} from './schema-parts.ts'
import { lastingTime } from './schema-spread.ts'
import { MOST_HELPERS, MOST_WAFERS, share } from './schema-values.ts'
import type { Bins, Boxes } from './types.ts'

/** What the last test sorts into. */

/** More bins than any sorter has. */
const MOST_BINS = 1000

const swapShape = {
  lasts: lastingTime,
  skill: name.optional(),
  people: whole(1, MOST_HELPERS).optional(),
  priority: whole(-1000, 1000).optional(),
} satisfies ShapeOf<Boxes['swap']>

const FROM_TO = 'the first and the last bin with outputs of their own, as in [5, 15]'

const fromTo = listOf(FROM_TO, whole(1, MOST_BINS)).check(context => {
  const [first, last] = context.value as readonly number[]
  if (context.value.length !== 2 || first > last)
    report(context, { expected: FROM_TO, found: JSON.stringify(context.value) })
})

const boxesShape = {
  at: name.optional(),
  holds: whole(1, MOST_WAFERS),
  perOutput: whole(1, 100).optional(),
  ownBins: fromTo.optional(),
  swap: keyed('an object such as { lasts: "20 s", skill: "operators" }', swapShape),
  from: text.optional(),
} satisfies ShapeOf<Boxes>

const binsShape = {
  first: share,
  width: measured(quantityGauge('share'), { least: 1e-6, most: 1 }),
  count: whole(1, MOST_BINS),
  colours: namedMap(
    'an object with the share of each colour, such as { light: "40 %", dark: "60 %" }',
    share,
  ).optional(),
  boxes: keyed('an object such as { holds: 100, swap: { lasts: "20 s" } }', boxesShape).optional(),
  from: text.optional(),
} satisfies ShapeOf<Bins>

export const bins = keyed('an object such as { first: "22 %", width: "0.1 %", count: 15 }', binsShape)
