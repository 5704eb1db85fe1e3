import { describe, expect, it } from 'vitest'
import { paybackParts } from '../../../reports/view/answer-pages/payback-page.ts'
import { paybackView } from '../../../reports/view/answers/payback-view.ts'
import type { Line, Money } from '../../../sim/line/types.ts'
import type { PaybackStudy, TriedChange, TriedPair } from '../../../sim/study/payback/payback.ts'
import { estimate, studyHead } from '../fixture.ts'

/** Regression only: sentences as a reader found them right. */

const context = { fingerprint: 'abc' }
const MONEY: Money = { currency: 'EUR', pricePerCell: 0.48, wafer: 0.27 }
const lineOf = (money: object = {}, more: object = {}): Line => ({
  line: 'two',
  route: [{ step: 'print', cycle: '2 s' }],
  money: { ...MONEY, ...money },
  ...more,
})

/** A change of which nothing is shown. */
const nothing: TriedChange = {
  ...{ name: 'store for 20 wafers', kind: 'buffer', changes: [], verdict: 'no difference shown' },
  ...{ gainPerHour: estimate(0.5, 2), cashPerYear: estimate(600, 2700), investment: 15_000 },
  paybackYears: { mean: 26, low: 4.6, n: 10 },
  ...{ npv: estimate(-12_000, 14_000), internalRate: { mean: -0.25, n: 10 } },
}
const pays: TriedChange = {
  ...{ name: 'one more tool of print', kind: 'tool', changes: [], verdict: 'shown to pay' },
  ...{ gainPerHour: estimate(300, 30), cashPerYear: estimate(300_000, 30_000), investment: 600_000 },
  ...{ paybackYears: estimate(2, 0.2), npv: estimate(500_000, 100_000), internalRate: estimate(0.4, 0.1) },
}

const studyOf = (changes: readonly TriedChange[], pairs: readonly TriedPair[] = []): PaybackStudy => ({
  ...{ ...studyHead, stand: [], window: { cutHours: 0, windowHours: 72 }, currency: 'EUR', years: 7 },
  ...{ goodPerHour: estimate(3000, 10), marginPerYear: estimate(3000, 10) },
  ...{ changes, pairs, changeLevel: 0.99, pairLevel: 0.99, missing: [] },
})
const linesOf = (change: TriedChange) =>
  paybackView(studyOf([change]), context, lineOf()).items[0]?.lines.slice(1)
const rowOf = (change: TriedChange) => {
  const { columns = [], rows = [] } =
    paybackParts(studyOf([change]), lineOf()).sections.find(({ id }) => id === 'gains')?.table ?? {}
  const at = (head: string) => rows[0]?.[columns.findIndex(column => column.head === head)]?.text
  return [at('payback'), at('net present value'), at('internal rate')]
}

describe('a change of which no difference is shown', () => {
  it('keeps its price, and has no years, worth or rate, in words as on the page', () => {
    expect(linesOf(nothing)).toEqual(['costs 15,000 EUR; no payback is shown'])
    expect(rowOf(nothing)).toEqual(['–', '–', '–'])
    expect(linesOf({ ...nothing, verdict: 'no difference in any run' })).toEqual([
      'costs 15,000 EUR; no payback is shown',
    ])
  })

  it('keeps the loss by which it is shown not to pay', () => {
    const loss: TriedChange = { ...nothing, verdict: 'shown not to pay', npv: estimate(-90_000, 14_000) }
    expect(linesOf(loss)).toEqual([
      'costs 15,000 EUR; no payback is shown',
      'net present value -90,000 (-104,000 to -76,000) EUR',
    ])
    expect(rowOf(loss)).toEqual(['–', '-90,000', '–'])
  })

  it('is not worth anything that is shown, without a price', () => {
    const { investment: _price, paybackYears: _years, npv: _npv, internalRate: _rate, ...rest } = nothing
    expect(linesOf({ ...rest, worth: estimate(3000, 14_000) })).toEqual(['no worth is shown; no price given'])
  })

  it('has all of them where cash is shown without cells', () => {
    const saves: TriedChange = {
      ...nothing,
      cashPerYear: estimate(6000, 2700),
      paybackYears: estimate(2.5, 1),
    }
    expect(linesOf(saves)?.[0]).toBe(
      'costs 15,000 EUR, pays back in 2.5 years (1.5 to 3.5), internal rate -25 %',
    )
    expect(rowOf(saves)[0]).toBe('2.5')
  })

  it('is told so in a pair', () => {
    const { name: _name, kind: _kind, changes: _changes, ...money } = nothing
    const pair: TriedPair = {
      ...{ first: 'a', second: 'b', overSum: estimate(0, 2), worthMoreThanSum: 'no difference shown' },
      ...money,
    }
    const view = paybackView(studyOf([], [pair]), context, lineOf())
    expect(view.items[0]?.lines.at(-1)).toBe('costs 15,000 EUR; no payback is shown')
    const section = paybackParts(studyOf([], [pair]), lineOf()).sections.find(({ id }) => id === 'pairs')
    expect(section?.table?.rows[0]?.map(({ text }) => text)).toContain('–')
  })

  it('is no figure of the first screen', () => {
    const figures = (changes: readonly TriedChange[]) =>
      paybackParts(studyOf(changes), lineOf()).figures.map(({ label, note }) => [label, note])
    expect(figures([nothing])).toEqual([
      ['Good output', 'as the line is'],
      ['Shown to pay', 'changes tried'],
      ['Largest gain', 'store for 20 wafers, no payback shown'],
    ])
    expect(figures([nothing, pays])).toContainEqual(['Best present value', 'one more tool of print'])
  })

  it('is left out of the chart of worth, which says so', () => {
    const worth = (changes: readonly TriedChange[]) =>
      paybackParts(studyOf(changes), lineOf()).sections.find(({ id }) => id === 'worth')
    expect(worth([nothing])).toBeUndefined()
    expect(worth([pays, nothing])?.table?.rows.map(([first]) => first?.text)).toEqual([
      'one more tool of print',
    ])
    expect(worth([pays, nothing])?.lead).toContain('Where neither cells nor cash are shown none is told.')
    expect(worth([pays])?.lead).not.toContain('none is told')
  })
})

describe('what a good cell earns', () => {
  const headline = (line: Line) => paybackView(studyOf([pays]), context, line).headline
  const wafer = { area: '330 cm2', efficiency: { mean: '24 %' } }

  it('stands behind the answer', () => {
    // By hand: 7.92 W at 0.06 are 0.4752; 0.27 and 0.06 of 99 good ones in 100 are 0.3333.
    const { pricePerCell: _price, ...others } = MONEY
    const money = { ...others, pricePerWatt: 0.06, addedPerWafer: { print: 0.06 } }
    const route = [{ step: 'print', cycle: '2 s', reject: '1 %' }]
    const line = { ...lineOf(), money, wafer, route } as Line
    expect(headline(line).at(-1)).toBe(
      'A good cell of 24 % earns 0.475 EUR; its wafer and materials cost 0.333, lost wafers included.',
    )
    expect(headline(line)[0]).toMatch(/^"one more tool of print" pays/)
  })

  it('by the piece does not depend on its efficiency', () => {
    expect(headline(lineOf({}, { wafer })).at(-1)).toBe(
      'A good cell earns 0.48 EUR; its wafer and materials cost 0.27, lost wafers included.',
    )
  })

  it('comes first where it is less than its wafer and materials cost', () => {
    expect(headline(lineOf({ pricePerCell: 0.2 }))[0]).toBe(
      'A good cell earns 0.2 EUR, less than its wafer and materials cost, 0.27, lost wafers included: more output loses money.',
    )
  })
})
