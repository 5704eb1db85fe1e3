import { describe, expect, it } from 'vitest'
import { courseSections } from '../../reports/view/course-sections.ts'
import { runView } from '../../reports/view/run-view.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

const options = { ...optionsOf({ replications: 3 }), cap: 3 }
const wafer = { area: '330 cm2', efficiency: { mean: '23.2 %', sd: '0.2 %' } }
const edges = { first: '23 %', width: '0.2 %', count: 2 }

/** A tester of 10 s: 8640 cells a day. */
const sorting = (bins: object) =>
  checked({ wafer, bins: { ...edges, ...bins }, route: [{ step: 'test', cycle: '10 s', test: {} }] })

describe('cells by bin and colour', () => {
  it('are given for each bin, and add up to it', async () => {
    const colours = { light: '25 %', dark: '75 %' }
    const { bins } = await runStudy(sorting({ colours }), options)
    expect(bins.map(({ bin, from, to }) => [bin, from, to])).toEqual([
      [0, undefined, 0.23],
      [1, 0.23, expect.closeTo(0.232, 12)],
      [2, expect.closeTo(0.232, 12), undefined],
    ])
    expect(bins[0].colours).toBeUndefined()
    for (const { share, colours: parts = [] } of bins.slice(1)) {
      expect(parts.map(({ colour }) => colour)).toEqual(['light', 'dark'])
      expect(parts[0].share.mean + parts[1].share.mean).toBeCloseTo(share.mean, 12)
      // Binomial, about 3 x 4300 / 2 cells: 4 standard deviations are 2 %.
      expect(Math.abs(parts[0].share.mean / share.mean - 0.25)).toBeLessThan(0.025)
    }
    // Half of a normal law is above its mean, 15.87 % below one standard deviation under it (normal table).
    expect(Math.abs(bins[2].share.mean - 0.5)).toBeLessThan(0.02)
    expect(Math.abs(bins[0].share.mean - 0.1587)).toBeLessThan(0.015)
  })

  it('have no colours where none are sorted, and no boxes where there are none', async () => {
    const study = await runStudy(sorting({}), options)
    expect(study.bins.map(({ colours }) => colours)).toEqual([undefined, undefined, undefined])
    expect('boxes' in study).toBe(false)
  })
})

describe('boxes', () => {
  it('are counted, and the time for which full ones hold the testers', async () => {
    // All cells into one output. Swapped for 15 s after each third cell, so the cell that is tested 10 s later is held for 5 s:
    // three cells in 35 s.
    const line = sorting({
      ...{ first: '10 %', width: '20 %', count: 1 },
      boxes: { holds: 3, perOutput: 1, swap: { lasts: '15 s' } },
    })
    const study = await runStudy(line, options)
    expect(study.boxes?.outputs).toBe(2)
    expect(study.boxes?.swapsPerDay.mean).toBeCloseTo(86_400 / 35, -1)
    expect(study.boxes?.heldHoursPerDay.mean).toBeCloseTo((24 * 5) / 35, 2)
    expect(study.steps[0].states.blocked.mean).toBeCloseTo(5 / 35, 3)
    const { facts } = runView(study, { fingerprint: 'x' })
    expect(facts.slice(-2).map(({ label, unit }) => [label, unit])).toEqual([
      ['Boxes swapped', 'boxes/day'],
      ['Held by full boxes', 'tool-h/day'],
    ])
  })

  it('are told of beside the bins', async () => {
    const boxes = { holds: 100, swap: { lasts: '20 s' } }
    const study = await runStudy(sorting({ colours: { light: '25 %', dark: '75 %' }, boxes }), options)
    const bins = courseSections(study).find(({ id }) => id === 'bins')
    expect(bins?.lead).toMatch(/Each sorter has 5 outputs; \d+ full boxes are swapped a day/)
    expect(bins?.table?.columns.map(({ head }) => head)).toEqual([
      'bin',
      'efficiency',
      'share of cells',
      'light',
      'dark',
    ])
    // The box below the lowest bin has all colours.
    expect(bins?.table?.rows[0].slice(3).map(({ value }) => value)).toEqual([undefined, undefined])
  })
})
