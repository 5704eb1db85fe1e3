import pc from 'picocolors'
import { expect, it } from 'vitest'
import { stepsCsv } from '../../reports/csv/steps.ts'
import { summary } from '../../reports/terminal/summary.ts'
import { runView } from '../../reports/view/run-view.ts'
import { stepSections } from '../../reports/view/step-sections.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

/** A wafer each 10 s; loads of two instead of four start every 20 s, 4320 a day, with two dummies that last 50 runs. */
const line = checked({
  route: [
    { step: 'in', cycle: '10 s' },
    { buffer: 'store', capacity: 40 },
    {
      step: 'furnace',
      batch: { load: 4, least: 2, longestWait: '5 s', time: '10 s', dummies: { runs: 50 } },
    },
  ],
})

it('dummy wafers are counted by step, and shown', async () => {
  // The window may hold a part of a load more or less.
  const study = await runStudy(line, { ...optionsOf({ replications: 2 }), cap: 2 })
  expect(study.steps[0].dummies).toBeUndefined()
  expect(study.steps[1].dummies?.placesPerDay.mean).toBeCloseTo(2 * 4320, -1)
  expect(study.steps[1].dummies?.wornOutPerDay.mean).toBeCloseTo((2 * 4320) / 50, 0)
  const text = summary(runView(study, { fingerprint: 'x' }), pc.createColors(false))
  expect(text).toMatch(
    /\ndummy wafers in short loads of +places\/day +worn out\/day\nfurnace +8,64\d\S* +172\.8\d*\n/,
  )
  const rows = stepsCsv(study).trim().split('\n')
  expect(rows[1]).toMatch(/,,,,,,$/)
  expect(Number(rows[2].split(',').at(-6))).toBeCloseTo(
    study.steps[1].dummies?.placesPerDay.mean ?? Number.NaN,
    7,
  )
  expect(stepSections(study).find(({ id }) => id === 'yield')?.lead).toMatch(
    / Dummy wafers fill 8,64\d\S* places a day in short loads of furnace, and 172\.8\d* of them a day are worn out\.$/,
  )
})
