import { isPlainObject } from '../base/plain.ts'
import { choose, keyed, oneWord, report, whole } from './schema-parts.ts'
import { MOST_WAFERS } from './schema-values.ts'

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

/** Wafers lost at a stop, or after it: a number, or the least and the most. */
export const lost = choose(value => (Array.isArray(value) ? lostBetween : whole(0, MOST_WAFERS)))
const fateWord = oneWord('resume', 'restart', 'lose', 'run out')
const fateLoss = keyed('an object such as { lose: 2 }', { lose: lost })

/** What becomes of the wafers inside a tool that stops. */
export const fate = choose(value => (isPlainObject(value) ? fateLoss : fateWord))
