import { describe, expect, it } from 'vitest'
import { between, lineWith, routeOf, singleWith, stopWith, wafer, warningsIn } from './lines.ts'

/** Warnings: allowed, but probably a mistake. Texts as they are shown. */

describe('target and feed', () => {
  it.each<[unknown, string[]]>([
    [lineWith({ target: '1800 wafers/h' }), []],
    [
      lineWith({ target: '1801 wafers/h' }),
      [
        'target: found "1801 wafers/h", expected at most what "print" allows on paper, 1800 wafers/h (net of its stops, yields and rework; waiting comes on top)',
      ],
    ],
    // Met but for the rounding of the machine.
    [lineWith({ route: [{ step: 'print', cycle: '5 s', reject: '4 %' }], target: '691.2 wafers/h' }), []],
    [
      lineWith({ target: '1000 wafers/h', feed: { rate: '900 wafers/h' } }),
      [
        'target: found "1000 wafers/h", expected at most what the feed allows, 900 wafers/h (its wafers less what the line loses)',
      ],
    ],
    [
      lineWith({ target: '1000 wafers/h', feed: { every: { exponential: '10 min' }, carrier: 100 } }),
      [
        'target: found "1000 wafers/h", expected at most what the feed allows, 600 wafers/h (its wafers less what the line loses)',
      ],
    ],
    [routeOf({ buffer: 'store', capacity: 90 }, { step: 'fire', batch: { load: 50, time: '1 h' } }), []],
    [
      Object.assign(
        routeOf({ buffer: 'store', capacity: 90 }, { step: 'fire', batch: { load: 50, time: '1 h' } }),
        { feed: { every: '1 s', wafers: 1010 } },
      ),
      [
        'feed → wafers: found 1010, expected "least" in the batch of "fire" (it starts full loads only, so up to 49 wafers stay before it at the end)',
      ],
    ],
    [
      Object.assign(
        routeOf(
          { buffer: 'store', capacity: 90 },
          { step: 'fire', batch: { load: 50, time: '1 h', least: 1 } },
        ),
        { feed: { every: '1 s', wafers: 1010 } },
      ),
      [],
    ],
    [
      Object.assign(routeOf({ buffer: 'store', capacity: 90 }, { step: 'print', cycle: '1 s' }), {
        feed: { every: '1 h', carrier: 100, whenFull: 'turn away' },
      }),
      [
        'feed → carrier: found 100 wafers together, expected at most the places of "store", 90 (what finds no place is turned away)',
      ],
    ],
    [
      Object.assign(routeOf({ buffer: 'store', capacity: 90 }, { step: 'print', cycle: '1 s' }), {
        feed: { every: '1 h', carrier: 100 },
      }),
      [],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('wafer, test and bins', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({ wafer: { area: '330 cm2', efficiency: { mean: '31 %' } } }),
      [
        'wafer → efficiency → mean: found "31 %", expected at most 29.4 % (a single junction of silicon gives no more)',
      ],
    ],
    [
      lineWith({ wafer: { area: '330 mm2', efficiency: { mean: '0.231 %' } } }),
      [
        'wafer → efficiency → mean: found "0.231 %", expected at least 10 % (crystalline silicon cells reach 18 % to 27 %)',
        'wafer → area: found "330 mm2", expected from 50 cm2 to 1000 cm2 (a wafer of 182 mm edge has 330 cm2)',
      ],
    ],
    [
      lineWith({
        wafer,
        bins: { first: '24 %', width: '0.1 %', count: 10 },
        route: [{ step: 'test', cycle: '1 s', test: {} }],
      }),
      [
        'bins: found bins from 24 % to 25 %, expected bins around the mean efficiency, 23 % (most cells fall below the lowest)',
      ],
    ],
    [
      lineWith({
        wafer,
        bins: { first: '20 %', width: '0.1 %', count: 10 },
        route: [{ step: 'test', cycle: '1 s', test: {} }],
      }),
      [
        'bins: found bins from 20 % to 21 %, expected bins around the mean efficiency, 23 % (most cells fall into the highest)',
      ],
    ],
    [
      lineWith({
        wafer,
        bins: { first: '22 %', width: '0.1 %', count: 20 },
        route: [{ step: 'test', cycle: '1 s', test: {} }],
      }),
      [],
    ],
    [
      lineWith({ wafer, route: [{ step: 'test', cycle: '1 s', test: { rejectBelow: '23 %' } }] }),
      [
        'route[0] "test" → test → rejectBelow: found "23 %", expected less than the mean efficiency, 23 % (half of all cells or more are rejected)',
      ],
    ],
    [
      lineWith({
        wafer,
        route: [
          {
            step: 'test',
            cycle: '1 s',
            test: { reworkBelow: '22 %' },
            rework: { share: '0 %', to: 'test', atMost: 1 },
          },
        ],
      }),
      [
        'route[0] "test" → test → reworkBelow: found a test without noise, expected some noise (a wafer that comes back measures the same again)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('steps', () => {
  it.each<[unknown, string[]]>([
    [
      singleWith({ breakage: '6 %' }),
      [
        'route[0] "print" → breakage: found "6 %", expected at most 5 % (steps break well below one wafer in a hundred)',
      ],
    ],
    [
      lineWith({
        wafer,
        route: [{ step: 'dry', belt: { length: '6 m', speed: '6 m/min', pitch: '150 mm' } }],
      }),
      [
        'route[0] "dry" → belt → pitch: found "150 mm", expected at least the edge of the wafer, about 181.66 mm (the pitch counts from one wafer to the next)',
      ],
    ],
    [
      lineWith({
        wafer,
        route: [{ step: 'dry', belt: { length: '6 m', speed: '6 m/min', pitch: '200 mm' } }],
      }),
      [],
    ],
    [
      stopWith({ every: '5 min', lasts: { exponential: '6 min' } }),
      [
        'route[0] "print" → stops[0] "jam" → lasts: found 6 min on average, expected less than the time between two of them, 5 min (the tool is down most of the time)',
      ],
    ],
    [
      stopWith({ counts: 'wafers', every: 100, lasts: '5 min' }),
      [
        'route[0] "print" → stops[0] "jam" → lasts: found 5 min on average, expected less than the time between two of them, 3.3333 min (the tool is down most of the time)',
      ],
    ],
    [
      stopWith({ inside: { lose: 2 } }),
      [
        'route[0] "print" → stops[0] "jam" → inside → lose: found 2, expected at most 1 (the tool holds no more)',
      ],
    ],
    [stopWith({ inside: { lose: [0, 1] } }), []],
    [
      Object.assign(stopWith({ every: '500 h' }), { run: { days: 10, replications: 5 } }),
      [
        'route[0] "print" → stops[0] "jam" → every: found none of them in 5 runs of 10 days, expected 5 or more, by longer or more runs (with so few, what they cost is left to luck)',
      ],
    ],
    [Object.assign(stopWith({ every: '500 h' }), { run: { days: 10 } }), []],
    [Object.assign(stopWith({ every: '500 h' }), { run: { days: 100, replications: 5 } }), []],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('what stands behind a tool', () => {
  it.each<[unknown, string[]]>([
    [
      between({ step: 'dry', belt: { spacing: '1 s', transit: '60 s' } }, { buffer: 'store', capacity: 40 }),
      [
        'route[1] "dry" → belt: found 60 wafers on the full belt, expected a place behind for each of them; in "store": 40 (so it runs out early and is fed more slowly than its spacing allows)',
      ],
    ],
    [
      between({ step: 'dry', belt: { spacing: '1 s', transit: '60 s' } }, { buffer: 'store', capacity: 60 }),
      [],
    ],
    [
      between(
        { step: 'dry', tools: 2, belt: { spacing: '1 s', transit: '60 s' } },
        { buffer: 'store', capacity: 60 },
      ),
      [
        'route[1] "dry" → belt: found 120 wafers on the full belt, expected a place behind for each of them; in "store": 60 (so it runs out early and is fed more slowly than its spacing allows)',
      ],
    ],
    [
      between({ step: 'dry', belt: { spacing: '1 s', transit: '60 s', lanes: 2 } }),
      [
        'route[1] "dry" → belt: found 120 wafers on the full belt, expected a place behind for each of them; in the tools of "print": 1 (so it runs out early and is fed more slowly than its spacing allows)',
      ],
    ],
    [between({ step: 'dry', belt: { spacing: '1 s', transit: '60 s', whenFull: 'stop' } }), []],
    [between({ step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 1 } }), []],
    [
      between({ buffer: 'store', capacity: 90 }, { step: 'fire', batch: { load: 50, time: '1 h' } }),
      [
        'route[2] "fire" → batch → load: found 50, expected places for a load behind it; in the tools of "print": 1 (a tube is held until the last wafer of its load has been taken)',
      ],
    ],
    [
      between(
        { buffer: 'store', capacity: 90 },
        { step: 'fire', batch: { load: 50, time: '1 h' } },
        { buffer: 'rack', capacity: 50 },
      ),
      [],
    ],
    [
      between(
        { buffer: 'store', capacity: 90 },
        { step: 'fire', batch: { load: 50, time: '1 h' } },
        { buffer: 'rack', capacity: 'unlimited' },
      ),
      [],
    ],
    [
      between({
        group: 'g',
        lanes: ['x'],
        each: [
          { step: 'dry', belt: { spacing: '1 s', transit: '60 s' } },
          { buffer: 'store', capacity: 60 },
        ],
      }),
      [],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('stores that wafers stay in', () => {
  it.each<[unknown, string[]]>([
    [
      Object.assign(between({ conveyor: 'link', transit: '60 s', capacity: 30 }), {
        target: '1800 wafers/h',
      }),
      [],
    ],
    [
      Object.assign(between({ conveyor: 'link', transit: '61 s', capacity: 30 }), {
        target: '1800 wafers/h',
      }),
      [
        'route[1] "link" → capacity: found 30 places for "61 s" each, expected room for the target, 1800 wafers/h (it passes at most 1770.5 wafers/h)',
      ],
    ],
    [
      Object.assign(between({ buffer: 'cure', leastDwell: '1 h', capacity: 1700 }), {
        target: '1800 wafers/h',
      }),
      [
        'route[1] "cure" → capacity: found 1700 places for "1 h" each, expected room for the target, 1800 wafers/h (it passes at most 1700 wafers/h)',
      ],
    ],
    [
      Object.assign(
        between({
          group: 'g',
          lanes: ['x', 'y'],
          each: [
            { step: 'a', cycle: '1 s' },
            { conveyor: 'link', transit: '61 s', capacity: 15 },
            { step: 'b', cycle: '1 s' },
          ],
        }),
        { target: '1800 wafers/h' },
      ),
      [
        'route[1] "g" → each[1] "link" → capacity: found 15 places for "61 s" each, expected room for the target, 1800 wafers/h (it passes at most 1770.5 wafers/h)',
      ],
    ],
    // How lanes of their own share the flow is not known here.
    [
      Object.assign(
        between({
          group: 'g',
          lanes: {
            x: [
              { step: 'a', cycle: '1 s' },
              { conveyor: 'link', transit: '61 s', capacity: 5 },
              { step: 'b', cycle: '1 s' },
            ],
            y: [{ step: 'c', cycle: '1 s' }],
          },
        }),
        { target: '1800 wafers/h' },
      ),
      [],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('variants', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({ variants: { same: { print: { tools: 1 } }, more: { print: { tools: 2 } }, empty: {} } }),
      [
        'variants "same": found a variant that changes nothing, expected a value other than that of the line (its results are those of the line itself)',
        'variants "empty": found a variant that changes nothing, expected a value other than that of the line (its results are those of the line itself)',
      ],
    ],
    // What is said of the line is not said again of each variant; what only a variant does is said of it.
    [
      lineWith({
        target: '1801 wafers/h',
        variants: { slow: { print: { cycle: '3 s' } }, brittle: { print: { breakage: '6 %', tools: 2 } } },
      }),
      [
        'target: found "1801 wafers/h", expected at most what "print" allows on paper, 1800 wafers/h (net of its stops, yields and rework; waiting comes on top)',
        'variants "brittle" → route[0] "print" → breakage: found "6 %", expected at most 5 % (steps break well below one wafer in a hundred)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(warningsIn(value)).toEqual(texts)
  })
})

describe('hours of the year', () => {
  const money = { currency: 'EUR', pricePerCell: 1, wafer: 0.5 }
  const days = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri']
  const fiveDays = { shifts: { all: { from: '00:00', to: '00:00', days } } }
  const given = (hoursPerYear: number, calendar?: object) =>
    warningsIn({ ...lineWith({ money: { ...money, hoursPerYear } }), ...(calendar && { calendar }) })

  it('count closed hours, which the rates do too', () => {
    // Open in 5 of 7 days: 6257 of 8760 h.
    expect(given(6300, fiveDays).filter(text => text.includes('hoursPerYear'))).toEqual([
      'money → hoursPerYear: found 6300, expected well above the 6257 h in which the line is open, up to 8760 (all rates are means over closed hours too, which would be left out twice)',
    ])
    expect(given(8400, fiveDays).join()).not.toContain('hoursPerYear')
    expect(given(6300).join()).not.toContain('hoursPerYear')
  })
})
