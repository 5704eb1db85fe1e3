import { describe, expect, it } from 'vitest'
import { paybackParts } from '../../../reports/view/answer-pages/payback-page.ts'
import { crewRows } from '../../../reports/view/people-rows.ts'
import { peopleSections } from '../../../reports/view/people-sections.ts'
import { stepRows } from '../../../reports/view/rows.ts'
import { stepSections } from '../../../reports/view/step-sections.ts'
import type { Line } from '../../../sim/line/types.ts'
import type { PaybackStudy, TriedChange, TriedPair } from '../../../sim/study/payback/payback.ts'
import { estimate, states, step, study, studyHead } from '../fixture.ts'

/** Expected values: rounded by hand. */

describe('the words of a run', () => {
  it('have shares of time that add up, however wide their intervals', () => {
    const wide = { ...states(0, 0, 0, 0, 0), productive: estimate(0.446, 0.3), starved: estimate(0.334, 0.2) }
    const shares = { ...wide, blocked: estimate(0.15, 0.11), unscheduledDown: estimate(0.07, 0.12) }
    const [row] = stepRows({ ...study, steps: [step('print', 'single', shares)] })
    const { productive, starved, blocked } = row?.states ?? {}
    expect([productive?.text, starved?.text, blocked?.text, row?.down]).toEqual(['45', '33', '15', '7'])
  })

  const technicians = {
    name: 'technicians',
    kind: 'crew' as const,
    utilisation: estimate(0.3, 0.02),
    byShift: [
      { shift: 'early', heads: 1.9375, utilisation: estimate(0.4, 0.02) },
      { shift: 'night', heads: 0, utilisation: { mean: Number.NaN, n: 0 } },
    ],
    callsPerDay: estimate(9, 0.4),
    waitMinutes: estimate(94.8, 12),
    waitMinutesP95: estimate(364, 21),
  }

  it('give the wait for people alike in the terminal and on the page', () => {
    const crewed = { ...study, crews: [technicians] }
    const [row] = crewRows(crewed)
    const [section] = peopleSections(crewed)
    const [cells = []] = section?.table?.rows ?? []
    expect(row?.waitMinutes).toEqual({ text: '95', interval: '83 to 107' })
    expect(cells.map(({ text }) => text)).toContain('95')
    expect(cells.map(({ text }) => text)).toContain(row?.waitMinutesP95.text)
    expect(section?.chart?.kind === 'bars' && section.chart.ends).toEqual(['wait 95 min'])
  })

  it('say of a shift without a crew that nobody is there, and round heads', () => {
    const [section] = peopleSections({ ...study, crews: [technicians] })
    const texts = section?.table?.rows[0]?.map(({ text }) => text)
    expect(texts).toContain('early: 1.9 present, 40 %; night: nobody')
  })

  it('speak of bold names where there are some', () => {
    const lead = (productive: number) =>
      stepSections({
        ...study,
        steps: [step('print', 'single', states(productive, 1 - productive, 0, 0, 0))],
      })[0]?.lead
    expect(lead(0.99)).toMatch(/limit of the line \(in bold\)\.$/)
    expect(lead(0.5)).toMatch(/limit of the line\.$/)
  })
})

describe('the page of payback', () => {
  const change = (name: string, gain: number): TriedChange => ({
    name,
    kind: 'tool' as TriedChange['kind'],
    changes: [],
    gainPerHour: estimate(gain, 40),
    cashPerYear: estimate(1000, 10),
    verdict: 'shown to pay',
  })
  const pair: TriedPair = {
    first: 'printer',
    second: 'night technician',
    gainPerHour: estimate(372, 130),
    overSum: estimate(0, 10),
    cashPerYear: estimate(1, 10),
    verdict: 'shown to pay',
    worthMoreThanSum: 'no difference shown',
  }
  // In the order of what they are worth.
  const tried: PaybackStudy = {
    ...studyHead,
    window: { cutHours: 0, windowHours: 48 },
    stand: [],
    currency: 'EUR',
    goodPerHour: estimate(2150, 20),
    marginPerYear: estimate(1, 1),
    changes: [change('printer', 130), change('night technician', 302)],
    pairs: [pair],
    ...{ changeLevel: 0.99, pairLevel: 0.99, missing: [] },
  }
  const line: Line = { line: 'two', route: [{ step: 'print', cycle: '2 s' }] }
  const { figures, sections } = paybackParts(tried, line)

  it('names the change that brings most', () => {
    const { label, figure, note } = figures.at(-1) ?? {}
    expect([label, figure?.text, note]).toEqual(['Largest gain', '302', 'night technician, no payback'])
  })

  it('rounds the gain of a pair beside its dot as in the table', () => {
    const { chart, table } = sections.find(({ id }) => id === 'pairs') ?? {}
    const [, gain] = table?.rows[0] ?? []
    expect(chart?.kind === 'ranges' && chart.ends).toEqual([`${gain?.text} in all`])
  })
})
