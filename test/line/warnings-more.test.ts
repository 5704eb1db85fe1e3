import { describe, expect, it } from 'vitest'
import { between, lineWith, problemsIn, routeOf, singleWith, stopWith, wafer, warningsIn } from './lines.ts'

/** Warnings of people, rules and carriers. Figures by pencil. */

const JAM = 'route[0] "print" → stops[0] "jam"'
const NOBODY =
  'crews "a" → heads: found 0 in shift "night", expected somebody for "a" in each shift (in 84 h of the week nobody comes, and what needs them waits until a shift has somebody)'
const texture = { step: 'texture', cycle: '2 s' }
const print = { step: 'print', cycle: '2 s' }
const store = { buffer: 'store', capacity: 900 }
const twelve = { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } }

describe('crews', () => {
  // 10 tools, each down 10 min (2 min to reach, 8 min of work) every 50 min: 10 x 10 / 50 = 2 persons.
  const tenTools = (stop: object, crews: unknown) => ({
    ...singleWith({
      tools: 10,
      stops: [{ stop: 'jam', counts: 'calendar time', every: '40 min', lasts: '8 min', skill: 'a', ...stop }],
    }),
    crews,
  })
  it.each<[unknown, string[]]>([
    [tenTools({}, { a: { heads: 2, reach: '2 min' } }), []],
    [
      tenTools({}, { a: { heads: 1, reach: '2 min' } }),
      [
        'crews "a" → heads: found 1 on average, expected at least 2 (what is asked of them would take 200 % of their time, so tools must wait for them)',
      ],
    ],
    // Two people for each stop.
    [
      tenTools({ people: 2 }, { a: { heads: 3, reach: '2 min' } }),
      [
        'crews "a" → heads: found 3 on average, expected at least 4 (what is asked of them would take 133 % of their time, so tools must wait for them)',
      ],
    ],
    // Crews with a common skill help each other.
    [
      tenTools(
        {},
        {
          b: { heads: 1, skills: ['a'], reach: '2 min' },
          c: { heads: 1, skills: ['a', 'x'], reach: '2 min' },
        },
      ),
      [],
    ],
    [
      { ...tenTools({}, { a: { heads: { day: 2 }, reach: '2 min' } }), calendar: { shifts: twelve } },
      [
        NOBODY,
        'crews "a" → heads: found 1 on average, expected at least 2 (what is asked of them would take 200 % of their time, so tools must wait for them)',
      ],
    ],
    // Planned work need not wait for the day with the tool down: 12 h without anybody.
    [
      { ...tenTools({ kind: 'scheduled' }, { a: { heads: { day: 20 } } }), calendar: { shifts: twelve } },
      [
        NOBODY.replace(
          'somebody)',
          'somebody; with waits until "people come" planned work lets the tool work on)',
        ),
      ],
    ],
    ...(['12 h', '11 h'] as const).map((atMost): [unknown, string[]] => [
      {
        ...tenTools(
          { kind: 'scheduled', waits: { until: 'people come', atMost } },
          { a: { heads: { day: 20 } } },
        ),
        calendar: { shifts: twelve },
      },
      atMost === '12 h' ? [] : [NOBODY],
    ]),
    // By the clock: 24 times an hour of work a day on one tool is one person; 10 tools.
    [
      {
        ...singleWith({
          tools: 10,
          stops: [{ stop: 'jam', at: ['06:00', '18:00'], lasts: '6 h', skill: 'a' }],
        }),
        crews: { a: { heads: 4 } },
      },
      [
        'crews "a" → heads: found 4 on average, expected at least 5 (what is asked of them would take 125 % of their time, so tools must wait for them)',
      ],
    ],
    // Fed with half of what the tool could take: so the jams, 20 min for every 20 min of work, are half as many.
    [
      {
        ...singleWith({ stops: [{ stop: 'jam', every: '20 min', lasts: '20 min', skill: 'a', people: 3 }] }),
        feed: { rate: '450 wafers/h' },
        crews: { a: { heads: 1 } },
      },
      [],
    ],
    // Shards: 1 % of 1800 an hour (net of it: 1 / 1.25), 50 s each: 0.2 persons.
    [
      {
        ...singleWith({ breakage: { share: '1 %', clearing: { lasts: '50 s', skill: 'a', people: 6 } } }),
        crews: { a: { heads: 1 } },
      },
      [
        'crews "a" → heads: found 1 on average, expected at least 2 (what is asked of them would take 120 % of their time, so tools must wait for them)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value).filter(text => text.startsWith('crews'))).toEqual(texts)
  })

  it.each<[unknown, string[]]>([
    [
      { ...stopWith({ skill: 'a', people: 3 }), crews: { a: { heads: 2 } } },
      [
        `${JAM} → people: found 3, expected at most 2, as many as a crew for "a" ever has (the tool stays down for ever)`,
      ],
    ],
    [
      { ...stopWith({ skill: 'a' }), crews: { a: { heads: { night: 0 } } }, calendar: { shifts: twelve } },
      [
        `${JAM} → people: found 1, expected at most 0, as many as a crew for "a" ever has (the tool stays down for ever)`,
      ],
    ],
    [
      {
        ...singleWith({ breakage: { share: '1 ppm', clearing: { lasts: '5 s', skill: 'a', people: 2 } } }),
        crews: { a: { heads: 1 } },
      },
      [
        'route[0] "print" → breakage → clearing → people: found 2, expected at most 1, as many as a crew for "a" ever has (the tool stays down for ever)',
      ],
    ],
    // Two people go together when one crew has them.
    [
      {
        ...stopWith({ skill: 'a', people: 2 }),
        crews: { a: { heads: 1 }, b: { heads: { day: 2 }, skills: ['a'] } },
        calendar: { shifts: twelve },
      },
      [
        `${JAM} → people: found 2, with 1 in shift "night", expected at most as many as a crew for "a" has in each shift (in 84 h of the week the tool stays down until a shift has enough)`,
      ],
    ],
    // Nobody at night, said once for the skill: 7 nights of 12 h.
    ...[{ day: 2 }, { day: 2, night: 0 }].map((heads): [unknown, string[]] => [
      {
        ...singleWith({
          stops: [
            { stop: 'jam', every: '1 h', lasts: '1 min', skill: 'a', people: 2 },
            { stop: 'change', every: '1 h', lasts: '1 min', skill: 'a' },
          ],
        }),
        crews: { a: { heads } },
        calendar: { shifts: twelve },
      },
      [NOBODY],
    ]),
    // Another crew that can do it is there, or the work is planned for the day.
    [
      {
        ...stopWith({ skill: 'a' }),
        crews: { a: { heads: { day: 2 } }, b: { heads: { night: 1 }, skills: ['a'] } },
        calendar: { shifts: twelve },
      },
      [],
    ],
    ...(
      [
        ['12:00', []],
        ['20:00', [NOBODY]],
      ] as const
    ).map(([at, texts]): [unknown, string[]] => [
      {
        ...singleWith({ stops: [{ stop: 'care', at: [at], lasts: '1 min', skill: 'a' }] }),
        crews: { a: { heads: { day: 2 } } },
        calendar: { shifts: twelve },
      },
      [...texts],
    ]),
    // Hours in which the line is closed are not missed: 5 late shifts of 8 h are.
    [
      {
        ...stopWith({ skill: 'a' }),
        crews: { a: { heads: { early: 1 } } },
        calendar: {
          shifts: {
            early: { from: '06:00', to: '14:00' },
            late: { from: '14:00', to: '22:00', days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'] },
          },
        },
      },
      [NOBODY.replace('night', 'late').replace('84', '40')],
    ],
    // One alone at night can do what needs one.
    [
      {
        ...stopWith({ skill: 'a' }),
        crews: { a: { heads: { day: 2, night: 1 } } },
        calendar: { shifts: twelve },
      },
      [],
    ],
    [
      {
        ...stopWith({ skill: 'a', people: 2 }),
        crews: { a: { heads: 1 }, b: { heads: 1, skills: ['a'] } },
      },
      [
        `${JAM} → people: found 2, expected at most 1, as many as a crew for "a" ever has (the tool stays down for ever)`,
      ],
    ],
    [
      lineWith({
        crews: { a: { heads: 1 }, b: { heads: 1, skills: ['x', 'y'] } },
        fleets: { vans: { number: 1 } },
      }),
      [
        'crews "a": found nothing that asks for it, expected a stop with the skill "a", or carriers moved by it (they are never called)',
        'crews "b": found nothing that asks for it, expected a stop with the skill "x" or "y", or carriers moved by it (they are never called)',
        'fleets "vans": found nothing that asks for it, expected carriers moved by "vans" (they are never called)',
      ],
    ],
  ])('are there, and asked for %#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('carriers', () => {
  const cassettes = { carriers: 'cassettes', holds: 100, number: 20, moved: { takes: '1 min' } }
  const tube = { step: 'tube', batch: { load: 500, time: '1 h' } }
  // 1800 wafers an hour in cassettes of 100, each 3 + 5 + 2 min: 18 x 10 min = 3 vans.
  const byVans = (number: number, perTrip: number) => ({
    ...between({ ...cassettes, moved: { takes: '5 min', by: 'vans', perTrip, returns: '2 min' } }),
    fleets: { vans: { number, reach: '3 min' } },
  })
  it.each<[unknown, string[]]>([
    [byVans(3, 1), []],
    [
      byVans(2, 1),
      [
        'fleets "vans" → number: found 2, expected at least 3 (its trips would take 150 % of its time, so carriers must wait)',
      ],
    ],
    [byVans(1, 3), []],
    [
      routeOf(texture, { ...cassettes, number: 4 }, store, tube),
      [
        'route[1] "cassettes" → number: found 4, expected at least 5, which hold a load ("tube" takes loads of 500)',
      ],
    ],
    // 20 x 100 wafers in 60 + 120 min: 667 an hour.
    [
      { ...between({ ...cassettes, moved: { takes: '1 h' }, back: '2 h' }), target: '1000 wafers/h' },
      [
        'route[1] "cassettes" → number: found 20 carriers, 3 h there and back, expected enough for the target, 1000 wafers/h (they bring at most 666.67 wafers/h)',
      ],
    ],
    // One in two of the whole ones is cleaned for 1 h, a tenth is broken for 3 h: 1 h + 0.9 x 30 min + 18 min: 1 h 45 min.
    [
      {
        ...between({
          ...cassettes,
          moved: { takes: '1 h' },
          cleaning: { every: 2, lasts: '1 h' },
          breakage: { share: '10 %', replacedAfter: '3 h' },
        }),
        target: '1200 wafers/h',
      },
      [
        'route[1] "cassettes" → number: found 20 carriers, 105 min there and back, expected enough for the target, 1200 wafers/h (they bring at most 1142.9 wafers/h)',
      ],
    ],
    [
      { ...between(cassettes), feed: { rate: '1000 wafers/h', wafers: 5010 } },
      [
        'feed → wafers: found 5010, expected "longestWait" in "cassettes" (they go full only, so up to 99 wafers stay in one at the end)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('time limits', () => {
  const limit = (after: string, atMost: string) => ({
    ...print,
    timeLimits: [{ after, atMost, late: 'scrap' }],
  })
  // 60 s on the conveyor, 90 s on the belt, 2 min in the rack, 5 min in carriers: 9 min 30 s.
  const way = (atMost: string) =>
    routeOf(
      texture,
      { conveyor: 'link', transit: '60 s', capacity: 90 },
      { step: 'etch', belt: { spacing: '1 s', transit: '90 s' } },
      { buffer: 'rack', capacity: 300, leastDwell: '2 min' },
      { step: 'look', cycle: '1 s' },
      { carriers: 'cassettes', holds: 10, number: 300, moved: { takes: '5 min' } },
      limit('texture', atMost),
    )
  it.each<[unknown, string[]]>([
    [way('10 min'), []],
    [
      way('9 min'),
      [
        'route[6] "print" → timeLimits[0] → atMost: found "9 min", expected more than the way from "texture" to here takes, 9.5167 min (every wafer is late)',
      ],
    ],
    // The quickest lane counts.
    [
      routeOf(
        texture,
        {
          group: 'g',
          lanes: {
            a: [
              { conveyor: 'long', transit: '60 s', capacity: 90 },
              { step: 'one', cycle: '2 s' },
            ],
            b: [
              { conveyor: 'short', transit: '20 s', capacity: 90 },
              { step: 'two', cycle: '2 s' },
            ],
          },
        },
        limit('texture', '22 s'),
      ),
      [],
    ],
    [
      routeOf(
        { group: 'g', lanes: ['a'], each: [texture, { step: 'dry', cycle: '30 s' }] },
        limit('texture', '20 s'),
      ),
      [
        'route[1] "print" → timeLimits[0] → atMost: found "20 s", expected more than the way from "texture" to here takes, 30 s (every wafer is late)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value).filter(text => text.includes('timeLimits'))).toEqual(texts)
  })
})

describe('rules', () => {
  const tube = (boats: object, more: object = {}) =>
    routeOf(store, { step: 'tube', batch: { load: 100, time: '1 h', tubes: 4, boats }, ...more })
  it.each<[unknown, string[]]>([
    [tube({ perTool: 4 }), []],
    [
      tube({ perTool: 3 }),
      [
        'route[1] "tube" → batch → boats → perTool: found 3, expected at least one for each tube, 4 (the other tubes never work)',
      ],
    ],
    // Its clock stands until it has been done.
    [stopWith({ waits: { until: 'starved', atMost: '3 h' } }), []],
    [
      singleWith({
        stops: [{ stop: 'jam', at: ['06:00'], lasts: '1 h', waits: { until: 'starved', atMost: '1 d' } }],
      }),
      [
        `${JAM} → waits → atMost: found "1 d", expected at most the time from one to the next, 23 h (it is due again before)`,
      ],
    ],
    [
      singleWith({
        defects: '1 %',
        stops: [
          {
            stop: 'jam',
            every: '2 h',
            lasts: '5 min',
            waits: { until: 'starved', atMost: '1 h' },
            overdue: '1 %',
          },
        ],
        drift: { until: 'jam', defects: '1 %' },
      }),
      ['defects', 'drift → defects', 'stops[0] "jam" → overdue'].map(
        place =>
          `route[0] "print" → ${place}: found hidden defects, expected a step with test behind it (nobody ever finds them)`,
      ),
    ],
    [
      lineWith({
        wafer,
        route: [
          { ...print, defects: '1 %' },
          { step: 'test', cycle: '2 s', test: {} },
        ],
      }),
      [],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('a cap', () => {
  // 2 + 50 on the belt + 2 x 2 x 100 in tubes + 1.
  const line = (cap: object) => ({
    ...routeOf(
      { ...texture, tools: 2 },
      { step: 'etch', belt: { spacing: '1 s', transit: '50 s', keepFree: 0 } },
      store,
      { step: 'tube', tools: 2, batch: { load: 100, time: '1 h', tubes: 2 } },
      { buffer: 'behind', capacity: 900 },
      print,
    ),
    cap,
  })
  it.each<[unknown, string[]]>([
    [line({ wafers: 453 }), []],
    [
      line({ wafers: 452 }),
      ['cap → wafers: found 452, expected at least 453 (so many are inside the tools when all of them work)'],
    ],
    [line({ wafers: 100, until: 'tube' }), []],
    [
      { ...line({ wafers: 451, until: 'print' }) },
      [
        'cap → wafers: found 451, expected at least 452 (so many are inside the tools before "print" when all of them work)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value).filter(text => text.startsWith('cap'))).toEqual(texts)
  })

  it('below a load, or below a carrier that goes full only, is a problem', () => {
    expect(problemsIn(line({ wafers: 99 }))).toEqual([
      'cap → wafers: found 99, expected at least 100 ("tube" waits for so many)',
    ])
    const carriers = (more: object) => ({
      ...between({ carriers: 'cassettes', holds: 100, number: 2, moved: { takes: '1 s' }, ...more }),
      cap: { wafers: 50 },
    })
    expect(problemsIn(carriers({}))).toEqual([
      'cap → wafers: found 50, expected at least 100 ("cassettes" waits for so many)',
    ])
    expect(problemsIn(carriers({ longestWait: '1 min' }))).toEqual([])
  })
})

describe('running down', () => {
  const calendar = (runDown: string, shifts: object) => lineWith({ calendar: { shifts, runDown } })
  const days = ['Mon', 'Tue']
  it.each<[unknown, string[]]>([
    [calendar('1 h', { day: twelve.day }), []],
    [
      calendar('1 h', twelve),
      ['calendar → runDown: found "1 h", expected a time at which the line is closed (it never runs down)'],
    ],
    [
      calendar('5 h', { day: { ...twelve.day, days }, short: { from: '06:00', to: '10:00', days: ['Wed'] } }),
      [
        'calendar → runDown: found "5 h", expected less than the shortest time for which the line is open, 4 h (no wafers enter then)',
      ],
    ],
    // Open from Monday 06:00 to Wednesday 06:00.
    [calendar('47 h', { day: { ...twelve.day, days }, night: { ...twelve.night, days } }), []],
    // Sunday night into Monday is one stretch of 12 h.
    [calendar('11 h', { night: { ...twelve.night, days: ['Sun'] } }), []],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })

  it('for as long as the line is ever open lets nothing in', () => {
    expect(problemsIn(calendar('12 h', { day: twelve.day }))).toEqual([
      'calendar → runDown: found "12 h", expected less than the longest time for which the line is open, 12 h (no wafer would ever enter)',
    ])
  })
})
