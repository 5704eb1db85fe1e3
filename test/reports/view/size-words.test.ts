import pc from 'picocolors'
import { describe, expect, it } from 'vitest'
import { answerText } from '../../../reports/terminal/answer.ts'
import { sizeParts } from '../../../reports/view/answer-pages/size-page.ts'
import { sizeView } from '../../../reports/view/answers/size-view.ts'
import type { SizeStudy } from '../../../sim/study/size/size.ts'
import { checked } from '../../study/lines.ts'
import { estimate, studyHead } from '../fixture.ts'

/** Regression only: sentences as a reader found them right. */

const context = { fingerprint: 'abc' }
const line = checked({
  crews: { fitters: { heads: 1 } },
  route: [
    { step: 'print', tools: 3, cycle: '4 s' },
    { buffer: 'magazine', capacity: 60 },
    { group: 'hall', lanes: ['a', 'b'], each: [{ step: 'test', cycle: '3 s' }] },
  ],
})

const study: SizeStudy = {
  ...{ ...studyHead, replications: 2, days: 1 },
  currency: 'EUR',
  years: 7,
  discountRate: 0.085,
  targetPerHour: 2600,
  tolerance: 13,
  chosen: {
    numbers: [{ name: 'print: tools', value: 3 }],
    changes: [],
    investment: 1,
    wholeLife: 2,
    floor: 0,
    goodPerHour: estimate(2612, 14, 8),
    verdict: 'reaches',
  },
  chosenLine: line,
  window: { cutHours: 2.88, windowHours: 21.12 },
  tried: [],
  leftOut: [],
  atEnds: [],
  ...{
    designs: 36,
    designsRun: 13,
    runs: 146,
    complete: true,
    largestPerHour: 3000,
    limits: [],
    unpriced: [],
  },
}

const basis = (more: Partial<SizeStudy>) => sizeView({ ...study, ...more }, context).basis
const notes = (more: Partial<SizeStudy>) => sizeView({ ...study, ...more }, context).notes

describe('a sizing in words', () => {
  it('says what of the runs was measured', () => {
    expect(basis({})).toContain('Of each fresh run the first 2.88 h are cut as warm-up and 21.1 h measured.')
    const whole = { cutHours: 0, windowHours: 24 }
    expect(basis({ window: whole })).toContain('Of each fresh run no warm-up is cut and 24 h measured.')
    const { chosen: _none, ...missed } = study
    expect(sizeView({ ...missed, window: whole }, context).basis).toContain(
      'Of each run of the largest design no warm-up is cut and 24 h measured.',
    )
  })

  it('says where one less of a kind is not shown to make less, and what to do then', () => {
    const leftOut = [
      { name: 'print: tools 2', gainPerHour: estimate(-400, 30, 4) },
      { name: 'magazine: capacity 30', gainPerHour: estimate(-2, 30, 4) },
    ]
    const [, table] = sizeView({ ...study, leftOut }, context).tables
    expect(table?.rows.map(row => row.at(-1))).toEqual(['', 'no difference shown'])
    const said = (parts: SizeStudy['leftOut']) => notes({ leftOut: parts }).join(' ').includes('"compare"')
    expect([said(leftOut), said(leftOut.slice(0, 1)), said([])]).toEqual([true, false, false])
    const [, section] = sizeParts({ ...study, leftOut }, line).sections
    expect(section?.lead).toContain(
      'Where no difference is shown one less may be enough: try it with "compare"',
    )
    const text = answerText(sizeView({ ...study, leftOut }, context), pc.createColors(false))
    for (const row of text.split('\n')) expect(row.length).toBeLessThanOrEqual(80)
  })

  it('says where it went as far as it may', () => {
    const heads = { name: 'fitters: heads', value: 2, end: 'least' } as const
    const places = { name: 'magazine: capacity', value: 1200 }
    const one = 'fitters: heads 2 is the least that "sizing" allows; fewer was not tried.'
    expect(notes({ atEnds: [heads] })[0]).toBe(one)
    expect(notes({ atEnds: [heads, { ...places, end: 'most' }] }).slice(0, 2)).toEqual([
      one,
      'magazine: capacity 1,200 is the most that "sizing" allows; more was not tried.',
    ])
    expect(notes({ atEnds: [heads, { ...places, end: 'least' }] })[0]).toBe(
      'fitters: heads 2 and magazine: capacity 1,200 are the least that "sizing" allows; fewer was not tried.',
    )
    expect(sizeParts({ ...study, atEnds: [heads] }, line).sections[0]?.lead).toContain(one)
  })

  it('says what is in the cost over the life', () => {
    const costs = (more: Partial<SizeStudy>) => notes(more).find(note => note.startsWith('The cost over'))
    expect(costs({})).toBe(
      'The cost over its life is that of all tools of the line, new or not, with their installation, and of all ' +
        'buffer places, and of upkeep, power and wages in 7 years, discounted at 8.5 %. No wafers, materials or parts are in it.',
    )
    expect(costs({ years: 1, discountRate: 0 })).toContain('wages in 1 year, not discounted. No wafers')
    const { years: _none, ...open } = study
    const said = sizeView(open, context).notes.find(note => note.startsWith('The cost over'))
    expect(said).toContain('buffer places: money has no "years" over which upkeep, power and wages count.')
    expect(sizeParts(open, line).figures[1]?.note).toBe('tools and places; no wafers or materials')
  })
})

describe('the picture of a sizing', () => {
  const pictured = (...changes: string[]) => {
    const chosen = { ...study.chosen, changes } as NonNullable<SizeStudy['chosen']>
    const picture = sizeParts({ ...study, chosen }, line).picture
    const marks = picture?.items.flatMap(item =>
      item.kind === 'group' ? item.lanes.flatMap(lane => lane.items) : [item],
    )
    const marked = marks?.flatMap(item =>
      item.kind !== 'group' && item.mark === 'marked' ? [item.name] : [],
    )
    return { marked, legend: picture?.markMeans, words: picture?.words ?? '' }
  }

  it('marks the steps and stores that were changed', () => {
    const { marked, legend, words } = pictured('print: tools 2 -> 3', 'magazine: capacity 10 -> 60')
    expect([marked, legend]).toEqual([['print', 'magazine'], 'changed in the chosen design'])
    expect(words).toContain('Marked as changed in the chosen design: print, magazine.')
    expect(pictured('hall: lanes [a] -> [a, b]').marked).toEqual(['test', 'test'])
  })

  it('has no legend of marks where nothing that is drawn was changed', () => {
    for (const { marked, legend, words } of [pictured(), pictured('fitters: heads 2 -> 1')]) {
      expect([marked, legend]).toEqual([[], undefined])
      expect(words).not.toContain('Marked')
    }
  })
})
