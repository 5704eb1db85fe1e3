import { describe, expect, it } from 'vitest'
import { type PricedLine, paybackStudy } from '../../sim/study/payback/payback.ts'
import { checked, here, optionsOf } from './lines.ts'

/** Cells of 1 EUR, wafers for nothing: what is left to tell is what one step adds to each wafer it starts. */
async function addedAYear(step: string, ...route: object[]): Promise<number> {
  const money = { currency: 'EUR', pricePerCell: 1, wafer: 0, addedPerWafer: { [step]: 0.1 } }
  const line = checked({ route, money: { ...money, hoursPerYear: 1000 } }) as PricedLine
  const { marginPerYear, goodPerHour } = await paybackStudy(
    line,
    optionsOf({ days: 1, replications: 2 }),
    here(),
  )
  return goodPerHour.mean * 1000 - marginPerYear.mean
}

const ETCH = { step: 'etch', cycle: '1 s' }
const lateAfterEtch = (late: string | object) => ({
  step: 'oxide',
  cycle: '2 s',
  timeLimits: [{ after: 'etch', atMost: '10 s', late }],
})
const STORE = { buffer: 'store', capacity: 20 }
const lanesOf = (cycle: string, last: object) => ({
  group: 'lanes',
  split: 'in turn',
  lanes: {
    old: [
      { buffer: 'rack', capacity: 10 },
      { step: 'first', cycle },
    ],
    new: [
      { buffer: 'shelf', capacity: 10 },
      { step: 'second', cycle, ...last },
    ],
  },
})

// By hand: so many starts an hour at 0.1 EUR in 1,000 hours. What the line holds at the end or the start
// of the day is some 50 wafers at most, 2/h or 200 EUR.
describe('what a step adds costs each of its starts', () => {
  it('those of wafers that are sent back since they came too late, too', async () => {
    // Etched 3,600/h, of which the next step takes 1,800/h; the others come back once.
    const added = await addedAYear(
      'etch',
      ETCH,
      STORE,
      lateAfterEtch({ to: 'etch', atMost: 1, then: 'pass' }),
    )
    expect(Math.abs(added - 360_000)).toBeLessThan(200)
  })

  it('but not wafers that the step has scrapped before it started them', async () => {
    // Etched 3,600/h; the next step starts 1,800/h, all good, and scraps as many that have waited too long.
    expect(Math.abs((await addedAYear('oxide', ETCH, STORE, lateAfterEtch('scrap'))) - 180_000)).toBeLessThan(
      200,
    )
    expect(Math.abs((await addedAYear('etch', ETCH, STORE, lateAfterEtch('scrap'))) - 360_000)).toBeLessThan(
      200,
    )
  })

  it('those of wafers lost in lanes that differ, too', async () => {
    // 3,600/h etched, half of them for each lane; a half of the one half is rejected.
    const rejected = await addedAYear('etch', ETCH, lanesOf('2 s', { reject: '50 %' }))
    expect(Math.abs(rejected - 360_000)).toBeLessThan(200)
  })

  it('those of wafers that come back from lanes that differ, too', async () => {
    // Two lanes of 900/h take 1,800/h, among them those that come back from one of them.
    const again = { rework: { share: '50 %', to: 'etch', atMost: 1, then: 'pass' } }
    const reworked = await addedAYear('etch', { buffer: 'stack', capacity: 20 }, ETCH, lanesOf('4 s', again))
    expect(Math.abs(reworked - 180_000)).toBeLessThan(200)
  })
})
