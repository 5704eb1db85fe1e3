import { describe, expect, it } from 'vitest'
import { between, lineWith, problemsIn, routeOf, singleWith, stepWith, stopWith, wafer } from './lines.ts'

/** Problems between values of one item, or of the line outside its route. Texts as they are shown. */

describe('ways to work', () => {
  it.each<[unknown, string[]]>([
    [
      stepWith({}),
      [
        'route[0] "print": found a step without a way to work, expected exactly one of cycle, cycles, belt and batch',
      ],
    ],
    [
      singleWith({ belt: { spacing: '1 s', transit: '60 s' } }),
      ['route[0] "print": found cycle and belt, expected exactly one of cycle, cycles, belt and batch'],
    ],
    [
      stepWith({ cycles: ['1 s', '2 s'] }),
      ['route[0] "print" → cycles: found a list of 2, expected one cycle time for each tool: 1'],
    ],
    [
      stepWith({ cycles: ['1 s', '2 s'], tools: 3 }),
      ['route[0] "print" → cycles: found a list of 2, expected one cycle time for each tool: 3'],
    ],
    [
      stepWith({ belt: {} }),
      [
        'route[0] "print" → belt: found a belt without a pace, expected either spacing and transit, or length, speed and pitch',
      ],
    ],
    [
      stepWith({ belt: { spacing: '1 s' } }),
      [
        'route[0] "print" → belt: found spacing, expected either spacing and transit, or length, speed and pitch',
      ],
    ],
    [
      stepWith({ belt: { spacing: '1 s', transit: '60 s', length: '6 m' } }),
      [
        'route[0] "print" → belt: found spacing, transit and length, expected either spacing and transit, or length, speed and pitch',
      ],
    ],
    [
      stepWith({ belt: { length: '6 m', speed: '6 m/min' } }),
      [
        'route[0] "print" → belt: found length and speed, expected either spacing and transit, or length, speed and pitch',
      ],
    ],
    [
      stepWith({ belt: { spacing: '1 s', transit: '60 s', whenFull: 'stop', keepFree: 3 } }),
      [
        'route[0] "print" → belt → keepFree: found 3, expected none on a belt that stops when full (keepFree is for whenFull: "run out")',
      ],
    ],
    [
      stepWith({ belt: { spacing: '1 s', transit: '60 s', overProcessed: '50 %' } }),
      [
        'route[0] "print" → belt → overProcessed: found "50 %", expected none on a belt that runs out (overProcessed is for whenFull: "stop")',
      ],
    ],
    [
      routeOf(
        { buffer: 'store', capacity: 90 },
        { step: 'fire', batch: { load: 50, time: '1 h', least: 60 } },
      ),
      ['route[1] "fire" → batch → least: found 60, expected at most the load, 50'],
    ],
    [
      routeOf(
        { buffer: 'store', capacity: 90 },
        { step: 'fire', batch: { load: 50, time: '1 h', longestWait: '5 min' } },
      ),
      [
        'route[1] "fire" → batch → longestWait: found "5 min", expected none without "least" (without "least" only full loads start, however long they wait)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('outcomes', () => {
  it.each<[unknown, string[]]>([
    [
      singleWith({ breakage: '50 %', reject: '30 %', rework: { share: '30 %', to: 'print', atMost: 1 } }),
      ['route[0] "print": found breakage 50 %, reject 30 %, rework 30 %, expected at most 100 % together'],
    ],
    [
      singleWith({ breakage: { share: '80 %' }, reject: '20.1 %' }),
      ['route[0] "print": found breakage 80 %, reject 20.1 %, rework 0 %, expected at most 100 % together'],
    ],
    // Shares that come to 100 % but for the rounding of the machine.
    [
      singleWith({
        breakage: '0.3 %',
        reject: '87.4 %',
        rework: { share: '12.3 %', to: 'print', atMost: 1 },
      }),
      [],
    ],
    [
      lineWith({ wafer, route: [{ step: 'test', cycle: '1 s', test: { reworkBelow: '21 %' } }] }),
      [
        'route[0] "test" → test → reworkBelow: found "21 %", expected "rework" in the same step (it says where to and how often)',
      ],
    ],
    [
      lineWith({
        wafer,
        route: [
          {
            step: 'test',
            cycle: '1 s',
            test: { reworkBelow: '21 %', rejectBelow: '21 %' },
            rework: { share: '0 %', to: 'test', atMost: 1 },
          },
        ],
      }),
      ['route[0] "test" → test → reworkBelow: found "21 %", expected more than rejectBelow, "21 %"'],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('stops', () => {
  it.each<[unknown, string[]]>([
    [
      singleWith({
        stops: [
          { stop: 'jam', every: '2 h', lasts: '5 min' },
          { stop: 'jam', every: '3 h', lasts: '5 min' },
        ],
      }),
      ['route[0] "print" → stops[1] "jam" → stop: found "jam", expected a name of its own (stops[0] has it)'],
    ],
    [
      stopWith({ counts: 'loads', every: 500 }),
      [
        'route[0] "print" → stops[0] "jam" → counts: found "loads", expected "wafers" (only batch tools work in loads)',
      ],
    ],
    [
      routeOf(
        { buffer: 'store', capacity: 90 },
        {
          step: 'fire',
          batch: { load: 50, time: '1 h' },
          stops: [{ stop: 'wash', counts: 'wafers', every: 5000, lasts: '1 h' }],
        },
      ),
      [
        'route[1] "fire" → stops[0] "wash" → counts: found "wafers", expected "loads" (a batch tool works in loads)',
      ],
    ],
    [
      stopWith({ inside: 'run out' }),
      [
        'route[0] "print" → stops[0] "jam" → inside: found "run out", expected "resume", "restart" or "lose" (only the wafers on a belt can run out)',
      ],
    ],
    [
      stepWith({
        belt: { spacing: '1 s', transit: '60 s' },
        stops: [{ stop: 'jam', every: '2 h', lasts: '5 min', inside: 'restart' }],
      }),
      [
        'route[0] "print" → stops[0] "jam" → inside: found "restart", expected "run out", "resume" or "lose" (the wafers on a belt cannot begin anew)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('buffers and groups', () => {
  it.each<[unknown, string[]]>([
    [
      between({ buffer: 'store', capacity: 40, order: 'last in, first out', leastDwell: '5 min' }),
      [
        'route[1] "store" → leastDwell: found "5 min", expected none in a buffer that is last in, first out (the last wafer in would have to wait while it stands before the others)',
      ],
    ],
    [
      between({ buffer: 'store', capacity: 0, leastDwell: '5 min' }),
      [
        'route[1] "store" → leastDwell: found "5 min", expected none in a buffer without places (the wafer would have nowhere to stay)',
      ],
    ],
    [
      between({ group: 'lanes', lanes: ['a', 'b'] }),
      [
        'route[1] "lanes" → each: found nothing, expected the route of each lane, as the lanes are given by name only',
      ],
    ],
    [
      between({ group: 'lanes', lanes: [], each: [{ step: 'x', cycle: '1 s' }] }),
      ['route[1] "lanes" → lanes: found an empty list, expected at least one lane'],
    ],
    [
      between({ group: 'lanes', lanes: {} }),
      ['route[1] "lanes" → lanes: found an empty object, expected at least one lane'],
    ],
    [
      between({ group: 'lanes', lanes: ['a', 'b', 'a'], each: [{ step: 'x', cycle: '1 s' }] }),
      ['route[1] "lanes" → lanes[2]: found "a", expected a name of its own (lanes[0] has it)'],
    ],
    [
      between({
        group: 'lanes',
        lanes: { a: [{ step: 'x', cycle: '1 s' }] },
        each: [{ step: 'y', cycle: '1 s' }],
      }),
      ['route[1] "lanes" → each: found a route, expected none beside lanes with routes of their own'],
    ],
    [
      between({
        group: 'lanes',
        lanes: Array.from({ length: 101 }, (_, index) => `lane ${index}`),
        each: [{ step: 'x', cycle: '1 s' }],
      }),
      ['route[1] "lanes" → lanes: found a list of 101, expected at most 100 lanes'],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('wafer, test and bins', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({ wafer, bins: { first: '22 %', width: '0.1 %', count: 10 } }),
      [
        'bins: found bins without a test, expected a step with test, such as test: { noise: "0.05 %" } (the last test sorts into the bins)',
      ],
    ],
    [
      lineWith({ bins: { first: '22 %', width: '0.1 %', count: 10 } }),
      [
        'bins: found bins without a wafer to sort, expected an efficiency of the wafer, such as wafer: { area: "330 cm2", efficiency: { mean: "23.1 %", sd: "0.15 %" } }',
      ],
    ],
    [
      singleWith({ test: { noise: '0.1 %' } }),
      [
        'route[0] "print" → test: found a test without a wafer to measure, expected an efficiency of the wafer, such as wafer: { area: "330 cm2", efficiency: { mean: "23.1 %", sd: "0.15 %" } }',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
