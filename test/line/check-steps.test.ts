import { describe, expect, it } from 'vitest'
import { problemsIn, singleWith, stepWith } from './lines.ts'

/** Problems of form of steps. Texts as they are shown. */

describe('a step', () => {
  it.each<[unknown, string[]]>([
    [
      stepWith({ cycle: 2 }),
      [
        'route[0] "print" → cycle: found 2, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
      ],
    ],
    [
      stepWith({ cycel: '2 s' }),
      [
        'route[0] "print" → cycel: found an unknown key, expected one of step, tools, cycle, cycles, belt, batch, breakage, reject, rework, test, stops, effect, recipes, recipe, defects, drift, heldUp, timeLimits, warmUp, from (did you mean "cycle"?)',
      ],
    ],
    [
      singleWith({ tool: 3 }),
      [
        'route[0] "print" → tool: found an unknown key, expected one of step, tools, cycle, cycles, belt, batch, breakage, reject, rework, test, stops, effect, recipes, recipe, defects, drift, heldUp, timeLimits, warmUp, from (did you mean "tools"?)',
      ],
    ],
    [singleWith({ tools: 0 }), ['route[0] "print" → tools: found 0, expected a whole number from 1 to 200']],
    [
      singleWith({ tools: 201 }),
      ['route[0] "print" → tools: found 201, expected a whole number from 1 to 200'],
    ],
    [
      singleWith({ tools: '3' }),
      [
        'route[0] "print" → tools: found "3", expected a whole number from 1 to 200 (write it without quotes)',
      ],
    ],
    [
      singleWith({ tools: 1.5 }),
      ['route[0] "print" → tools: found 1.5, expected a whole number from 1 to 200'],
    ],
    [
      stepWith({ cycles: '2 s' }),
      ['route[0] "print" → cycles: found "2 s", expected a list of cycle times, one for each tool'],
    ],
    [
      stepWith({ cycles: ['2 s', '2 x'], tools: 2 }),
      [
        'route[0] "print" → cycles[1]: found "2 x", expected a time such as "3 s" (units: ms, s, min, h, d) ("x" is not a unit of time)',
      ],
    ],
    [stepWith({ step: '', cycle: '2 s' }), ['route[0] "" → step: found "", expected a name']],
    [
      singleWith({ breakage: 0.01 }),
      [
        'route[0] "print" → breakage: found 0.01, expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
      ],
    ],
    [
      singleWith({ breakage: '101 %' }),
      ['route[0] "print" → breakage: found "101 %", expected a share from 0 % to 100 %'],
    ],
    [
      singleWith({ breakage: {} }),
      [
        'route[0] "print" → breakage → share: found nothing, expected a share such as "0.5 %" (units: %, ppm)',
      ],
    ],
    [
      singleWith({ breakage: { share: '1 %', clearing: '5 min' } }),
      [
        'route[0] "print" → breakage → clearing: found "5 min", expected an object such as { lasts: "5 min" }',
      ],
    ],
    [
      singleWith({ breakage: { share: '1 %', clearing: { share: '50 %' } } }),
      [
        'route[0] "print" → breakage → clearing → lasts: found nothing, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
      ],
    ],
    [
      singleWith({ reject: true }),
      ['route[0] "print" → reject: found true, expected a share such as "0.5 %" (units: %, ppm)'],
    ],
    [
      singleWith({ rework: '2 %' }),
      [
        'route[0] "print" → rework: found "2 %", expected an object such as { share: "2 %", to: "print", atMost: 1 }',
      ],
    ],
    [
      singleWith({ rework: { share: '2 %' } }),
      [
        'route[0] "print" → rework → to: found nothing, expected a name',
        'route[0] "print" → rework → atMost: found nothing, expected a whole number from 1 to 100',
      ],
    ],
    [
      singleWith({ rework: { share: '2 %', to: 'print', atMost: 0, then: 'scrap' } }),
      [
        'route[0] "print" → rework → atMost: found 0, expected a whole number from 1 to 100',
        'route[0] "print" → rework → then: found "scrap", expected "reject" or "pass"',
      ],
    ],
    [
      singleWith({ test: true }),
      ['route[0] "print" → test: found true, expected an object such as { noise: "0.05 %" }'],
    ],
    [
      singleWith({ test: { noise: '0.1 s' } }),
      [
        'route[0] "print" → test → noise: found "0.1 s", expected a share such as "0.5 %" (units: %, ppm) ("s" is a unit of time, not of share)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('a belt', () => {
  it.each<[unknown, string[]]>([
    [
      stepWith({ belt: '2 s' }),
      [
        'route[0] "print" → belt: found "2 s", expected an object such as { spacing: "1 s", transit: "60 s" }',
      ],
    ],
    [
      stepWith({ belt: { spacing: '0 s', transit: '-1 s' } }),
      [
        'route[0] "print" → belt → spacing: found "0 s", expected a time from 0.001 ms to 36500 d',
        'route[0] "print" → belt → transit: found "-1 s", expected a time such as "3 s" (units: ms, s, min, h, d) (it must not be below zero)',
      ],
    ],
    [
      stepWith({
        belt: {
          spacing: '1 s',
          transit: '60 s',
          lanes: 0,
          whenFull: 'halt',
          keepFree: -1,
          tolerance: 5,
          overProcessed: '5',
        },
      }),
      [
        'route[0] "print" → belt → lanes: found 0, expected a whole number from 1 to 50',
        'route[0] "print" → belt → whenFull: found "halt", expected "run out" or "stop"',
        'route[0] "print" → belt → keepFree: found -1, expected a whole number from 0 to 10000000',
        'route[0] "print" → belt → tolerance: found 5, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
        'route[0] "print" → belt → overProcessed: found "5", expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
      ],
    ],
    [
      stepWith({ belt: { length: '6.6 s', speed: '0 m/min', pitch: '20 km' } }),
      [
        'route[0] "print" → belt → length: found "6.6 s", expected a length such as "200 mm" (units: mm, cm, m) ("s" is a unit of time, not of length)',
        'route[0] "print" → belt → speed: found "0 m/min", expected a speed from 0.0006 m/min to 6000 m/min',
        'route[0] "print" → belt → pitch: found "20 km", expected a length such as "200 mm" (units: mm, cm, m) ("km" is not a unit of length; did you mean "mm"?)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('a batch', () => {
  it.each<[unknown, string[]]>([
    [
      stepWith({ batch: 5 }),
      ['route[0] "print" → batch: found 5, expected an object such as { load: 1200, time: "85 min" }'],
    ],
    [
      stepWith({ batch: { lod: 5, time: '5 min' } }),
      [
        'route[0] "print" → batch → lod: found an unknown key, expected one of load, least, longestWait, time, tubes, loading, unloading, loaderServes, boats, dummies, cap (did you mean "load"?)',
      ],
    ],
    [
      stepWith({
        batch: { load: 0, time: '0 s', tubes: 0, loading: 3, unloading: {}, least: 'x', longestWait: '1' },
      }),
      [
        'route[0] "print" → batch → load: found 0, expected a whole number from 1 to 10000000',
        'route[0] "print" → batch → least: found "x", expected a whole number from 1 to 10000000',
        'route[0] "print" → batch → longestWait: found "1", expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
        'route[0] "print" → batch → time: found "0 s", expected a time from 0.001 ms to 36500 d',
        'route[0] "print" → batch → tubes: found 0, expected a whole number from 1 to 50',
        'route[0] "print" → batch → loading: found 3, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
        'route[0] "print" → batch → unloading: found an empty object, expected a distribution, by exactly one of the keys exponential, lognormal, gamma, weibull, normal, triangular, uniform, geometric, observed and replayed',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('a step with a key that cannot be read', () => {
  const jam = { stop: 'jam', every: '2 h', lasts: '5 min' }
  it.each<[unknown, string[]]>([
    // What is wrong elsewhere in the step is told at once,
    [
      stepWith({ cycle: '2 s', tools: 'two', reject: '60 %', breakage: '50 %' }),
      [
        'route[0] "print" → tools: found "two", expected a whole number from 1 to 200',
        'route[0] "print": found breakage 50 %, reject 60 %, rework 0 %, expected at most 100 % together',
      ],
    ],
    [
      stepWith({
        cycle: '2 s',
        reject: '1',
        stops: [jam, { ...jam, counts: 'loads', every: 5, stop: 'other' }],
      }),
      [
        'route[0] "print" → reject: found "1", expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
        'route[0] "print" → stops[1] "other" → counts: found "loads", expected "wafers" (only batch tools work in loads)',
      ],
    ],
    // but nothing that hangs on that key.
    [
      stepWith({ cycle: '2 s', stops: 'jam', drift: { until: 'jam', defects: '1 %' } }),
      ['route[0] "print" → stops: found "jam", expected a list of stops'],
    ],
    [
      stepWith({ cycles: ['1 s', '2 s'], tools: '2' }),
      [
        'route[0] "print" → tools: found "2", expected a whole number from 1 to 200 (write it without quotes)',
      ],
    ],
    [
      stepWith({ cycle: '2 s', stops: [{ ...jam, every: 20000 }] }),
      [
        'route[0] "print" → stops[0] "jam" → every: found 20000, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing; for a number of wafers or loads say what it counts, as in counts: "wafers")',
      ],
    ],
    [
      stepWith({ cycle: 2, stops: [{ ...jam, counts: 'loads', every: 5 }] }),
      [
        'route[0] "print" → cycle: found 2, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
