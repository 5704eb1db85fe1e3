import { describe, expect, it } from 'vitest'
import { capacityTable } from '../../sim/line/capacity.ts'
import { lineWith, routeOf, singleWith, stepWith, valid, wafer } from './lines.ts'

/** The paper capacity of what people, the calendar, boats and recipes do, by hand. Plain arithmetic needs no source. */

const rowOf = (value: unknown) => {
  const row = capacityTable(valid(value)).find(({ step }) => step === 'print')
  if (!row) throw new Error('no row of print')
  return row
}

describe('boats', () => {
  const tool = (boats: object, more: object = {}) =>
    routeOf(
      { buffer: 'store', capacity: 6000 },
      {
        step: 'print',
        batch: { load: 1000, time: '50 min', tubes: 4, loading: '5 min', unloading: '5 min', boats, ...more },
      },
    )

  it('are no limit when there are enough', () => {
    // 4 tubes: 4000 wafers an hour.
    expect(rowOf(tool({ perTool: 6, cooling: '30 min' })).toolPerHour).toBeCloseTo(4000, 9)
  })

  it('limit to boats x load / (cycle + cooling)', () => {
    // 4 boats, each 60 + 20 min: 3000 an hour; two tools make twice as many.
    expect(rowOf(tool({ perTool: 4, cooling: '20 min' })).netPerHour).toBeCloseTo(3000, 9)
  })

  it('are away to be cleaned and replaced', () => {
    // One load in ten 220 min instead of 20 min: 60 + 22 + 18 = 100 min.
    const cleaned = { perTool: 4, cooling: '20 min', cleaning: { every: 10, lasts: '220 min' } }
    expect(rowOf(tool(cleaned)).netPerHour).toBeCloseTo(2400, 9)
    // One in a hundred 2020 min: 60 + 20.2 + 19.8 = 100 min.
    const broken = { perTool: 4, cooling: '20 min', breakage: { share: '1 %', replacedAfter: '2020 min' } }
    expect(rowOf(tool(broken)).netPerHour).toBeCloseTo(2400, 9)
  })

  it('that are coated take a tube once more', () => {
    const cleaning = { every: 10, lasts: '0 s', coating: '40 min' }
    // A tube: 60 min a load, and 40 min for each ten.
    const row = rowOf(tool({ perTool: 90, cleaning }))
    expect(row.availability).toBeCloseTo(60 / 64, 12)
    expect(row.netPerHour).toBeCloseTo((4 * 1000 * 60) / 64, 9)
    // Boats: 60 + 4 min.
    expect(rowOf(tool({ perTool: 3, cleaning })).netPerHour).toBeCloseTo((3 * 1000 * 60) / 64, 9)
  })
})

describe('stops by the clock', () => {
  const stop = (at: string[], lasts = '30 min') => ({ stops: [{ stop: 'check', at, lasts }] })
  const days = { shifts: { day: { from: '06:00', to: '18:00' } } }

  it('take their share of the day', () => {
    expect(rowOf(singleWith(stop(['06:00', '18:00']))).availability).toBeCloseTo(1 - 1 / 24, 12)
    expect(rowOf(singleWith(stop(['Mon 06:00'], '84 h'))).availability).toBeCloseTo(0.5, 12)
  })

  it('cost nothing while the line is closed, where they are planned and need nobody', () => {
    const planned = (at: string[]) => ({ stops: stop(at).stops.map(one => ({ ...one, kind: 'scheduled' })) })
    // 06:00 and 18:00: only the first falls on the 12 open hours.
    expect(rowOf({ ...singleWith(planned(['06:00', '18:00'])), calendar: days }).availability).toBeCloseTo(
      1 - 0.5 / 12,
      12,
    )
    // 05:40 to 06:10: ten minutes of the open time.
    expect(rowOf({ ...singleWith(planned(['05:40'])), calendar: days }).availability).toBeCloseTo(
      1 - 1 / 72,
      12,
    )
    // Late on Sunday, into Monday.
    const always = { shifts: { all: { from: '00:00', to: '12:00' } } }
    expect(rowOf({ ...singleWith(planned(['Sun 23:45'])), calendar: always }).availability).toBeCloseTo(
      1 - 0.25 / 84,
      12,
    )
  })

  it('multiply with stops by the calendar', () => {
    const stops = [
      { stop: 'check', at: ['06:00'], lasts: '2.4 h' },
      { stop: 'jam', counts: 'calendar time', every: '9 h', lasts: '1 h' },
    ]
    expect(rowOf(singleWith({ stops })).availability).toBeCloseTo(0.9 * 0.9, 12)
  })
})

describe('stops that wait for a good moment', () => {
  const waiting = (stop: object, step: object = { cycle: '10 s' }, more: object = {}) =>
    lineWith({
      ...more,
      route: [
        { buffer: 'store', capacity: 500 },
        {
          ...{ step: 'print', ...step },
          stops: [{ stop: 'change', lasts: '10 min', kind: 'scheduled', ...stop }],
        },
      ],
    })

  it('come as late as they may on a tool that never starves', () => {
    // 360 an hour: an hour, the wait, and 10 min, of which the tool works all but the last.
    const every = (atMost: string, more: object = {}) =>
      rowOf(waiting({ every: '1 h', waits: { until: 'starved', atMost }, ...more })).netPerHour
    expect(every('1 h')).toBeCloseTo((360 * 120) / 130, 9)
    expect(every('4 h')).toBeCloseTo((360 * 300) / 310, 9)
    expect(every('1 h', { counts: 'calendar time' })).toBeCloseTo((360 * 120) / 130, 9)
    expect(every('1 h', { counts: 'wafers', every: 360 })).toBeCloseTo((360 * 120) / 130, 9)
  })

  it('wait for half a load where that is in work', () => {
    // Loads of 100 in 60 min: after 2 h and half an hour 10 min.
    const tube = { batch: { load: 100, time: '1 h' } }
    const stop = { every: '2 h', waits: { until: 'load ends', atMost: '2 h' } }
    expect(rowOf(waiting(stop, tube)).netPerHour).toBeCloseTo((100 * 150) / 160, 9)
  })

  it('wait for half a shift, or as long as they may', () => {
    const shifts = { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } }
    const stop = (atMost: string) => ({
      ...{ counts: 'calendar time', every: '20 h' },
      waits: { until: 'shift change', atMost },
    })
    const share = (atMost: string) =>
      rowOf(waiting(stop(atMost), { cycle: '10 s' }, { calendar: { shifts } })).netPerHour / 360
    // 6 h of 12 on the average.
    expect(share('12 h')).toBeCloseTo(26 / (26 + 1 / 6), 9)
    // In the last 2 of 12 h one, else 2: 11 / 6.
    expect(share('2 h')).toBeCloseTo((20 + 11 / 6) / (20 + 11 / 6 + 1 / 6), 9)
  })

  const shifts = { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } }
  const served = (waits: object, reach: string, heads: object | number) => {
    const stop = { counts: 'calendar time', every: '20 h', skill: 'fitter', waits }
    const line = { calendar: { shifts }, crews: { fitter: { heads, reach } } }
    return rowOf(waiting(stop, { cycle: '10 s' }, line)).netPerHour / 360
  }
  const day = { day: 1, night: 0 }

  it('wait for a shift that has the people', () => {
    // 12 h of 24 on the average: the day begins at 06:00 only.
    expect(served({ until: 'shift change', atMost: '24 h' }, '0 s', day)).toBeCloseTo(32 / (32 + 1 / 6), 9)
    expect(served({ until: 'shift change', atMost: '24 h' }, '0 s', 1)).toBeCloseTo(26 / (26 + 1 / 6), 9)
  })

  it('wait until people come, and work on', () => {
    // Somebody is always there, half an hour away: 20.5 h of work, 10 min of service.
    const soon = { until: 'people come', atMost: '24 h' }
    expect(served(soon, '30 min', 1)).toBeCloseTo(20.5 / (20.5 + 1 / 6), 9)
    // By night nobody: half of the time 6 h more on the average.
    expect(served(soon, '30 min', day)).toBeCloseTo(23.5 / (23.5 + 1 / 6), 9)
    // 2 h at most, of which half an hour is for the way: by night 1.5 h, in its last 1.5 h half of that.
    const most = 20.5 + (10.5 * 1.5 + 1.5 * 0.75) / 24
    expect(served({ ...soon, atMost: '2 h' }, '30 min', day)).toBeCloseTo(most / (most + 1 / 6), 9)
    // 10 min of the half hour at most: 20 min it stands.
    expect(served({ ...soon, atMost: '10 min' }, '30 min', 1)).toBeCloseTo((20 + 1 / 6) / (20 + 2 / 3), 9)
  })
})

describe('stops by the calendar of a line that closes', () => {
  const shifts = { day: { from: '06:00', to: '14:00' } }
  const openTwelve = (every: unknown, more: object = {}) =>
    rowOf({
      ...singleWith({
        cycle: '30 s',
        stops: [{ stop: 'change', counts: 'calendar time', every, lasts: '1 h', ...more }],
      }),
      calendar: { shifts },
    }).netPerHour / 120

  // By hand: due every 24 h, first on Monday at 23:00, so always when the line opens at 06:00 after that: then every 24 h at 06:00, due at 06:00.
  it('that scatter in nothing come at the same hours for ever', () => {
    expect(openTwelve('23 h')).toBeCloseTo(7 / 8, 2)
  })

  // By hand: 16 of 24 h are closed, so two of three begin with the day, 8 h after they were due on the average, and take an hour of it; the
  // others take an hour but for what falls after 14:00, an eighth of them half an hour: 47/48 h of every 23 + 16/3 + 1 h, 8 of 24 of them open.
  it('wait for the line to open', () => {
    expect(1 - openTwelve({ exponential: '23 h' })).toBeCloseTo(47 / 48 / ((23 + 16 / 3 + 1) / 3), 3)
  })

  it('that need nobody do not wait', () => {
    expect(openTwelve({ exponential: '23 h' }, { kind: 'scheduled' })).toBeCloseTo(23 / 24, 9)
  })
})

describe('closed hours', () => {
  const days = { shifts: { day: { from: '06:00', to: '18:00' } } }

  it('change no rate: rates are those of an open hour', () => {
    expect(rowOf({ ...singleWith({}), calendar: days }).netPerHour).toBeCloseTo(1800, 9)
  })

  it('cost warming up when they are longer than the tool keeps warm', () => {
    const cold = (after: string) => ({
      ...singleWith({ warmUp: { after, lasts: '36 min' } }),
      calendar: days,
    })
    // Each of seven mornings 36 min of 12 h.
    expect(rowOf(cold('4 h')).availability).toBeCloseTo(0.95, 12)
    expect(rowOf(cold('12 h')).availability).toBe(1)
  })

  it('over the weekend are one closure', () => {
    // Closed from Friday 18:00 to Monday 06:00, and 12 h each night: once longer than 20 h, 6 h of 60 h.
    const calendar = { shifts: { day: { ...days.shifts.day, days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'] } } }
    const line = { ...singleWith({ warmUp: { after: '20 h', lasts: '6 h' } }), calendar }
    expect(rowOf(line).availability).toBeCloseTo(0.9, 12)
  })
})

describe('warming up after a stop', () => {
  const cold = (lasts: unknown) =>
    singleWith({
      warmUp: { after: '1 h', lasts: '2 h' },
      stops: [{ stop: 'jam', counts: 'calendar time', every: '10 h', lasts }],
    })

  it('comes on top of those that are longer than the tool keeps warm', () => {
    expect(rowOf(cold('1 h')).availability).toBeCloseTo(10 / 11, 9)
    expect(rowOf(cold('2 h')).availability).toBeCloseTo(10 / 14, 9)
    // Evenly between 0 and 2 h: half of them, 1 h on average.
    expect(rowOf(cold({ uniform: ['0 s', '2 h'] })).availability).toBeCloseTo(10 / 12, 9)
    // Exponential with mean 1 h: exp(-1) of them. A gamma law with cv 1 is the same.
    const above = Math.exp(-1)
    expect(rowOf(cold({ exponential: '1 h' })).availability).toBeCloseTo(10 / (11 + 2 * above), 9)
    expect(rowOf(cold({ gamma: '1 h', cv: 1 })).availability).toBeCloseTo(10 / (11 + 2 * above), 9)
    expect(rowOf(cold({ gamma: '61 min', cv: 1e-5 })).availability).toBeCloseTo(10 / (11 + 1 / 60 + 2), 9)
  })
})

it('the way of who serves a stop counts for warming up', () => {
  // By hand: 2 h on the way and 1 h of work are longer than 2 h: 3 h up of 3 + 3 + 3.
  const stops = [{ stop: 'jam', every: '3 h', lasts: '1 h', skill: 'fitters' }]
  const line = singleWith({ stops, warmUp: { after: '2 h', lasts: '3 h' } })
  const reached = (reach: string) => rowOf({ ...line, crews: { fitters: { heads: 1, reach } } }).availability
  expect(reached('2 h')).toBeCloseTo(1 / 3, 12)
  // By hand: 1 h and 1 h are not longer than 2 h; 3 h on the way alone are.
  expect(reached('1 h')).toBeCloseTo(3 / 5, 12)
  expect(reached('3 h')).toBeCloseTo(3 / 10, 12)
})

describe('crews', () => {
  it('take their time to reach the tool, the quickest one counts', () => {
    const stops = [
      { stop: 'jam', counts: 'calendar time', every: '50 min', lasts: '6 min', skill: 'screens' },
    ]
    const crews = {
      far: { heads: 1, skills: ['screens'], reach: '9 min' },
      near: { heads: 1, skills: ['screens', 'belts'], reach: { exponential: '4 min' } },
    }
    expect(rowOf({ ...singleWith({ stops }), crews }).availability).toBeCloseTo(50 / 60, 12)
  })

  it('clear shards', () => {
    // A wafer in a hundred: 1 % x (3 + 2) s on 2 s.
    const breakage = { share: '1 %', clearing: { lasts: '2 s', skill: 'a' } }
    const row = rowOf({ ...singleWith({ breakage }), crews: { a: { heads: 1, reach: '3 s' } } })
    expect(row.availability).toBeCloseTo(1 / 1.025, 12)
  })
})

it('events take their share of the steps that they strike', () => {
  const event = { event: 'power', every: '10 d', lasts: '1 d' }
  expect(rowOf({ ...singleWith({}), events: [event] }).availability).toBeCloseTo(0.9, 12)
  const two = routeOf({ step: 'print', cycle: '2 s' }, { step: 'other', cycle: '2 s' })
  expect(rowOf({ ...two, events: [{ ...event, steps: ['other'] }] }).availability).toBe(1)
})

describe('set-up wafers', () => {
  const calendar = { shifts: { day: { from: '06:00', to: '18:00' } } }
  const yieldOf = (stop: object, more: object = {}) =>
    rowOf({
      ...stepWith({ cycle: '2 min', stops: [{ stop: 's', kind: 'scheduled', setUpWafers: 100, ...stop }] }),
      ...more,
    }).yield

  it('by the clock are of what is made in open hours', () => {
    // By hand: 30 an hour for 12 h are 360 a day, 100 of them lost; at night two such stops are followed by one 100.
    expect(yieldOf({ at: ['06:00'], lasts: '0 s' }, { calendar })).toBeCloseTo(260 / 360, 12)
    expect(yieldOf({ at: ['02:00', '04:00'], lasts: '10 min' }, { calendar })).toBeCloseTo(260 / 360, 12)
  })

  it('by the calendar come in closed hours too', () => {
    // By hand: each 24 h, 23 of them up: half of the time open, 30 an hour, 345 wafers.
    const stop = { counts: 'calendar time', every: '23 h', lasts: '1 h' }
    expect(yieldOf(stop, { calendar })).toBeCloseTo(245 / 345, 12)
  })

  it('by the calendar are of what other stops leave', () => {
    // By hand: 4 h of each 5 h are up, half of that the tool works: 60 wafers, 20 of them lost.
    const stops = [
      { stop: 'r', every: '1 h', lasts: '1 h' },
      { stop: 's', counts: 'calendar time', every: '4 h', lasts: '1 h', setUpWafers: 20 },
    ]
    expect(rowOf(stepWith({ cycle: '2 min', stops })).yield).toBeCloseTo(40 / 60, 12)
  })
})

it('events stop the loader and the loads in boats with the tool', () => {
  // By hand: the loader does 10 wafers in 2 min, 300 an hour, in half of the time; the tubes do 1000.
  const batch = { load: 10, time: '10 min', tubes: 20, loading: '1 min', unloading: '1 min' }
  const half = (more: object) => ({
    ...routeOf({ buffer: 'store', capacity: 100 }, { step: 'print', batch: { ...batch, ...more } }),
    events: [{ event: 'power', every: '2 h', lasts: '1 h' }],
  })
  expect(rowOf(half({})).netPerHour).toBeCloseTo(150, 9)
  // By hand: 2 boats of 12 min do 100 an hour, half of that with the events; cooling for 6 min goes on in them: 66.7 is no limit.
  expect(rowOf(half({ boats: { perTool: 2, cooling: '6 min' } })).netPerHour).toBeCloseTo(50, 9)
  // By hand: cooling for 36 min leaves 25 an hour, which the events need not lower.
  expect(rowOf(half({ boats: { perTool: 2, cooling: '36 min' } })).netPerHour).toBeCloseTo(25, 9)
})

it('events cost warming up when they are longer than the tool keeps warm', () => {
  // By hand: of each 6 h the event takes 1 h and warming up 2 h.
  const cold = (lasts: unknown) =>
    rowOf({
      ...singleWith({ warmUp: { after: '30 min', lasts: '2 h' } }),
      events: [{ event: 'power', every: '6 h', lasts }],
    }).availability
  expect(cold('1 h')).toBeCloseTo(0.5, 12)
  expect(cold('30 min')).toBeCloseTo(5.5 / 6, 12)
  // By hand: evenly between 0 and 2 h, three in four are longer than half an hour: 1 h and 1.5 h.
  expect(cold({ uniform: ['0 s', '2 h'] })).toBeCloseTo(3.5 / 6, 9)
})

it('a step runs by the recipe that it picks', () => {
  const recipes = { fast: { cycle: '1 s', reject: '10 %' } }
  expect(rowOf(stepWith({ cycle: '2 s', recipes })).netPerHour).toBeCloseTo(1800, 9)
  const fast = rowOf(stepWith({ cycle: '2 s', recipes, recipe: 'fast' }))
  expect(fast.netPerHour).toBeCloseTo(3600, 9)
  expect(fast.yield).toBeCloseTo(0.9, 12)
})

describe('hidden defects', () => {
  const stop = { stop: 'change', every: '9 h', lasts: '0 s' }
  const line = (finds: string | undefined, ...more: unknown[]) =>
    lineWith({
      wafer,
      route: [
        { step: 'etch', cycle: '1 s', defects: '10 %' },
        ...more,
        { step: 'print', cycle: '1 s', test: finds ? { finds } : {} },
        { step: 'last', cycle: '1 s', test: {} },
      ],
    })
  const yields = (value: unknown) => capacityTable(valid(value)).map(row => row.yield)

  it('are rejected where a test finds them', () => {
    expect(yields(line(undefined))).toEqual([1, 0.9, 1])
  })

  it('that are not found go on to the next test', () => {
    // 5 of 100 are found, then 5 of the 95 that are left.
    const [, print, last] = yields(line('50 %'))
    expect(print).toBeCloseTo(0.95, 12)
    expect(last).toBeCloseTo(90 / 95, 12)
  })

  it('of several steps meet by chance; drift counts half', () => {
    const worn = { step: 'worn', cycle: '1 s', stops: [stop], drift: { until: 'change', defects: '40 %' } }
    expect(yields(line(undefined, worn))[2]).toBeCloseTo(0.9 * 0.8, 12)
  })

  it('of lanes weigh as much as what the lanes pass on', () => {
    // By hand: 3600 and 400 wafers an hour; a tenth of all come by lane b, half of those have one: 5 % of 4000.
    const lanes = {
      a: [{ step: 'a', cycle: '1 s' }],
      b: [{ step: 'b', cycle: '9 s', defects: '50 %' }],
    }
    const test = { step: 'test', cycle: '0.5 s', test: {} }
    const rows = capacityTable(valid({ ...routeOf({ group: 'g', lanes }, test), wafer }))
    expect(rows[2].yield).toBeCloseTo(0.95, 12)
    expect(rows[0].goodPerHour).toBeCloseTo(3800, 9)
    // By hand: lane b loses half, so of 95 that leave 5 come by it; 2.5 of 95 have one.
    const lossy = { ...lanes, b: [{ ...lanes.b[0], reject: '50 %' }] }
    const [, , row] = capacityTable(valid({ ...routeOf({ group: 'g', lanes: lossy }, test), wafer }))
    expect(row.yield).toBeCloseTo(1 - 2.5 / 95, 12)
  })

  it('of lanes of one pace are averaged', () => {
    const lanes = { a: [{ step: 'a', cycle: '1 s', defects: '20 %' }], b: [{ step: 'b', cycle: '1 s' }] }
    expect(yields(line(undefined, { group: 'g', lanes }))[3]).toBeCloseTo((0.72 + 0.9) / 2, 12)
  })
})
