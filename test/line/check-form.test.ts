import { describe, expect, it } from 'vitest'
import { lineWith, problemsIn, routeOf, wafer } from './lines.ts'

/** Problems of form of the line as a whole. Texts as they are shown. */

describe('the whole', () => {
  it.each<[unknown, string[]]>([
    [5, ['the scenario: found 5, expected an object with the keys line and route']],
    [null, ['the scenario: found null, expected an object with the keys line and route']],
    [undefined, ['the scenario: found nothing, expected an object with the keys line and route']],
    [
      {},
      [
        'line: found nothing, expected a name',
        'route: found nothing, expected a list of steps, buffers, conveyors, carriers and groups',
      ],
    ],
    [
      Object.assign([], { line: 'x' }),
      ['the scenario: found an empty list, expected an object with the keys line and route'],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('the line', () => {
  it.each<[unknown, string[]]>([
    [lineWith({ line: 5 }), ['line: found 5, expected a name']],
    [lineWith({ line: ' ' }), ['line: found " ", expected a name']],
    [lineWith({ line: ' x' }), ['line: found " x", expected a name without blanks at its ends']],
    [lineWith({ line: 'a\nb' }), ['line: found "a\\nb", expected a name on one line, of visible characters']],
    [
      lineWith({ line: 'x'.repeat(81) }),
      [
        'line: found "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…", expected a name of at most 80 characters',
      ],
    ],
    [lineWith({ notes: 'x' }), ['notes: found "x", expected a list of texts']],
    [lineWith({ notes: ['x', 5] }), ['notes[1]: found 5, expected a text']],
    [lineWith({ from: 5 }), ['from: found 5, expected a text']],
    [
      lineWith({ colour: 1 }),
      [
        'colour: found an unknown key, expected one of line, notes, from, wafer, target, feed, calendar, crews, fleets, events, cap, route, bins, run, money, sizing, variants',
      ],
    ],
    [
      lineWith({ wafers: {} }),
      [
        'wafers: found an unknown key, expected one of line, notes, from, wafer, target, feed, calendar, crews, fleets, events, cap, route, bins, run, money, sizing, variants (did you mean "wafer"?)',
      ],
    ],
    [
      lineWith({ target: 7200 }),
      [
        'target: found 7200, expected a rate such as "3600 wafers/h" (units: wafers/h, wafers/min, wafers/s, cells/h) (its unit is missing)',
      ],
    ],
    [
      lineWith({ target: '0 wafers/h' }),
      ['target: found "0 wafers/h", expected a rate from 0.001 wafers/h to 3600000000 wafers/h'],
    ],
    [
      lineWith({ target: '7200 wafer/h' }),
      [
        'target: found "7200 wafer/h", expected a rate such as "3600 wafers/h" (units: wafers/h, wafers/min, wafers/s, cells/h) ("wafer/h" is not a unit of rate; did you mean "wafers/h"?)',
      ],
    ],
    // One line for a key that is misspelt, not a second one for the key that is missing.
    [
      { lin: 'x', rout: [] },
      [
        'lin: found an unknown key, expected one of line, notes, from, wafer, target, feed, calendar, crews, fleets, events, cap, route, bins, run, money, sizing, variants (did you mean "line"?)',
        'rout: found an unknown key, expected one of line, notes, from, wafer, target, feed, calendar, crews, fleets, events, cap, route, bins, run, money, sizing, variants (did you mean "route"?)',
      ],
    ],
    [
      JSON.parse('{ "line": "x", "route": [{ "step": "a", "cycle": "1 s" }], "__proto__": 1 }'),
      [
        '__proto__: found an unknown key, expected one of line, notes, from, wafer, target, feed, calendar, crews, fleets, events, cap, route, bins, run, money, sizing, variants',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('feed, wafer, bins and run', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({ feed: 'fast' }),
      ['feed: found "fast", expected "as fast as taken" or an object such as { rate: "3600 wafers/h" }'],
    ],
    [
      lineWith({ feed: 5 }),
      ['feed: found 5, expected "as fast as taken" or an object such as { rate: "3600 wafers/h" }'],
    ],
    [lineWith({ feed: {} }), ['feed: found a feed without a pace, expected either every or rate']],
    [
      lineWith({ feed: { every: '1 s', rate: '3600 wafers/h' } }),
      ['feed: found every and rate, expected either every or rate'],
    ],
    [
      lineWith({ feed: { rate: '0 wafers/h', carrier: 0, whenFull: 'lose', wafers: 0.5 } }),
      [
        'feed → rate: found "0 wafers/h", expected a rate from 0.001 wafers/h to 3600000000 wafers/h',
        'feed → carrier: found 0, expected a number of wafers from 1 to 1000000000000',
        'feed → whenFull: found "lose", expected "wait" or "turn away"',
        'feed → wafers: found 0.5, expected a whole number from 1 to 1000000000000',
      ],
    ],
    [
      lineWith({ feed: { every: '0 s' } }),
      ['feed → every: found "0 s", expected a time from 0.001 ms to 36500 d'],
    ],
    [lineWith({ wafer: '330 cm2' }), ['wafer: found "330 cm2", expected an object with area and efficiency']],
    [
      lineWith({ wafer: { area: '330 cm', efficiency: { mean: 23.1, sd: '0.1', lot: { wafers: 0 } } } }),
      [
        'wafer → area: found "330 cm", expected an area such as "330 cm2" (units: mm2, cm2, m2) ("cm" is a unit of length, not of area)',
        'wafer → efficiency → mean: found 23.1, expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
        'wafer → efficiency → sd: found "0.1", expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
        'wafer → efficiency → lot → wafers: found 0, expected a whole number from 1 to 10000000',
        'wafer → efficiency → lot → sd: found nothing, expected a share such as "0.5 %" (units: %, ppm)',
      ],
    ],
    [
      lineWith({ wafer, bins: { first: '22 %', width: '0 %', count: 0 } }),
      [
        'bins → width: found "0 %", expected a share from 1 ppm to 100 %',
        'bins → count: found 0, expected a whole number from 1 to 1000',
        'bins: found bins without a test, expected a step with test, such as test: { noise: "0.05 %" } (the last test sorts into the bins)',
      ],
    ],
    [
      lineWith({ run: { days: 0, replications: 1.5, seed: 7 } }),
      [
        'run → days: found 0, expected a number from 0.001 to 36500',
        'run → replications: found 1.5, expected a whole number from 1 to 10000',
        'run → seed: found 7, expected a text',
      ],
    ],
    [lineWith({ run: 30 }), ['run: found 30, expected an object such as { days: 30, replications: 10 }']],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('the route', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({ route: 5 }),
      ['route: found 5, expected a list of steps, buffers, conveyors, carriers and groups'],
    ],
    [lineWith({ route: [] }), ['route: found an empty list, expected at least one step']],
    [
      lineWith({ route: undefined }),
      ['route: found nothing, expected a list of steps, buffers, conveyors, carriers and groups'],
    ],
    [routeOf(5), ['route[0]: found 5, expected an object such as { step: "texture", cycle: "1.2 s" }']],
    [
      routeOf({}),
      [
        'route[0]: found an empty object, expected exactly one of the keys step, buffer, conveyor, carriers and group',
      ],
    ],
    [
      routeOf({ stepp: 'a' }),
      [
        'route[0]: found an object with stepp, expected exactly one of the keys step, buffer, conveyor, carriers and group (did you mean "step" instead of "stepp"?)',
      ],
    ],
    [
      routeOf({ step: 'a', buffer: 'b' }),
      [
        'route[0] "a": found step and buffer, expected exactly one of the keys step, buffer, conveyor, carriers and group',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
