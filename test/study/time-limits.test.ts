import { expect, test } from 'vitest'
import { peopleSections } from '../../reports/view/people-sections.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

// By hand: etched one a second, taken one in 2 s; the store of 20 would make them wait 20 s and more, so that
// every other one comes too late: of 3,600/h that come to the step 1,800/h are late, 43,200 a day, and 1,800/h start.
test('late wafers are a share of those that came to the step, also where it started none of them', async () => {
  const timeLimits = [{ after: 'etch', atMost: '10 s', late: 'scrap' }]
  const line = checked({
    route: [
      { step: 'etch', cycle: '1 s' },
      { buffer: 'store', capacity: 20 },
      { step: 'oxide', cycle: '2 s', timeLimits },
    ],
  })
  const study = await runStudy(line, { ...optionsOf({ days: 1, replications: 2 }), cap: 2 })
  const [limit] = study.losses.timeLimits
  expect(limit.share.mean).toBeCloseTo(0.5, 3)
  expect(limit.latePerDay.mean / 43_200).toBeCloseTo(1, 3)
  const section = peopleSections(study).find(({ id }) => id === 'time-limits')
  expect(section?.lead).toContain(
    'as a share of those that came to the second: started there, scrapped or sent back.',
  )
})
