import { describe, expect, it } from 'vitest'
import { curveParts } from '../../../reports/view/answer-pages/curve-page.ts'
import { lossesParts } from '../../../reports/view/answer-pages/losses-page.ts'
import { curveView, lossesView } from '../../../reports/view/answers/losses-view.ts'
import type { Line } from '../../../sim/line/types.ts'
import type { CurvePoint, CurveStudy } from '../../../sim/study/losses/curve.ts'
import type { Loss, LossesStudy } from '../../../sim/study/losses/losses.ts'
import { checked } from '../../study/lines.ts'
import { estimate, studyHead } from '../fixture.ts'

/** Regression only: sentences as a reader found them right. */

const head = { ...studyHead, window: { cutHours: 0, windowHours: 72 } }
const context = { fingerprint: 'abc' }

function loss(name: string, mean: number, half: number): Loss {
  const verdict = mean - half > 0 ? 'more' : 'no difference shown'
  return { name, kind: 'stop', goodPerDay: estimate(mean, half, 4), verdict }
}

function studyOf(losses: readonly Loss[], more: Partial<LossesStudy> = {}): LossesStudy {
  return {
    ...head,
    stand: [],
    goodPerDay: estimate(76_000, 400, 4),
    nameplate: { steps: ['print'], goodPerDay: 89_000 },
    wholePerDay: estimate(13_000, 400, 4),
    losses,
    notToldApart: [],
    unseen: [],
    doneAllTheSame: [],
    leftOut: [],
    sumPerDay: estimate(13_100, 500, 4),
    overlapPerDay: estimate(-100, 500, 4),
    lossLevel: 0.99,
    ...more,
  }
}

const line = checked({ route: [{ step: 'print', cycle: '1 s' }] })

const words = (study: LossesStudy) => lossesView(study, context)

describe('losses in words', () => {
  it('says that the slowest steps of lanes count together', () => {
    const study = studyOf([loss('jam', 3000, 1000)], {
      nameplate: { steps: ['old', 'new'], goodPerDay: 89_000 },
    })
    expect(JSON.stringify(words(study))).toContain(
      'By the nameplates of the slowest steps of its lanes, \\"old\\" and \\"new\\" together, the line would make 89,000 a day',
    )
  })

  it('names the largest loss, and what is not told apart from it', () => {
    const losses = [loss('jam', 3000, 1000), loss('belt', 2800, 1000)]
    expect(
      words(studyOf(losses, { notToldApart: ['belt', 'b', 'c', 'd', 'e'] })).headline.slice(0, 2),
    ).toEqual([
      'The largest loss shown is jam: 3,000 (2,000 to 4,000) good cells a day.',
      'Not told apart from it: belt; b; c; 2 more.',
    ])
    expect(words(studyOf(losses)).headline).toHaveLength(2)
  })

  it('claims no largest loss where larger ones are not shown, and says what would show them', () => {
    const losses = [loss('service', 4000, 8300), loss('jam', 2800, 4700), loss('reject', 380, 90)]
    const { headline } = words(studyOf(losses, { replicationsNeeded: 13 }))
    expect(headline.slice(0, 2)).toEqual([
      'Which loss is the largest is not shown. Shown is reject: 380 (290 to 470) good cells a day.',
      'Perhaps larger: service; jam; about 13 replications of 3 days would tell, if they are as large as they seem.',
    ])
  })

  it('says so when nothing is shown', () => {
    const { headline } = words(studyOf([loss('service', 4000, 8300)]))
    expect(headline.slice(0, 2)).toEqual([
      'No single cause is shown to cost output.',
      'Perhaps largest: service; longer runs, or more of them, would tell.',
    ])
  })

  it('speaks of an overlap only where one is shown', () => {
    const note = (mean: number, half: number) =>
      words(studyOf([], { overlapPerDay: estimate(mean, half, 4) })).notes[0]
    expect(note(-100, 500)).toMatch(/; no difference to the whole is shown\.$/)
    expect(note(-1000, 500)).toContain('; the overlap of 1,000 (500 to 1,500) is counted more than once')
    expect(note(1000, 500)).toContain(
      'the other 1,000 (500 to 1,500) are not of one cause: they come back when',
    )
  })

  it('names stops that never came', () => {
    expect(words(studyOf([], { unseen: ['stop "pump" at wash'] })).notes.join()).toContain(
      'Never seen in these runs, so nothing is said of it: stop "pump" at wash.',
    )
  })

  it('gives the figure of the page the same standing as the sentence', () => {
    const label = (one: Loss) => lossesParts(studyOf([one]), line).figures[3]?.label
    expect(label(loss('jam', 3000, 1000))).toBe('Largest loss shown')
    expect(label(loss('jam', 3000, 4000))).toBe('Largest loss, not shown')
  })
})

describe('planned work that prevents stops', () => {
  const service = {
    ...loss('stop "service" at print', -2000, 300),
    kind: 'left out',
    verdict: 'less',
  } as const
  const study = studyOf([loss('stop "service" at print', 800, 200)], {
    doneAllTheSame: ['stop "service" at print'],
    leftOut: [service],
  })

  it('is told by what it costs, and by what comes without it', () => {
    const { tables, notes } = words(study)
    expect(tables[1]).toMatchObject({
      title: 'Planned work left out altogether, and what it prevents comes instead:',
      rows: [['stop "service" at print', '-2,000', '300', '']],
    })
    expect(notes.join()).toContain(
      'Taken away as if done in no time, since something else rests on it: stop "service" at print.',
    )
    expect(words(studyOf([])).tables).toHaveLength(1)
  })

  it('has a chart and a table of its own on the page', () => {
    const sections = (of: LossesStudy) => lossesParts(of, line).sections.map(({ id }) => id)
    expect(sections(study)).toEqual(['losses', 'left-out', 'account'])
    expect(sections(studyOf([]))).toEqual(['losses', 'account'])
  })
})

describe('a curve in words', () => {
  const point = (value: number, gain: number, half: number, neverServed: string[] = []): CurvePoint => ({
    value,
    label: String(value),
    goodPerHour: estimate(3100 + gain, 40, 4),
    gainPerHour: estimate(gain, half, 4),
    verdict: gain - half > 0 ? 'more' : gain + half < 0 ? 'less' : 'no difference shown',
    neverServed,
  })
  const curve = (points: readonly CurvePoint[], nowLabel = '2'): CurveStudy => ({
    ...{ ...head, vary: 'crew technicians: heads', unit: 'heads', now: 2, nowLabel, points },
    goodPerHour: estimate(3100, 40, 4),
    highest: { label: points.at(-1)?.label ?? '', goodPerHour: estimate(3120, 40, 4), notToldApart: [] },
  })

  it('says in its second line when nothing is shown to differ', () => {
    const { headline } = curveView(curve([point(2, 0, 0), point(3, 20, 50)]), context)
    expect(headline[1]).toBe(
      'Now it is 2, and the line makes 3,100 (3,060 to 3,140); no value is shown to make more or less.',
    )
    const told = curveView(curve([point(2, 0, 0), point(3, 80, 50)]), context)
    expect(told.headline[1]).toMatch(/3,140\)\.$/)
  })

  it('says where it is highest, and what is as high for all that is known', () => {
    const points = [point(1, -80, 50), point(2, 10, 50), point(3, 20, 50), point(4, -70, 50)]
    const third = (highest: Omit<CurveStudy['highest'], 'goodPerHour'>) => {
      const goodPerHour = estimate(3120, 40, 4)
      return curveView({ ...curve(points, '2.5'), highest: { ...highest, goodPerHour } }, context).headline[2]
    }
    expect(third({ label: '3', notToldApart: ['2'] })).toBe('Highest at 3: 3,120; 2 not shown to make less.')
    expect(third({ label: '3', notToldApart: [] })).toBe('Highest at 3: 3,120.')
    expect(third({ label: '3', notToldApart: ['2', '2.5'] })).toBe(
      'Highest at 3: 3,120; 2 and 2.5 (now) not shown to make less.',
    )
    expect(third({ label: '2.5', notToldApart: [] })).toBe('Highest at 2.5 (now): 3,120.')
    // A fall from end to end the first line has told; of what nothing is known nothing is said.
    expect(third({ label: '1', notToldApart: [] })).toBeUndefined()
    expect(third({ label: '3', notToldApart: ['1', '2', '4'] })).toBeUndefined()
  })

  it('says which value brings the most money, what brings no less for all that is known, and what is in it', () => {
    const points = [point(1, -80, 50), point(2, 10, 50), point(3, 20, 50)].map(one => ({
      ...one,
      cashPerYear: estimate(1000 * one.gainPerHour.mean, 5000, 4),
    }))
    const highest = { label: '2', goodPerHour: estimate(3120, 40, 4), notToldApart: ['3'] }
    const told = (best: CurveStudy['best'], nowLabel: string) =>
      curveView({ ...curve(points, nowLabel), highest, currency: 'EUR', ...(best && { best }) }, context)
    const money = (best: CurveStudy['best'], nowLabel = '2.5') => told(best, nowLabel).headline.at(-1)
    expect(money({ label: '3', notToldApart: [] })).toBe(
      'Most money at 3: +20,000 (15,000 to 25,000) EUR a year against now.',
    )
    expect(money({ label: '3', notToldApart: ['2', '2.5'] })).toBe(
      'Most money at 3: +20,000 (15,000 to 25,000) EUR a year against now; 2 and 2.5 (now) not shown to bring less.',
    )
    expect(money({ label: '2.5', notToldApart: ['3'] })).toBe(
      'Most money at 2.5 (now); 3 not shown to bring less.',
    )
    const none =
      'Most money at 3: +20,000 (15,000 to 25,000) EUR a year against now; no other value is shown to bring less.'
    expect(money({ label: '3', notToldApart: ['1', '2', '2.5'] })).toBe(none)
    expect(money({ label: '3', notToldApart: ['1', '2'] }, '2')).toBe(none)
    const { tables, notes } = told({ label: '3', notToldApart: [] }, '2')
    expect(tables[0]?.columns.slice(-2).map(({ head }) => head)).toEqual(['EUR/yr', '±'])
    expect(tables[0]?.rows[2]?.slice(-2)).toEqual(['+20,000', '5,000'])
    expect(notes[0]).toMatch(/^EUR\/yr: what the cells bring against now, less wafers, materials and parts/)
    expect(curveView(curve(points), context).headline.join()).not.toMatch(/money/)
    // At the end at which most cells are, with nothing near it, the table tells it.
    const same = { ...curve(points), currency: 'EUR', best: { label: '3', notToldApart: [] } }
    expect(curveView(same, context).headline.join()).not.toMatch(/money/)
  })

  it('marks values with which something is never served', () => {
    const { tables, notes } = curveView(
      curve([point(1, -2400, 900, ['stop "service" at print']), point(2, 0, 0)]),
      context,
    )
    expect(tables[0]?.rows.map(row => row.at(-1))).toEqual(['some never served', ''])
    expect(notes[0]).toBe(
      'At 1 nobody ever comes to stop "service" at print: it needs more people at the same time.',
    )
  })

  it('says that heads by shift are set alike', () => {
    const { notes } = curveView(curve([point(3, 20, 50)], 'day 2, night 1'), context)
    expect(notes).toContain('Each value is the number in every shift that has any.')
    expect(curveView(curve([point(3, 20, 50)]), context).notes.join()).not.toContain('every shift')
  })
})

describe('the page of a curve', () => {
  const line = (heads: unknown) =>
    ({ line: 'crewed', route: [], crews: { operators: { heads } } }) as unknown as Line
  const study = (more: Partial<CurveStudy>): CurveStudy => ({
    ...{ ...head, vary: 'crew operators: heads', unit: 'heads', now: 2, nowLabel: 'early 2, night 1' },
    goodPerHour: estimate(3000, 10),
    points: [],
    highest: { label: '2', goodPerHour: estimate(3000, 10), notToldApart: [] },
    ...more,
  })
  const drawn = (more: Partial<CurveStudy>, heads: unknown) => {
    const [section] = curveParts(study(more), line(heads)).sections
    const { chart, lead } = section ?? {}
    return { now: chart?.kind === 'course' ? chart.uprights : undefined, lead }
  }

  it('draws where the line is now, unless no value of the curve is that', () => {
    expect(drawn({}, { early: 2, night: 1 }).now).toBeUndefined()
    expect(drawn({}, { early: 2, night: 0 }).now).toEqual([{ value: 2, label: 'now' }])
    expect(drawn({}, 2).now).toEqual([{ value: 2, label: 'now' }])
  })

  it('speaks of a distribution only where there is one', () => {
    expect(drawn({}, 2).lead).toContain('with other heads, the same number in every shift that has any; now')
    expect(drawn({ vary: 'stop jam: lasts', unit: 's', now: 600 }, 2).lead).toContain('its distribution')
  })
})
