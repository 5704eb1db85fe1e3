import { describe, expect, it } from 'vitest'
import { between, problemsIn, singleWith, stopWith } from './lines.ts'

/** Problems of form of stops, buffers, conveyors and groups. Texts as they are shown. */

describe('a stop', () => {
  it.each<[unknown, string[]]>([
    [
      singleWith({ stops: {} }),
      ['route[0] "print" → stops: found an empty object, expected a list of stops'],
    ],
    [
      singleWith({ stops: ['jam'] }),
      [
        'route[0] "print" → stops[0]: found "jam", expected a stop such as { stop: "jam", every: "2 h", lasts: "5 min" }',
      ],
    ],
    [
      singleWith({ stops: [{ every: '2 h' }] }),
      [
        'route[0] "print" → stops[0] → stop: found nothing, expected a name',
        'route[0] "print" → stops[0] → lasts: found nothing, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
      ],
    ],
    [
      stopWith({ every: 500 }),
      [
        'route[0] "print" → stops[0] "jam" → every: found 500, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing; for a number of wafers or loads say what it counts, as in counts: "wafers")',
      ],
    ],
    [
      stopWith({ counts: 'wafers' }),
      ['route[0] "print" → stops[0] "jam" → every: found "2 h", expected a number of wafers'],
    ],
    [
      stopWith({ counts: 'wafers', every: 0.5 }),
      [
        'route[0] "print" → stops[0] "jam" → every: found 0.5, expected a number of wafers from 1 to 1000000000000',
      ],
    ],
    [
      stopWith({ counts: 'wafers', every: 1.5 }),
      ['route[0] "print" → stops[0] "jam" → every: found 1.5, expected a whole number of wafers'],
    ],
    [
      stopWith({ counts: 'wafers', every: '500' }),
      [
        'route[0] "print" → stops[0] "jam" → every: found "500", expected a number of wafers (write it without quotes)',
      ],
    ],
    [
      stopWith({ counts: 'wafer' }),
      [
        'route[0] "print" → stops[0] "jam" → counts: found "wafer", expected "running time", "calendar time", "wafers" or "loads" (did you mean "wafers"?)',
      ],
    ],
    [
      stopWith({ counts: 'working' }),
      [
        'route[0] "print" → stops[0] "jam" → counts: found "working", expected "running time", "calendar time", "wafers" or "loads"',
      ],
    ],
    [
      stopWith({ inside: 'lost' }),
      [
        'route[0] "print" → stops[0] "jam" → inside: found "lost", expected "resume", "restart", "lose" or "run out" (did you mean "lose"?)',
      ],
    ],
    [
      stopWith({ inside: {} }),
      [
        'route[0] "print" → stops[0] "jam" → inside → lose: found nothing, expected a whole number from 0 to 10000000',
      ],
    ],
    [
      stopWith({ inside: { lose: -1 } }),
      [
        'route[0] "print" → stops[0] "jam" → inside → lose: found -1, expected a whole number from 0 to 10000000',
      ],
    ],
    [
      stopWith({ inside: { lose: [1] } }),
      [
        'route[0] "print" → stops[0] "jam" → inside → lose: found [1], expected the least and the most wafers lost, as in [2, 5]',
      ],
    ],
    [
      stopWith({ inside: { lose: [3, 1] } }),
      [
        'route[0] "print" → stops[0] "jam" → inside → lose: found [3,1], expected the least and the most wafers lost, as in [2, 5]',
      ],
    ],
    [
      stopWith({ kind: 'planned' }),
      [
        'route[0] "print" → stops[0] "jam" → kind: found "planned", expected "unscheduled", "scheduled" or "supply"',
      ],
    ],
    [
      stopWith({ every: '0 s' }),
      ['route[0] "print" → stops[0] "jam" → every: found "0 s", expected a time from 0.001 ms to 36500 d'],
    ],
    [
      stopWith({ lasts: '36501 d' }),
      ['route[0] "print" → stops[0] "jam" → lasts: found "36501 d", expected a time from 0 s to 36500 d'],
    ],
    [
      stopWith({ lasts: null }),
      [
        'route[0] "print" → stops[0] "jam" → lasts: found null, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('a buffer, a conveyor, a group', () => {
  it.each<[unknown, string[]]>([
    [
      between({ buffer: 'store' }),
      [
        'route[1] "store" → capacity: found nothing, expected a whole number from 0 to 10000000, or "unlimited"',
      ],
    ],
    [
      between({ buffer: 'store', capacity: -1 }),
      ['route[1] "store" → capacity: found -1, expected a whole number from 0 to 10000000, or "unlimited"'],
    ],
    [
      between({ buffer: 'store', capacity: 'unlimted' }),
      [
        'route[1] "store" → capacity: found "unlimted", expected a whole number from 0 to 10000000, or "unlimited"',
      ],
    ],
    [
      between({ buffer: 'store', capacity: '40' }),
      ['route[1] "store" → capacity: found "40", expected a whole number from 0 to 10000000, or "unlimited"'],
    ],
    [
      between({ buffer: 'store', capcity: 40 }),
      [
        'route[1] "store" → capcity: found an unknown key, expected one of buffer, capacity, order, leastDwell, from (did you mean "capacity"?)',
      ],
    ],
    [
      between({ buffer: 'store', capacity: 40, order: 'fifo' }),
      ['route[1] "store" → order: found "fifo", expected "first in, first out" or "last in, first out"'],
    ],
    [
      between({ buffer: 'store', capacity: 40, order: 'last in, first ot' }),
      [
        'route[1] "store" → order: found "last in, first ot", expected "first in, first out" or "last in, first out" (did you mean "last in, first out"?)',
      ],
    ],
    [
      between({ buffer: 'store', capacity: 40, leastDwell: 5 }),
      [
        'route[1] "store" → leastDwell: found 5, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
      ],
    ],
    [
      between({ conveyor: 'link' }),
      [
        'route[1] "link" → transit: found nothing, expected a time such as "3 s" (units: ms, s, min, h, d)',
        'route[1] "link" → capacity: found nothing, expected a whole number from 1 to 10000000',
      ],
    ],
    [
      between({ conveyor: 'link', transit: '0 s', capacity: 0 }),
      [
        'route[1] "link" → transit: found "0 s", expected a time from 0.001 ms to 36500 d',
        'route[1] "link" → capacity: found 0, expected a whole number from 1 to 10000000',
      ],
    ],
    [
      between({ group: 'lanes' }),
      [
        'route[1] "lanes" → lanes: found nothing, expected a list of lane names, or an object with a route for each name',
      ],
    ],
    [
      between({ group: 'lanes', lanes: 2, each: [] }),
      [
        'route[1] "lanes" → lanes: found 2, expected a list of lane names, or an object with a route for each name',
        'route[1] "lanes" → each: found an empty list, expected at least one step',
      ],
    ],
    [
      between({ group: 'lanes', lanes: ['a', 5], each: [{ step: 'x', cycle: '1 s' }] }),
      ['route[1] "lanes" → lanes[1]: found 5, expected a name'],
    ],
    [
      between({ group: 'lanes', lanes: { ' a': [{ step: 'x', cycle: '1 s' }], b: 5 } }),
      [
        'route[1] "lanes" → lanes: found " a", expected each lane called by a name without blanks at its ends',
        'route[1] "lanes" → lanes "b": found 5, expected a list of steps, buffers, conveyors, carriers and groups',
      ],
    ],
    [
      between({ group: 'lanes', lanes: ['a'], each: [{ step: 'x', cycle: '1' }], split: 'random' }),
      [
        'route[1] "lanes" → split: found "random", expected "least full" or "in turn"',
        'route[1] "lanes" → each[0] "x" → cycle: found "1", expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
