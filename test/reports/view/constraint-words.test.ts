import { expect, it } from 'vitest'
import { constraintView } from '../../../reports/view/answers/constraint-view.ts'
import { constraintStudy } from '../../../sim/study/constraint/constraint.ts'
import { checked, here, optionsOf } from '../../study/lines.ts'

const context = { fingerprint: 'abc', command: 'linewright constraint x.ts', file: 'x.ts' }

const stop = { stop: 'jam', every: { exponential: '30 min' }, lasts: { exponential: '10 min' } }
const line = checked({
  route: [
    { step: 'print', cycle: '2 s', stops: [stop] },
    { buffer: 'store', capacity: 50 },
    { step: 'test', cycle: '2 s', stops: [stop] },
  ],
})
const fed = checked({
  feed: { rate: '900 wafers/h' },
  route: [
    { step: 'print', cycle: '2 s' },
    { step: 'test', cycle: '2 s' },
  ],
})

it.each([
  // Two runs of a quarter of a day tell nothing of two steps that jam: one may well hold the line.
  [
    line,
    0.25,
    /^No step alone 10 % faster is shown to bring more; "(print|test)" may bring .* good cells\/h\. Either/,
  ],
  // Fed with half of what each could do, neither brings a wafer more.
  [
    fed,
    1,
    /^No step alone 10 % faster brings more: several hold it in turn, or the feed, people or carriers do;/,
  ],
])('%# what is not shown is not denied', async (given, days, text) => {
  const study = await constraintStudy(given, optionsOf({ days, replications: 2 }), here())
  expect(study.held.by).toBe('no step shown')
  expect(constraintView(study, context as never).headline[1]).toMatch(text)
})
