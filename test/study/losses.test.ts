import { describe, expect, it } from 'vitest'
import { curveStudy, readValue, spacedValues, type Varied } from '../../sim/study/losses/curve.ts'
import { type LossesStudy, lossesStudy } from '../../sim/study/losses/losses.ts'
import { nameplateOf } from '../../sim/study/losses/nameplate.ts'
import { variedOf } from '../../sim/study/losses/varied.ts'
import { checked, here, optionsOf } from './lines.ts'

const JAM = { stop: 'jam', every: '324 s', lasts: '36 s' }
const CHANGE = { stop: 'change', counts: 'wafers', every: 180, lasts: '18 s', kind: 'scheduled' }
const one = (...stops: object[]) => checked({ route: [{ step: 'tool', cycle: '1 s', stops }] })
const long = optionsOf({ days: 1, replications: 2 })

/** Losses with closed forms are in test/published/study-losses.ts. */
describe('losses', () => {
  it('of rejects, breakage and buffers are told apart, with their money', async () => {
    const line = checked({
      route: [
        { step: 'print', cycle: '2 s', breakage: '1 %', stops: [JAM] },
        { buffer: 'store', capacity: 20 },
        { step: 'test', cycle: '2 s', reject: '2 %' },
      ],
      money: { currency: 'EUR', pricePerCell: 1, wafer: 0.3, addedPerWafer: { test: 0.01 } },
    })
    const study = await lossesStudy(line, optionsOf({ days: 1 }), here())
    expect(study.currency).toBe('EUR')
    expect(study.losses.map(({ kind }) => kind).sort()).toEqual(['breakage', 'buffers', 'reject', 'stop'])
    for (const { cashPerYear } of study.losses) expect(cashPerYear?.n).toBe(4)
  })

  it('takes the smaller stops together', async () => {
    const study = await lossesStudy(one(JAM, CHANGE), optionsOf({ replications: 2 }), here(), 1)
    expect(study.losses.map(({ kind }) => kind).sort()).toEqual(['other stops', 'stop'])
    expect(study.losses.find(({ kind }) => kind === 'other stops')?.name).toBe('the smallest stop')
  })

  // By hand: 180 wafers in 180 s and 18 s of change; without the change 3600 an hour. The wear goes on to be taken away.
  it('of a stop that ends the wear of its tool are the time it takes', async () => {
    const line = checked({
      wafer: { area: '330 cm2', efficiency: { mean: '23 %' } },
      route: [
        { step: 'print', cycle: '1 s', stops: [CHANGE], drift: { until: 'change', loses: '0.03 %' } },
        { buffer: 'store', capacity: 20 },
        { step: 'test', cycle: '1 s', test: {} },
      ],
    })
    const study = await lossesStudy(line, long, here())
    const change = study.losses.find(({ kind }) => kind === 'stop')?.goodPerDay.mean
    expect(change).toBeCloseTo(86_400 - (86_400 * 180) / 198, -2)
  })
})

describe('hidden defects and time limits', () => {
  const ofKind = ({ losses }: LossesStudy, kind: string) =>
    losses
      .filter(loss => loss.kind === kind)
      .map(({ name, goodPerDay }) => [name, Math.round(goodPerDay.mean / 100)])
      .sort()

  // By hand: 2 % of the 86,400 wafers of a day, and as much by wear, which makes none after the change and 4 % before it.
  it('cost what a test finds of the defects, by the steps that make them', async () => {
    const line = checked({
      wafer: { area: '330 cm2', efficiency: { mean: '23 %' } },
      route: [
        { step: 'etch', cycle: '1 s', defects: '2 %' },
        { buffer: 'etched', capacity: 200 },
        {
          ...{ step: 'print', cycle: '1 s', drift: { until: 'change', defects: '4 %' } },
          stops: [{ stop: 'change', counts: 'wafers', every: 1000, lasts: '0 s', kind: 'scheduled' }],
        },
        { buffer: 'printed', capacity: 200 },
        { step: 'test', cycle: '1 s', test: {} },
      ],
    })
    const study = await lossesStudy(line, optionsOf({ days: 2, replications: 4 }), here())
    // What one would find of wafers that have both is not lost by one alone: 2 % of 2 %.
    expect(ofKind(study, 'defects')).toEqual([
      ['hidden defects at etch', 17],
      ['hidden defects at print', 17],
    ])
  })

  // By hand: of ten wafers that come at once and are taken one a second the last four have waited for longer: 34,560 a day.
  it('cost the wafers that come too late', async () => {
    const line = checked({
      route: [
        { buffer: 'stack', capacity: 20 },
        { step: 'clean', batch: { load: 10, time: '10 s' } },
        { buffer: 'store', capacity: 40 },
        { step: 'coat', cycle: '1 s', timeLimits: [{ after: 'clean', atMost: '5.5 s', late: 'scrap' }] },
      ],
    })
    expect(ofKind(await lossesStudy(line, long, here()), 'late')).toEqual([['time limits before coat', 346]])
  })

  it('of many steps are weighed together, by the recipes that they run', async () => {
    const steps = Array.from({ length: 6 }, (_, k) => ({
      ...{ step: `etch ${k + 1}`, cycle: '1 s', recipe: 'hot' },
      recipes: { hot: { defects: '1 %' } },
    }))
    const wafer = { area: '330 cm2', efficiency: { mean: '23 %' } }
    const line = checked({ wafer, route: [...steps, { step: 'test', cycle: '1 s', test: {} }] })
    const [[name, lost]] = ofKind(await lossesStudy(line, long, here()), 'defects')
    expect(name).toBe('hidden defects at 6 steps together')
    // 1 - 0.99^6 of 864 hundreds.
    expect(lost).toBeGreaterThan(47)
    expect(lost).toBeLessThan(54)
  })
})

describe('the nameplate', () => {
  const slow = { step: 'old', cycle: '3 s' }
  const fast = { step: 'new', cycle: '1.2 s', breakage: '1 %' }
  const route = (group: object) => [
    { step: 'feed in', cycle: '0.5 s' },
    { group: 'lanes', ...group },
  ]

  // By hand: 3600 / 3 = 1,200/h, 3600 / 1.2 = 3,000/h and 3600 / 0.5 = 7,200/h.
  it.each([
    ['adds up lanes that differ: 1,200 + 3,000/h', { lanes: { a: [slow], b: [fast] } }, ['old', 'new'], 4200],
    [
      'adds up lanes that take turns too, where one without a place is passed over',
      { split: 'in turn', lanes: { a: [slow], b: [fast] } },
      ['old', 'new'],
      4200,
    ],
    ['counts equal lanes', { lanes: ['a', 'b'], each: [slow] }, ['old'], 2400],
    [
      'is of the step before lanes that can take more',
      { lanes: ['a', 'b', 'c'], each: [fast] },
      ['feed in'],
      7200,
    ],
    [
      'counts lanes within lanes',
      { lanes: { a: [slow], b: [{ group: 'pair', lanes: ['x', 'y'], each: [{ ...slow, step: 'inner' }] }] } },
      ['old', 'inner'],
      3600,
    ],
  ])('%s', (_name, group, steps, perHour) => {
    const found = nameplateOf(checked({ route: route(group) }))
    expect(found.steps).toEqual(steps)
    expect(found.goodPerDay).toBeCloseTo(perHour * 24, 6)
  })
})

describe('the calendar', () => {
  const ROUND = {
    day: { from: '06:00', to: '18:00', breaks: [{ at: '12:00', lasts: '30 min' }] },
    night: { from: '18:00', to: '06:00' },
  }
  const served = (calendar: object, heads: object) =>
    checked({
      calendar,
      crews: { operators: { heads } },
      route: [{ step: 'tool', cycle: '1 s', stops: [{ ...JAM, skill: 'operators' }] }],
    })

  it('is no loss when the shifts go round the clock', async () => {
    const study = await lossesStudy(served({ shifts: ROUND }, { day: 1, night: 1 }), long, here())
    expect(study.losses.map(({ kind }) => kind).sort()).toEqual(['people', 'stop'])
    // In the break nobody comes: 30 min a day less one stop of 36 s that would have been; nobody else is waited for.
    const people = study.losses.find(({ kind }) => kind === 'people')?.goodPerDay.mean ?? Number.NaN
    expect(people).toBeGreaterThan(1800 * 0.6)
    expect(people).toBeLessThan(1800)
  })

  it('costs the hours in which the line is closed, with the crews at work in them too', async () => {
    const study = await lossesStudy(served({ shifts: { day: ROUND.day } }, { day: 1 }), long, here())
    const shut = study.losses.find(({ kind }) => kind === 'calendar')
    // Twelve hours more at what one tool makes that never waits: up 9 of 10.
    expect((shut?.goodPerDay.mean ?? 0) / (43_200 * 0.9)).toBeCloseTo(1, 1)
  })
})

describe('the ranking', () => {
  const weigh = (stops: object[], replications = 4) =>
    lossesStudy(one(...stops), optionsOf({ replications }), here())

  it('names what is not told apart from the largest loss', async () => {
    const twin = { ...JAM, stop: 'twin' }
    const small = { ...JAM, stop: 'small', lasts: '1 s' }
    const spread = [JAM, twin].map(stop => ({ ...stop, every: { exponential: '324 s' } }))
    const study = await weigh([...spread, small])
    expect(study.losses[0].verdict).toBe('more')
    expect(['stop "jam" at tool', 'stop "twin" at tool']).toContain(study.notToldApart[0])
    expect(study.notToldApart).toHaveLength(1)
    expect(study.replicationsNeeded).toBeUndefined()
  })

  it('says how many replications would show a loss that is not shown', async () => {
    const rare = { stop: 'rare', every: { exponential: '3 h' }, lasts: { exponential: '20 min' } }
    const study = await weigh([rare], 2)
    expect(study.losses[0].verdict).toBe('no difference shown')
    expect(study.replicationsNeeded).toBeGreaterThan(2)
    // With so many of the same kind it is shown.
    const more = await weigh([rare], study.replicationsNeeded)
    expect(more.losses[0].verdict).toBe('more')
  })

  it('says nothing of stops that never came', async () => {
    const study = await weigh([JAM, { stop: 'never', every: '90 d', lasts: '1 h' }])
    expect(study.losses.map(({ name }) => name)).toEqual(['stop "jam" at tool'])
    expect(study.unseen).toEqual(['stop "never" at tool'])
  })
})

describe('a service that prevents failures', () => {
  // 30 s of work and 3 s of service, before the failure is ever due.
  const failure = { stop: 'failure', every: '40 s', lasts: '60 s' }
  const service = { stop: 'service', every: '30 s', lasts: '3 s', kind: 'scheduled', renews: ['failure'] }

  it('costs its time; what it prevents stays prevented', async () => {
    const study = await lossesStudy(one(failure, service), long, here())
    expect(study.losses.map(({ name }) => name)).toEqual(['stop "service" at tool'])
    expect(study.losses[0].goodPerDay.mean / (86_400 * (1 - 30 / 33))).toBeCloseTo(1, 2)
    expect(study.unseen).toEqual(['stop "failure" at tool'])
    expect(study.doneAllTheSame).toEqual(['stop "service" at tool'])
    // Left out, 40 s of work and 60 s of failure; with service 30 of 33 s.
    const [{ name, goodPerDay, verdict }] = study.leftOut
    expect([name, verdict]).toEqual(['stop "service" at tool', 'less'])
    expect(goodPerDay.mean / (86_400 * (0.4 - 30 / 33))).toBeCloseTo(1, 2)
  })

  it('is not tried without where wear ends with it', async () => {
    const line = checked({
      wafer: { area: '330 cm2', efficiency: { mean: '23 %' } },
      route: [
        {
          ...{ step: 'print', cycle: '1 s', stops: [failure, service] },
          drift: { until: 'service', loses: '0.03 %' },
        },
        { buffer: 'store', capacity: 20 },
        { step: 'test', cycle: '1 s', test: {} },
      ],
    })
    expect((await lossesStudy(line, long, here())).leftOut).toEqual([])
  })

  it('has a best interval, by age as theory has it', async () => {
    // Uniform lives of 0 to 40 s: worked T - T^2 / 80 on average, failed in T / 40 of all.
    const worn = {
      ...failure,
      ...{ every: { uniform: ['0 s', '40 s'] }, lasts: '12 s', renews: ['service'] },
    }
    const line = one(worn, service)
    const varied = { ...(variedOf(line, 'stop service: every') as Varied), like: '5 s' }
    const study = await curveStudy(line, varied, [5, 20, 39], optionsOf({ days: 6 }), here())
    for (const { value, goodPerHour } of study.points) {
      const [worked, failed] = [value - value ** 2 / 80, value / 40]
      expect(goodPerHour.mean / ((3600 * worked) / (worked + 12 * failed + 3 * (1 - failed)))).toBeCloseTo(
        1,
        2,
      )
    }
    expect(study.highest).toMatchObject({ label: '20 s', notToldApart: [] })
  })
})

describe('a curve', () => {
  it('goes over the repair time of a stop by the closed form', async () => {
    const line = one(JAM)
    const varied = variedOf(line, 'stop jam: lasts') as Varied
    expect(varied.now).toBe(36)
    const values = spacedValues(varied, 18, 72, 4)
    expect(values).toEqual([18, 36, 54, 72])
    const study = await curveStudy(line, varied, values, long, here())
    expect(study.points.map(({ label }) => label)).toEqual(['18 s', '36 s', '54 s', '72 s'])
    for (const { value, goodPerHour } of study.points)
      expect(goodPerHour.mean / (3600 / (1 + value / 324))).toBeCloseTo(1, 2)
    expect(study.points[1].gainPerHour.mean).toBe(0)
    expect(study.highest).toMatchObject({ label: '18 s', notToldApart: [] })
    const inMinutes = await curveStudy(line, { ...varied, like: '0.3 min' }, values, long, here())
    expect([...inMinutes.points.map(({ label }) => label), inMinutes.nowLabel]).toEqual([
      '0.3 min',
      '0.6 min',
      '0.9 min',
      '1.2 min',
      '0.6 min',
    ])
  })

  it('goes over a count of wafers, in one step or in all', () => {
    const line = one(JAM, CHANGE)
    const varied = variedOf(line, 'tool: stop change: every') as Varied
    expect([varied.unit, varied.now]).toEqual(['wafers or loads', 180])
    expect(JSON.stringify(varied.at(90))).toContain('"every":90')
    expect(readValue(varied, '900')).toBe(900)
    expect(readValue(varied, '9 min')).toBeUndefined()
  })

  it('goes over the heads of a crew', () => {
    const line = checked({ route: [{ step: 'tool', cycle: '1 s' }], crews: { technicians: { heads: 2 } } })
    const varied = variedOf(line, 'crew technicians: heads') as Varied
    expect([varied.unit, varied.now]).toEqual(['heads', 2])
    expect(varied.at(3).crews).toEqual({ technicians: { heads: 3 } })
  })

  it('of a stop that several steps have is varied in all of them, and says so', () => {
    const line = checked({ route: ['a', 'b'].map(step => ({ step, cycle: '1 s', stops: [JAM] })) })
    const varied = variedOf(line, 'stop jam: lasts') as Varied
    expect([varied.now, varied.nowText]).toEqual([36, '36 s at "a" and "b", varied together'])
    expect((variedOf(line, 'a: stop jam: lasts') as Varied).nowText).toBeUndefined()
  })

  it('sets the heads of every shift that has any, and says what they are now', async () => {
    const shifts = { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } }
    const pair = { ...JAM, skill: 'technicians', people: 2 }
    const line = checked({
      calendar: { shifts },
      crews: { technicians: { heads: { day: 3, night: 2 } } },
      route: [{ step: 'tool', cycle: '1 s', stops: [pair] }],
    })
    const varied = variedOf(line, 'crew technicians: heads') as Varied
    expect([varied.now, varied.nowText]).toEqual([3, 'day 3, night 2'])
    const study = await curveStudy(line, varied, [1, 2], long, here())
    expect(study.nowLabel).toBe('day 3, night 2')
    expect(study.points.map(({ neverServed }) => neverServed)).toEqual([['stop "jam" at tool'], []])
    expect(study.points.map(({ verdict }) => verdict)).toEqual(['less', 'no difference shown'])
    // A line that stands still for ever is still measured over the window of the others.
    expect(study.window.cutHours).toBeLessThan(study.window.windowHours / 10)
    expect(study.goodPerHour.mean / 3240).toBeCloseTo(1, 2)
  })

  it('asks which stop is meant where stops of a name differ', () => {
    const two = (lasts: string) =>
      checked({
        route: [
          { step: 'print', cycle: '1 s', stops: [JAM] },
          { step: 'test', cycle: '1 s', stops: [{ ...JAM, lasts }] },
        ],
      })
    expect(variedOf(two('40 s'), 'stop jam: lasts')).toBe(
      '"print: stop jam: lasts" or "test: stop jam: lasts", since it is not the same in all of them',
    )
    expect((variedOf(two('40 s'), 'test: stop jam: lasts') as Varied).now).toBe(40)
    const both = variedOf(two('36 s'), 'stop jam: lasts') as Varied
    expect(JSON.stringify(both.at(10)).match(/"lasts":"10 s"/g)).toHaveLength(2)
  })

  it('says what it does not know', () => {
    expect(variedOf(one(JAM), 'stop jma: lasts')).toContain('did you mean "stop jam: lasts"?')
    expect(variedOf(one(JAM), 'tool: stop jma: lasts')).toContain('did you mean "tool: stop jam: lasts"?')
    expect(variedOf(one(JAM), 'stop screen burst: lasts')).toBe('a stop of the line: "jam"')
    expect(variedOf(one(JAM), 'jam')).toContain('something such as')
    expect(variedOf(one(JAM), 'crew night: heads')).toContain('it has none')
  })
})
