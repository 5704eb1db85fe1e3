import { describe, expect, it } from 'vitest'
import { compareFiles } from '../../../reports/csv/answers/answer-files.ts'
import { compareParts } from '../../../reports/view/answer-pages/compare-page.ts'
import { compareView } from '../../../reports/view/answers/compare-view.ts'
import { paybackView } from '../../../reports/view/answers/payback-view.ts'
import { sizeView } from '../../../reports/view/answers/size-view.ts'
import type { Line } from '../../../sim/line/types.ts'
import type { CompareStudy, Pair } from '../../../sim/study/compare/compare.ts'
import type { Shown } from '../../../sim/study/designs/verdict.ts'
import type { PaybackStudy, TriedPair } from '../../../sim/study/payback/payback.ts'
import type { SizeStudy, TriedDesign } from '../../../sim/study/size/size.ts'
import { estimate, studyHead } from '../fixture.ts'

/** Regression only: sentences as a reader found them right. */

const twoSteps: Line = {
  line: 'two steps',
  route: [
    { step: 'first', cycle: '1 s' },
    { step: 'second', cycle: '1 s' },
  ],
}

const context = { fingerprint: 'abc' }

describe('a comparison in words', () => {
  const pair = (second: string, gain: number, half: number): Pair => ({
    first: 'a',
    second,
    gainPerHour: estimate(gain, half, 4),
    verdict: gain - half > 0 ? 'more' : 'no difference shown',
    changes: [],
  })
  const study = (pairs: readonly Pair[], hours: number, more: Partial<CompareStudy> = {}): CompareStudy => ({
    ...studyHead,
    window: { cutHours: 0, windowHours: 72 },
    stand: [],
    designs: ['a', 'b', 'c'].map(name => ({
      name,
      goodPerHour: estimate(3000, 100, 4),
      wip: estimate(20, 1, 4),
      throughputHours: estimate(hours, hours / 100, 4),
    })),
    pairs,
    pairLevel: 0.98,
    best: ['c', 'a', 'b'],
    ...more,
  })

  it.each([
    ['before the line has filled', { cutHours: 7.68, windowHours: 400, stayHours: 14.2 }, true],
    ['as it has, to a rounding', { cutHours: 14.19, windowHours: 40, stayHours: 14.2 }, false],
    ['after it has', { cutHours: 15, windowHours: 40, stayHours: 14.2 }, false],
    ['before, of fifty times that length', { cutHours: 7.68, windowHours: 711, stayHours: 14.2 }, false],
    ['of a line that makes nothing', { cutHours: 0, windowHours: 40 }, false],
  ])('says when what is measured begins %s', (_, window, early) => {
    const { basis } = compareView(study([pair('b', 10, 130)], 14, { window }), context)
    const text =
      'A cell spends about 14 h in the line, and what is measured begins 7.7 h after the start of an empty one: longer runs (--days) may judge otherwise.'
    expect(basis.includes(text)).toBe(early)
  })

  it.each([
    ['most of which it fills', { cutHours: 7.68, windowHours: 40, stayHours: 14.2 }, true],
    ['of which it fills for a twentieth', { cutHours: 4.2, windowHours: 200, stayHours: 14.2 }, false],
    ['after it has filled', { cutHours: 15, windowHours: 40, stayHours: 14.2 }, false],
  ])('warns of a window %s', (_, window, warned) => {
    const { warnings, basis } = compareView(study([pair('b', 10, 130)], 14, { window }), context)
    expect(warnings.map(({ text }) => text)).toEqual(
      warned
        ? [
            'The line was still filling: a cell spends about 14 h in it, and the 40 h measured begin 7.7 h after the start of an empty one, so its output may read too low.',
          ]
        : [],
    )
    if (warned) expect(basis.join()).not.toContain('A cell spends')
  })

  it.each([
    ['one currency, in the head', ['EUR', 'EUR', undefined], 'EUR a year', undefined],
    ['several, beside the amounts', ['EUR', 'USD', undefined], 'a year', ['EUR', 'USD', '']],
  ])('counts margins in %s', (_, currencies, unit, column) => {
    const plain = study([pair('b', 10, 130)], 14)
    const designs = plain.designs.map((design, d) => {
      const currency = currencies[d]
      return currency === undefined ? design : { ...design, marginPerYear: estimate(1e6, 1e4), currency }
    })
    const { table } = compareParts({ ...plain, designs }, twoSteps).sections[0]
    const at = (head: string) => table?.columns.findIndex(one => one.head === head) ?? -1
    expect(table?.columns[at('margin')].unit).toBe(unit)
    expect(at('currency') < 0 ? undefined : table?.rows.map(row => row[at('currency')].text)).toEqual(column)
    const [head, ...rows] = compareFiles({ ...plain, designs })[0]
      .text.trim()
      .split('\n')
    const heads = head.replace(/"[^"]*"/g, 'a head with a comma').split(',')
    expect(rows.map(row => row.split(',')[heads.indexOf('currency')])).toEqual(
      currencies.map(one => one ?? ''),
    )
  })

  it('that shows no difference says how large one could be', () => {
    const { headline } = compareView(study([pair('b', 10, 130), pair('c', 70, 200)], 1), context)
    expect(headline).toEqual([
      'No difference shown between "c", "a" and "b".',
      'One of less than about 200 cells/h would not show in 4 replications of 3 days.',
    ])
    expect(compareView(study([pair('b', 300, 130)], 1), context).headline).toHaveLength(1)
  })

  it.each([
    [0.0065, 's in line', '23.40'],
    [0.075, 'min in line', '4.500'],
    [4.4, 'h in line', '4.400'],
  ])('gives %d h in the line in a unit that can be read', (hours, unit, text) => {
    const [table] = compareView(study([pair('b', 300, 130)], hours), context).tables
    expect(table?.columns.at(-1)?.head).toBe(unit)
    // Two digits of the half-width, two decimals at most.
    expect(Number(table?.rows[0]?.at(-1))).toBe(Number(text))
  })

  it('says that a plan made of few replications asks for too many', () => {
    const plan = { worth: 15, replications: 1078, probability: 0.95 }
    const few = compareView(study([pair('b', 10, 130)], 1, { plan }), context).notes.at(-1)
    expect(few).toContain(
      ': 1,078 replications of each (Rinott 1978); judged by 4 only, that number is large',
    )
    const many = compareView(study([pair('b', 10, 130)], 1, { plan, replications: 10 }), context)
    expect(many.notes.at(-1)).toMatch(/1,078 replications of each \(Rinott 1978\)\.$/)
  })
})

describe('a sizing in words', () => {
  const tried = (magazine: number, n: number): TriedDesign => ({
    numbers: [
      { name: 'print: tools', value: 3 },
      { name: 'magazine: capacity', value: magazine },
    ],
    changes: ['print: tools 2 -> 3', `magazine: capacity 10 -> ${magazine}`],
    investment: 1,
    wholeLife: 2,
    floor: 0,
    goodPerHour: estimate(2612, 14, n),
    verdict: 'reaches',
  })
  const chosen = tried(60, 8)
  const study: SizeStudy = {
    ...{ ...studyHead, replications: 2, days: 1 },
    currency: 'EUR',
    targetPerHour: 2600,
    tolerance: 13,
    chosen,
    tried: [chosen, tried(1200, 20)],
    leftOut: [],
    atEnds: [],
    designs: 36,
    designsRun: 13,
    runs: 146,
    complete: true,
    largestPerHour: 3000,
    limits: [],
    guarantee: '',
    unpriced: [],
  }

  it('tells designs apart by what is not as in the chosen one', () => {
    const table = sizeView(study, context).tables[1]
    expect(table?.columns[0]?.head).toBe('against the chosen')
    expect(table?.rows.map(([name]) => name)).toEqual(['the chosen design', 'magazine: capacity 1,200'])
  })

  it('names the changes where none was chosen', () => {
    const { chosen: _none, ...missed } = study
    const table = sizeView(missed, context).tables[0]
    expect(table?.rows[0]?.[0]).toBe('print: tools 2 -> 3; magazine: capacity 10 -> 60')
  })

  it('says of what is missed what the largest is, and what holds it on paper', () => {
    const { chosen: _none, ...missed } = study
    const largest = { numbers: [{ name: 'print: tools', value: 3 }], heldBy: 'print', paperPerHour: 2512.6 }
    const said = (heldBy: string) =>
      sizeView({ ...missed, largest: { ...largest, heldBy } }, context).headline[1]
    expect(said('print')).toBe(
      'The largest is print: tools 3; on paper "print" allows it 2,513 good cells/h.',
    )
    expect(said('the feed')).toContain('on paper the feed allows it')
  })

  it('names no limit that was not given', () => {
    const { chosen: _none, ...rest } = study
    const headline = (limits: SizeStudy['limits']) =>
      sizeView({ ...rest, tried: [], limits }, context).headline[0]
    expect(headline([])).toBe(
      'No design was found that reaches 2,600 cells/h, though with all numbers at their highest the line makes about 3,000 in short runs.',
    )
    expect(headline(['budget'])).toMatch(
      /^No design within the budget reaches 2,600 cells.h: .* which goes beyond it,/,
    )
    expect(headline(['floor area', 'budget'])).toContain('within the floor area and the budget reaches')
  })

  it('says on how many runs search and selection rest', () => {
    expect(sizeView(study, context).basis[1]).toBe(
      '2 replications of 1 day of each design in the search, 8 to 20 fresh ones of each that came to the selection; common random streams.',
    )
  })
})

describe('a payback in words', () => {
  it.each([
    [5, 'pays back in 12 years (11 to 13), longer than the 5 of its use'],
    [15, 'pays back in 12 years (11 to 13)'],
    [undefined, 'pays back in 12 years (11 to 13)'],
  ])('of 12 years, for a use of %s', (years, text) => {
    const change: PaybackStudy['changes'][number] = {
      ...{ name: 'print +1', kind: 'tool', changes: [], verdict: 'not shown to pay', investment: 1000 },
      gainPerHour: estimate(100, 10),
      cashPerYear: estimate(80, 8),
      paybackYears: estimate(12, 1),
    }
    const study: PaybackStudy = {
      ...{ ...studyHead, stand: [], window: { cutHours: 0, windowHours: 72 }, currency: 'EUR' },
      ...(years !== undefined && { years }),
      goodPerHour: estimate(3000, 10),
      marginPerYear: estimate(3000, 10),
      changes: [change],
      pairs: [],
      ...{ changeLevel: 0.99, pairLevel: 0.99, missing: [] },
    }
    expect(paybackView(study, context, twoSteps).items[0]?.lines[1]).toBe(`costs 1,000 EUR, ${text}`)
  })
})

describe('pairs of changes in words', () => {
  it('are more, less or not shown to be other than their sum, without a double minus', () => {
    const pair = (mean: number, worthMoreThanSum: Shown): TriedPair => ({
      ...{ first: 'a', second: 'b', verdict: 'not shown to pay', worthMoreThanSum },
      gainPerHour: estimate(100, 10),
      overSum: estimate(mean, 10),
      cashPerYear: estimate(1000, 100),
    })
    const study: PaybackStudy = {
      ...{ ...studyHead, stand: [], window: { cutHours: 0, windowHours: 72 }, currency: 'EUR' },
      goodPerHour: estimate(3000, 10),
      marginPerYear: estimate(3000, 10),
      changes: [],
      pairs: [pair(30, 'more'), pair(-30, 'less'), pair(-3, 'no difference shown')],
      ...{ changeLevel: 0.99, pairLevel: 0.99, missing: [] },
    }
    expect(paybackView(study, context, twoSteps).items.map(({ lines }) => lines[0]?.split(', ')[1])).toEqual([
      'more than the sum of both by 30 (20 to 40)',
      'less than the sum of both by 30 (20 to 40)',
      'no difference to the sum of both shown: -3 (-13 to 7)',
    ])
  })
})
