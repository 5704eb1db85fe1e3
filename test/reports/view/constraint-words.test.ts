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
  // Four runs of a quarter of a day tell little of two steps that jam: one may well hold the line.
  [
    line,
    0.25,
    4,
    /^No step alone 10 % faster is shown to bring more; "(print|test)" may bring .* good cells\/h\. Either/,
  ],
  // Fed with half of what each could do, neither brings a wafer more.
  [
    fed,
    1,
    2,
    /^No step alone 10 % faster brings more: several hold it in turn, or the feed, people or carriers do;/,
  ],
])('%# what is not shown is not denied', async (given, days, replications, text) => {
  const study = await constraintStudy(given, optionsOf({ days, replications }), here())
  expect(study.held.by).toBe('no step shown')
  expect(constraintView(study, context as never).headline[1]).toMatch(text)
})

it('a step that gains next to nothing, and waits, is told to be none', async () => {
  const study = await constraintStudy(line, optionsOf({ days: 0.05, replications: 2 }), here())
  const [best] = study.steps
  const of = (mean: number) => ({ mean, low: mean, high: mean, n: 2 })
  const states = { ...best.states, starved: of(0.7), blocked: of(0.02), off: of(0.1) }
  const step = { ...best, states, gainPerHour: { mean: 2, low: 1, high: 3, n: 2 } }
  const held = { by: 'no step shown', steps: [], waits: best.name }
  const { headline } = constraintView({ ...study, steps: [step], held } as never, context as never)
  expect(headline.join(' ')).toContain('but it waits 80 % of its time. What holds the line is no step')
})

it('two runs of an hour are told to be too few, not what a step may bring', async () => {
  const study = await constraintStudy(line, optionsOf({ days: 0.05, replications: 2 }), here())
  const [best] = study.steps
  const wide = { ...best, gainPerHour: { mean: 0, low: -24_000, high: 24_000, n: 2 } }
  const { headline } = constraintView(
    { ...study, steps: [wide], held: { by: 'no step shown' } } as never,
    context as never,
  )
  expect(headline.join(' ')).toContain(
    'These runs are too few, or too short, to tell which step holds the line',
  )
})
