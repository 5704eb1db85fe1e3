import { describe, expect, it } from 'vitest'
import { runStudy } from '../../sim/study/replicate.ts'
import { warningsOf } from '../../sim/study/warnings.ts'
import { estimate, study } from '../reports/fixture.ts'
import { checked, optionsOf } from './lines.ts'

/** Codes of the warnings where a cell is so long in the line, of a run cut and measured for so long [h]. */
function codes(stay: number, cutHours: number, windowHours: number): string[] {
  const of = estimate(stay, 0.01)
  const throughputHours = { mean: of, median: of, p95: of }
  const warmUp = { cutHours, foundHours: cutHours, windowHours, settled: true }
  return warningsOf({ ...study, throughputHours, warmUp }, [], undefined).map(({ code }) => code)
}

describe('a window that begins before the line is full', () => {
  it('is told, unless it is long', () => {
    expect(codes(3, 1.5, 22)).toEqual(['early window'])
    expect(codes(3, 3, 21)).toEqual([])
    expect(codes(3, 1.5, 160)).toEqual([])
    expect(codes(3, 1.5, 8)).toEqual(['short window'])
  })
})

async function warned(route: readonly object[], days: number, replications = 10, seed = 'warned') {
  const line = checked({ route })
  const { warnings } = await runStudy(line, { ...optionsOf({ days, replications, seed }), cap: replications })
  return warnings.map(({ code, text, hint }) => `${code}: ${text} ${hint}`)
}

/** A tool of 360 cells/h that stops now and then. */
const tool = (...stops: readonly object[]) => [{ step: 'print', cycle: '10 s', stops }]

describe('runs that are better than the line', () => {
  it('are told where it cannot make as much on paper', async () => {
    // 10 000 cells in 27.8 h and 4 h: 314.7 in the long run; in 48 h one such stop comes, 44 x 360 / 48 = 330.
    const overhaul = { stop: 'overhaul', counts: 'wafers', every: 10_000, lasts: '4 h' }
    expect(await warned(tool(overhaul), 2)).toEqual([
      'above paper: The line made 330 good cells/h, but on paper "print" allows 314.7 in the long run: stops that are rare, or whose clocks start with the run, have come less often than they will. Run more days, or let such stops begin at random ("first").',
    ])
    expect(await warned(tool(overhaul), 40)).toEqual([])
    // 18 000 an hour: 44 h of 48.
    const fast = [{ step: 'print', cycle: '0.2 s', stops: [{ ...overhaul, every: 500_000 }] }]
    expect((await warned(fast, 2, 2)).join()).toContain(
      'made 16500 good cells/h, but on paper "print" allows 15730',
    )
  })

  it('are told where the warm-up that was cut may have been stops', async () => {
    const rare = {
      stop: 'rare',
      counts: 'calendar time',
      every: { exponential: '30 h' },
      lasts: { exponential: '3 h' },
    }
    const told = await Promise.all(
      Array.from({ length: 20 }, (_, seed) => warned(tool(rare), 4, 3, `rare ${seed}`)),
    )
    const lucky = told.flat().filter(text => text.startsWith('lucky cut'))
    expect(lucky.length).toBeGreaterThan(2)
    expect(lucky.length).toBeLessThan(18)
    expect(lucky[0]).toMatch(
      /far longer than the 10 s in which 95 % .* With all but the first 50 s the line makes 3\d\d/,
    )
    expect(
      (await warned(tool({ ...rare, every: { exponential: '1 h' }, lasts: '6 min' }), 10)).join(),
    ).not.toContain('lucky')
  })

  it('are told by what never came in them', async () => {
    const years = (stop: string) => ({
      stop,
      every: { exponential: '90000 h' },
      lasts: '9 h',
    })
    expect(
      await warned(tool(years('flood'), { ...years('dry'), every: undefined, afterIdle: '20 h' }), 2),
    ).toEqual([
      'stops never came: In what was measured "flood" of "print" never came: what it costs is in no figure. Run more days or replications.',
    ])
    expect((await warned(tool(...['a', 'b', 'c', 'd', 'e'].map(years)), 2)).join()).toContain(
      '"a" of "print", "b" of "print", "c" of "print" and 2 more never came: what they cost is in no figure.',
    )
  })
})

it('a week that cannot be cut is told', async () => {
  // The store fills for more than a day: 2400 an hour come, 2000 go.
  const told = await warned(
    [
      { step: 'etch', cycle: '1.5 s' },
      { buffer: 'store', capacity: 30_000 },
      { step: 'test', cycle: '1.8 s', stops: [{ stop: 'service', at: ['Mon 08:00'], lasts: '10 min' }] },
      { conveyor: 'way', transit: '20 h', capacity: 90_000 },
      { step: 'pack', cycle: '1 s' },
    ],
    7,
    2,
  )
  expect(told.join()).toMatch(
    /^early window: .* good output may read too low while more wafers start than leave\. Run more days: MSER-5 would cut \d+\.\d h, but of this line only whole days or weeks are alike, and at most half of a run is cut\.$/,
  )
})
