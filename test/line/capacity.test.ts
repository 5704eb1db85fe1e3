import { describe, expect, it } from 'vitest'
import { capacityTable, lineYield } from '../../sim/line/capacity.ts'
import { beltContent, beltPace } from '../../sim/line/pace.ts'
import { relativelyCloseTo } from '../close.ts'
import { between, routeOf, singleWith, stepWith, valid, wafer } from './lines.ts'

/**
 * The paper capacity against arithmetic that can be done by hand, each case phrased as
 * a line. Sources stand beside the values; plain arithmetic needs none.
 */

const rowsOf = (value: unknown) => capacityTable(valid(value))
const rowOf = (value: unknown, step = 'print') => {
  const row = rowsOf(value).find(candidate => candidate.step === step)
  if (!row) throw new Error(`no row of ${step}`)
  return row
}

describe('a bank of batch tubes', () => {
  // 4 tubes x 1200 wafers / (55 + 5) min = 4800/h; the loader 1200 / 5 min = 14 400/h; availability 93 h in 100 h.
  const tube = { load: 1200, time: '55 min', loading: '2 min', unloading: '3 min', tubes: 4 } as const
  const stops = [{ stop: 'maintenance', counts: 'calendar time', every: '93 h', lasts: '7 h' }]
  const line = (batch: object, more: object = {}) =>
    routeOf({ buffer: 'store', capacity: 6000 }, { step: 'print', batch, ...more })

  it('makes tubes x load / (process + handling)', () => {
    expect(rowOf(line(tube)).toolPerHour).toBeCloseTo(4800, 9)
    expect(rowOf(line(tube)).netPerHour).toBeCloseTo(4800, 9)
  })

  it('makes less by its availability', () => {
    const row = rowOf(line(tube, { stops }))
    expect(row.availability).toBeCloseTo(0.93, 12)
    expect(row.netPerHour).toBeCloseTo(4464, 9)
  })

  it('makes no more than its one loader brings in and out', () => {
    expect(rowOf(line({ ...tube, time: '1 s' })).toolPerHour).toBeCloseTo(14_400, 9)
    expect(rowOf(line({ ...tube, time: '1 s' }, { tools: 2 })).netPerHour).toBeCloseTo(28_800, 9)
    expect(rowOf(line({ ...tube, time: '1 s' }, { stops })).netPerHour).toBeCloseTo(14_400, 9)
  })

  it('counts tools, not tubes', () => {
    expect(rowOf(line(tube, { tools: 3 }))).toMatchObject({ kind: 'batch', tools: 3 })
  })
})

it('single-wafer tools side by side: 3 at 1.2 s make 9000/h, 8550 at 95 %, 8532.9 good ones at 99.8 %', () => {
  const stops = [{ stop: 'jam', every: '95 min', lasts: '5 min', counts: 'calendar time' }]
  const row = rowOf(stepWith({ cycle: '1.2 s', tools: 3, reject: '0.2 %', stops }))
  expect(row.tools * row.toolPerHour).toBeCloseTo(9000, 9)
  expect(row.netPerHour).toBeCloseTo(8550, 9)
  expect(row.yield).toBeCloseTo(0.998, 12)
  expect(row.goodPerHour).toBeCloseTo(8532.9, 9)
})

it('a belt of 6.6 m at 6 m/min, two lanes, pitch 0.2 m: 1.1 min, 3600/h, 66 wafers', () => {
  const belt = { length: '6.6 m', speed: '6 m/min', pitch: '0.2 m', lanes: 2 } as const
  expect(beltPace(belt).transit / 60).toBeCloseTo(1.1, 12)
  expect(rowOf(stepWith({ belt })).toolPerHour).toBeCloseTo(3600, 9)
  expect(beltContent(belt)).toBe(66)
  expect(beltContent({ spacing: '2 s', transit: '66 s', lanes: 2 })).toBe(66)
  expect(beltContent({ spacing: '2 s', transit: '67 s' })).toBe(34)
  expect(beltContent({ spacing: '90 s', transit: '66 s' })).toBe(1)
})

it('a chain of eight yields: 3500 good cells take 3563.664 starts', () => {
  const yields = [99.9, 99.8, 99.75, 99.9, 99.5, 99.8, 99.85, 99.7]
  const route = yields.map((passes, index) => ({
    step: `step ${index}`,
    cycle: '0.5 s',
    reject: `${Number((100 - passes).toFixed(2))} %`,
  }))
  const line = { ...routeOf(...route), target: '3500 wafers/h' }
  relativelyCloseTo(lineYield(valid(line)), 0.9821351889018376, 1e-12)
  relativelyCloseTo(rowsOf(line)[0].target?.startsPerHour ?? 0, 3563.6641875274645, 1e-12)
  relativelyCloseTo(rowsOf(line)[7].target?.startsPerHour ?? 0, 3500 / 0.997, 1e-12)
})

describe('rework of 8 %', () => {
  const rework = (atMost: number, more: object = {}) => ({
    rework: { share: '8 %', to: 'print', atMost, ...more },
  })

  it.each([
    // 1 + r, 1 + r + r^2, 1 / (1 - r)
    [1, 1.08],
    [2, 1.0864],
    [100, 1.0869565217391304],
  ])('at most %d times takes %d passes', (atMost, passes) => {
    const row = rowOf(singleWith(rework(atMost)))
    relativelyCloseTo(row.startsPerWafer, passes, 1e-12)
    relativelyCloseTo(row.yield, 0.92 * passes, 1e-12)
  })

  it('loses nobody when the last ones pass', () => {
    expect(rowOf(singleWith(rework(1, { then: 'pass' }))).yield).toBeCloseTo(1, 12)
  })

  it('through a step that a tenth does not survive: 1.0775862 passes, 0.9913793 of them pass', () => {
    // Stripping loses a tenth each time; the first time too, as the wafer comes in by it.
    const line = routeOf(
      { step: 'strip', cycle: '1 s', breakage: '10 %' },
      { step: 'print', cycle: '1 s', rework: { share: '8 %', to: 'strip', atMost: 100 } },
    )
    const [strip, print] = rowsOf(line)
    relativelyCloseTo(print.startsPerWafer / 0.9, 1.0775862068965518, 1e-12)
    relativelyCloseTo(print.yield, 0.9913793103448276, 1e-12)
    relativelyCloseTo(strip.startsPerWafer, 1 + 0.08 * print.startsPerWafer, 1e-12)
    relativelyCloseTo(lineYield(valid(line)), 0.9 * 0.9913793103448276, 1e-12)
  })
})

describe('availability', () => {
  const at = (...stops: object[]) =>
    rowOf(singleWith({ stops: stops.map((stop, index) => ({ stop: `${index}`, ...stop })) })).availability
  const failure = { every: { exponential: '120 h' }, lasts: { lognormal: '4 h', cv: 1 } }
  const calendar = { counts: 'calendar time' }

  it('is up / (up + down), the time between stops being time up', () => {
    relativelyCloseTo(at(failure), 0.967741935483871, 1e-12)
    relativelyCloseTo(at({ ...failure, ...calendar }), 0.967741935483871, 1e-12)
  })

  it('with six hours of maintenance in each week, the failure clock standing still', () => {
    // Week of 168 h: 162 h from the end of one maintenance to the next.
    relativelyCloseTo(at(failure, { every: '162 h', lasts: '6 h', ...calendar }), 0.9331797235023042, 1e-12)
  })

  it('of stops that count running time adds them up: Buzacott 1967, Int. J. Production Research 5, 183-200 (from memory)', () => {
    const stops = [
      { every: '100 h', lasts: '10 h' },
      { every: '200 h', lasts: '10 h' },
      { every: '50 h', lasts: '5 h' },
    ]
    relativelyCloseTo(at(...stops), 0.8, 1e-12)
  })

  it('of stops that count wafers goes by the time they take', () => {
    // 900 wafers of 2 s are half an hour.
    relativelyCloseTo(at({ counts: 'wafers', every: 900, lasts: '6 min' }), 30 / 36, 1e-12)
  })

  it('of stops that count loads goes by the time from load to load', () => {
    const batch = { load: 100, time: '50 min', loading: '4 min', unloading: '6 min' }
    const stops = [{ stop: 'wash', counts: 'loads', every: 10, lasts: '1 h' }]
    const line = routeOf({ buffer: 'store', capacity: 100 }, { step: 'print', batch, stops })
    relativelyCloseTo(rowOf(line).availability, 10 / 11, 1e-12)
  })

  it('of a tube counts running time by its process alone', () => {
    // 50 min of each hour are process: a stop each 5 h of it comes each 6 h, and takes 0.6 h.
    const batch = { load: 100, time: '50 min', loading: '4 min', unloading: '6 min' }
    const stops = [{ stop: 'pump', every: '5 h', lasts: '0.6 h' }]
    const line = routeOf({ buffer: 'store', capacity: 100 }, { step: 'print', batch, stops })
    relativelyCloseTo(rowOf(line).availability, 10 / 11, 1e-12)
  })

  it('counts the clearing of shards', () => {
    // One wafer in 500 breaks, half of them must be cleared: 100 s in each 1000 wafers of 2 s.
    const breakage = { share: '0.2 %', clearing: { share: '50 %', lasts: '100 s' } }
    relativelyCloseTo(rowOf(singleWith({ breakage })).availability, 2000 / 2100, 1e-12)
    const whole = { share: '0.1 %', clearing: { lasts: '100 s' } }
    relativelyCloseTo(rowOf(singleWith({ breakage: whole })).availability, 2000 / 2100, 1e-12)
  })
})

it('takt: 66 000 wafers in 22 h at 2.6 s need 2.1667 tools', () => {
  const { target } = rowOf({ ...stepWith({ cycle: '2.6 s' }), target: '3000 wafers/h' })
  relativelyCloseTo(target?.tools ?? 0, 2.6 / 1.2, 1e-12)
})

it('tools for three products on one kind of tool: 4561.404 + 4659.498 + 7692.308 h, 4.69811 tools', () => {
  // A plant-layout exercise in the manner of Groover, Automation, Production Systems: demand, rate, scrap; 4000 h at 90 %.
  const hours = 4000
  const stops = [{ stop: 'down', counts: 'calendar time', every: '9 h', lasts: '1 h' }]
  const products = [
    { demand: 52_000, cycle: '300 s', reject: '5 %', workload: 4561.40350877193 },
    { demand: 65_000, cycle: '240 s', reject: '7 %', workload: 4659.4982078853045 },
    { demand: 70_000, cycle: '360 s', reject: '9 %', workload: 7692.307692307692 },
  ]
  const tools = products.map(({ demand, cycle, reject, workload }) => {
    const line = { ...stepWith({ cycle, reject, stops }), target: `${demand / hours} wafers/h` }
    const need = rowOf(line).target?.tools ?? 0
    relativelyCloseTo(need * hours * 0.9, workload, 1e-9)
    return need
  })
  relativelyCloseTo(
    tools.reduce((sum, need) => sum + need, 0),
    4.69811372471248,
    1e-9,
  )
})

describe('lanes', () => {
  const print = { step: 'print', cycle: '2 s', tools: 2, reject: '10 %' }

  it('that are equal fold into one row', () => {
    const line = between({ group: 'g', lanes: ['a', 'b', 'c'], each: [{ ...print, step: 'fire' }] })
    expect(rowOf(line, 'fire')).toMatchObject({
      tools: 6,
      toolPerHour: 1800,
      netPerHour: 10_800,
      startsPerWafer: 1,
    })
    expect(lineYield(valid(line))).toBeCloseTo(0.9, 12)
  })

  it('within lanes multiply', () => {
    const inner = { group: 'h', lanes: ['x', 'y'], each: [{ ...print, step: 'fire' }] }
    expect(rowOf(between({ group: 'g', lanes: ['a', 'b', 'c'], each: [inner] }), 'fire').tools).toBe(12)
  })

  // Lane a makes 1800/h and loses a tenth, lane b 5400/h and loses none.
  const lanes = {
    a: [{ step: 'slow', cycle: '2 s', reject: '10 %' }],
    b: [{ step: 'fast', cycle: '2 s', tools: 3 }],
  }

  it('of their own share the wafers by what each can take', () => {
    const rows = rowsOf(routeOf({ group: 'g', lanes }))
    expect(rows.map(row => row.startsPerWafer)).toEqual([0.25, 0.75])
    expect(lineYield(valid(routeOf({ group: 'g', lanes })))).toBeCloseTo(0.25 * 0.9 + 0.75, 12)
    expect(rows.map(row => row.goodPerHour)).toEqual([7020, 7020])
  })

  const inTurn = { group: 'g', split: 'in turn', lanes }

  it('that take turns pass over a lane that is full: all are full together', () => {
    // By hand: 1800 + 5400 an hour, of which a tenth of 1800 is lost.
    const rows = rowsOf(routeOf(inTurn))
    expect(rows.map(row => row.startsPerWafer)).toEqual([0.25, 0.75])
    expect(rows.map(row => [row.goodPerHour, row.lowest])).toEqual([
      [7020, true],
      [7020, true],
    ])
  })

  it('that take turns share equally what both can take', () => {
    // By hand: 2400 an hour come, 1200 by each lane: 120 are lost. By what each can take it would be 60.
    const rows = rowsOf(routeOf({ step: 'first', cycle: '1.5 s' }, inTurn))
    expect(rows[0].goodPerHour).toBeCloseTo(2280, 9)
    expect(rows.map(row => row.lowest)).toEqual([true, false, false])
  })

  it('that take turns share what a full lane leaves', () => {
    // By hand: 6000 an hour come, 1800 by lane a, the other 4200 by lane b: 180 are lost.
    const rows = rowsOf(routeOf({ step: 'first', cycle: '0.6 s' }, inTurn))
    expect(rows[0].goodPerHour).toBeCloseTo(5820, 9)
    expect(rows.map(row => row.lowest)).toEqual([true, false, false])
  })

  it('that take turns are asked for equal shares of a target', () => {
    // By hand: 1900 good cells are 2000 wafers, 1000 by each lane: of 1800 and of 5400 an hour.
    const rows = rowsOf({ ...routeOf(inTurn), target: '1900 wafers/h' })
    expect(rows[0].target?.startsPerHour).toBeCloseTo(1000, 6)
    expect(rows[0].target?.load).toBeCloseTo(1000 / 1800, 9)
    expect(rows[1].target?.load).toBeCloseTo(1000 / 5400, 9)
  })

  it('of three that take turns the fastest has what the slower leave', () => {
    // By hand: 1000 come; lanes of 100, 400 and 900: 100, and 400 and 500 of the rest, or 450 each if they could.
    const each = (cycle: string, name: string) => [{ step: name, cycle }]
    const three = { a: each('36 s', 'a'), b: each('9 s', 'b'), c: each('4 s', 'c') }
    const first = { step: 'first', cycle: '3.6 s' }
    const rows = rowsOf({
      ...routeOf(first, { group: 'g', split: 'in turn', lanes: three }),
      target: '1000 wafers/h',
    })
    const starts = rows.map(row => row.target?.startsPerHour ?? 0)
    expect(starts.map(Math.round)).toEqual([1000, 100, 400, 500])
  })

  it('within a lane that takes turns are full together too', () => {
    // By hand: lane x takes 1200 + 2400, lane y 3600. 5000 come: 2500 each, in x 1200 and 1300.
    const inner = {
      group: 'h',
      split: 'in turn',
      lanes: { p: [{ step: 'p', cycle: '3 s' }], q: [{ step: 'q', cycle: '1.5 s' }] },
    }
    const outer = {
      group: 'g',
      split: 'in turn',
      lanes: { x: [{ buffer: 'before', capacity: 5 }, inner], y: [{ step: 'y', cycle: '1 s' }] },
    }
    const rows = rowsOf({ ...routeOf(outer), target: '5000 wafers/h' })
    expect(rows.map(row => Math.round(row.target?.startsPerHour ?? 0))).toEqual([1200, 1300, 2500])
    expect(rows.map(row => Math.round(row.goodPerHour))).toEqual([7200, 7200, 7200])
  })

  it('of equal lanes within a lane count together', () => {
    // By hand: lane a holds three lanes of 1800 an hour each, lane b one.
    const many = [
      { buffer: 'before', capacity: 5 },
      { group: 'h', lanes: ['x', 'y', 'z'], each: [{ step: 'one of three', cycle: '2 s' }] },
    ]
    const rows = rowsOf(routeOf({ group: 'g', lanes: { a: many, b: [{ step: 'alone', cycle: '2 s' }] } }))
    expect(rows.map(row => row.startsPerWafer)).toEqual([0.75, 0.25])
    expect(rows.map(row => row.goodPerHour)).toEqual([7200, 7200])
  })
})

describe('closed hours', () => {
  // By hand: 1800/h in 16 of 24 hours are 1200/h; for 1500/h it would have to make 2250/h while open.
  it('are hours in which the target is not made', () => {
    const calendar = { shifts: { day: { from: '06:00', to: '22:00' } } }
    const nights = { ...stepWith({ cycle: '2 s' }), calendar, target: '1500 wafers/h' }
    const row = rowOf(nights)
    expect(row.openShare).toBeCloseTo(2 / 3, 12)
    expect(row.netPerHour).toBe(1800)
    expect(row.goodPerHour).toBeCloseTo(1200, 9)
    expect(row.target?.startsPerHour).toBeCloseTo(2250, 9)
    expect(row.target?.load).toBeCloseTo(1.25, 12)
  })

  // Open from 06:00; due at 04:00 for 4 h: planned work is half done by then, people and failures begin at 06:00.
  it.each([
    ['planned work', { kind: 'scheduled' }, 2],
    ['planned work with people', { kind: 'scheduled', skill: 'fitters' }, 4],
    ['a failure', {}, 4],
  ])('take %s as a run does', (_, more, hours) => {
    const calendar = { shifts: { day: { from: '06:00', to: '22:00' } } }
    const stops = [{ stop: 's', at: ['04:00'], lasts: '4 h', ...more }]
    const line = { ...stepWith({ cycle: '2 s', stops }), calendar, crews: { fitters: { heads: 1 } } }
    expect(rowOf(line).availability).toBeCloseTo(1 - hours / 16, 12)
  })
})

describe('own cycle times', () => {
  it('add up', () => {
    expect(rowOf(stepWith({ cycles: ['2 s', { exponential: '4 s' }], tools: 2 }))).toMatchObject({
      tools: 2,
      toolPerHour: 1350,
      netPerHour: 2700,
    })
  })
})

describe('a tester', () => {
  // Normal law: 2.275 % lie below mean - 2 sd, 15.866 % below mean - 1 sd (standard tables).
  const test = { noise: '0.15 %', rejectBelow: '22.5 %', reworkBelow: '22.75 %' }
  const kind = { area: '330 cm2', efficiency: { mean: '23 %', sd: '0.2 %' } }
  const step = { step: 'print', cycle: '1 s', test, rework: { share: '0 %', to: 'print', atMost: 1 } }

  it('rejects and reworks by what it measures: own efficiency and noise', () => {
    const row = rowOf({ ...routeOf(step), wafer: kind })
    relativelyCloseTo(row.startsPerWafer, 1 + (0.15865525393145707 - 0.022750131948179195), 1e-9)
  })

  it('measures the shift of the ingot lot as well', () => {
    const noiseless = { ...step, test: { ...test, noise: '0 %' } }
    const shifted = { ...kind, efficiency: { ...kind.efficiency, lot: { wafers: 5000, sd: '0.15 %' } } }
    const row = rowOf({ ...routeOf(noiseless), wafer: shifted })
    relativelyCloseTo(row.startsPerWafer, 1 + (0.15865525393145707 - 0.022750131948179195), 1e-9)
  })

  it('without any spread rejects all or none', () => {
    const same = { ...wafer, efficiency: { mean: '23 %' } }
    const at = (rejectBelow: string) =>
      rowOf({ ...routeOf({ step: 'print', cycle: '1 s', test: { rejectBelow } }), wafer: same }).yield
    expect([at('22.9 %'), at('23 %')]).toEqual([1, 1])
  })
})

it('breakage comes before reject, reject before rework', () => {
  const row = rowOf(
    singleWith({ breakage: '10 %', reject: '20 %', rework: { share: '50 %', to: 'print', atMost: 1 } }),
  )
  const [back, pass] = [0.9 * 0.8 * 0.5, 0.9 * 0.8 * 0.5]
  relativelyCloseTo(row.startsPerWafer, 1 + back, 1e-12)
  relativelyCloseTo(row.yield, pass * (1 + back), 1e-12)
})

it('the lowest row is the one that allows the fewest good cells, not the slowest tool', () => {
  // The first step is slower by 5 %, but the second works on each wafer 1.1 times.
  const rows = rowsOf(
    routeOf(
      { step: 'texture', cycle: '1.05 s' },
      { step: 'print', cycle: '1 s', rework: { share: '10 %', to: 'print', atMost: 1 } },
    ),
  )
  expect(rows.map(row => row.lowest)).toEqual([false, true])
  expect(rows[0].target).toBeUndefined()
})
