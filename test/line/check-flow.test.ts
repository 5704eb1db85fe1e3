import { describe, expect, it } from 'vitest'
import { between, problemsIn, routeOf, singleWith } from './lines.ts'

/** Problems between items of a route. Texts as they are shown. */

describe('names', () => {
  it.each<[unknown, string[]]>([
    [
      routeOf({ step: 'a', cycle: '1 s' }, { step: 'a', cycle: '1 s' }),
      ['route[1] "a" → step: found "a", expected a name of its own (another step has it)'],
    ],
    [
      routeOf({ step: 'a', cycle: '1 s' }, { buffer: 'a', capacity: 5 }, { step: 'b', cycle: '1 s' }),
      ['route[1] "a" → buffer: found "a", expected a name of its own (another step has it)'],
    ],
    [
      routeOf({ step: 'a', cycle: '1 s' }, { group: 'g', lanes: ['x'], each: [{ step: 'a', cycle: '1 s' }] }),
      ['route[1] "g" → each[0] "a" → step: found "a", expected a name of its own (another step has it)'],
    ],
    [
      routeOf({ group: 'g', lanes: { x: [{ step: 'a', cycle: '1 s' }], y: [{ step: 'a', cycle: '1 s' }] } }),
      ['route[0] "g" → lanes "y"[0] "a" → step: found "a", expected a name of its own (another step has it)'],
    ],
    [
      routeOf({ step: 'line', cycle: '1 s' }),
      ['route[0] "line" → step: found "line", expected another name (variants mean the line itself by it)'],
    ],
    // Names are compared even where an item has problems of its own.
    [
      routeOf({ step: 'a', cycle: 5 }, { step: 'a', cycle: '1 s' }),
      [
        'route[0] "a" → cycle: found 5, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
        'route[1] "a" → step: found "a", expected a name of its own (another step has it)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('the end of a route', () => {
  it.each<[unknown, string[]]>([
    [
      routeOf({ step: 'a', cycle: '1 s' }, { buffer: 'b', capacity: 5 }),
      [
        'route[1] "b": found a buffer at the end, expected a step or a group as the last item (nothing takes wafers out of it)',
      ],
    ],
    [
      routeOf({ step: 'a', cycle: '1 s' }, { conveyor: 'c', transit: '5 s', capacity: 5 }),
      [
        'route[1] "c": found a conveyor at the end, expected a step or a group as the last item (nothing takes wafers out of it)',
      ],
    ],
    [
      routeOf({
        group: 'g',
        lanes: ['x'],
        each: [
          { step: 'a', cycle: '1 s' },
          { buffer: 'b', capacity: 5 },
        ],
      }),
      [
        'route[0] "g" → each[1] "b": found a buffer at the end, expected a step or a group as the last item (nothing takes wafers out of it)',
      ],
    ],
    [
      between({
        group: 'g',
        lanes: ['x'],
        each: [
          { step: 'a', cycle: '1 s' },
          { buffer: 'b', capacity: 5 },
          { buffer: 'c', capacity: 5 },
        ],
      }),
      [
        'route[1] "g" → each[2] "c": found a buffer at the end, expected a step or a group before the last store of a lane',
      ],
    ],
    [
      between({ group: 'g', lanes: ['x'], each: [{ buffer: 'b', capacity: 5 }] }),
      [
        'route[1] "g" → each[0] "b": found a buffer at the end, expected a step or a group before the last store of a lane',
      ],
    ],
    [
      between({ group: 'g', lanes: ['x'], each: [] }),
      ['route[1] "g" → each: found an empty list, expected at least one step'],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('a batch tool', () => {
  it.each<[unknown, string[]]>([
    [
      routeOf({ step: 'fire', batch: { load: 50, time: '1 h' } }),
      [
        'route[0] "fire": found nothing before it, expected a buffer with a capacity of at least 50 right before it (a load is collected there)',
      ],
    ],
    [
      between({ step: 'fire', batch: { load: 50, time: '1 h' } }),
      [
        'route[1] "fire": found the step "texture" before it, expected a buffer with a capacity of at least 50 right before it (a load is collected there)',
      ],
    ],
    [
      between(
        { conveyor: 'link', transit: '5 s', capacity: 90 },
        { step: 'fire', batch: { load: 50, time: '1 h' } },
      ),
      [
        'route[2] "fire": found the conveyor "link" before it, expected a buffer with a capacity of at least 50 right before it (a load is collected there)',
      ],
    ],
    [
      between({ buffer: 'store', capacity: 49 }, { step: 'fire', batch: { load: 50, time: '1 h' } }),
      [
        'route[1] "store" → capacity: found 49, expected at least 50, or "unlimited" ("fire" behind it takes loads of 50)',
      ],
    ],
    [
      between(
        { buffer: 'store', capacity: 90, order: 'last in, first out' },
        { step: 'fire', batch: { load: 50, time: '1 h' } },
      ),
      [
        'route[1] "store" → order: found "last in, first out", expected "first in, first out" ("fire" behind "store" takes whole loads, which have no last wafer)',
      ],
    ],
    [
      between(
        { buffer: 'store', capacity: 90 },
        { group: 'g', lanes: ['x'], each: [{ step: 'fire', batch: { load: 50, time: '1 h' } }] },
      ),
      [
        'route[2] "g" → each[0] "fire": found nothing before it, expected a buffer with a capacity of at least 50 right before it (a load is collected there; each lane needs its own)',
      ],
    ],
    [
      {
        line: 'l',
        route: [
          { buffer: 'store', capacity: 'unlimited' },
          { step: 'print', cycle: '1 s' },
        ],
      },
      [
        'route[0] "store" → capacity: found "unlimited", expected a number of wafers, or a feed with a pace (the feed is as fast as wafers are taken, and an unlimited buffer takes them without end)',
      ],
    ],
    [
      {
        line: 'l',
        route: [
          { buffer: 'store', capacity: 10 },
          {
            ...{ group: 'g', split: 'in turn', lanes: ['x', 'y'] },
            each: [
              { conveyor: 'way', transit: '9 s', capacity: 5 },
              { buffer: 'stack', capacity: 'unlimited' },
              { step: 'print', cycle: '1 s' },
              { buffer: 'printed', capacity: 'unlimited' },
              { step: 'fire', cycle: '1 s' },
            ],
          },
        ],
      },
      [
        'route[1] "g" → each[1] "stack" → capacity: found "unlimited", expected a number of wafers, or a feed with a pace (the feed is as fast as wafers are taken, and an unlimited buffer takes them without end)',
      ],
    ],
    [
      between({
        group: 'g',
        lanes: ['x', 'y'],
        each: [
          { buffer: 'store', capacity: 'unlimited' },
          { step: 'fire', cycle: '1 s' },
        ],
      }),
      [
        'route[1] "g" → each[0] "store" → capacity: found "unlimited", expected a number of wafers, or split: "in turn" (the lane that is least full gets the next wafer, so each needs a size)',
      ],
    ],
    [
      between({
        step: 'fire',
        belt: { spacing: '1 s', transit: '9 s' },
        breakage: { share: '1 %', clearing: { lasts: '1 min' } },
      }),
      [
        'route[1] "fire" → breakage → clearing: found clearing on a belt, expected a stop of its own for it (shards on a belt are found as a jam: { stop: "jam", every: ..., inside: { lose: [1, 4] } })',
      ],
    ],
    [
      between(
        { buffer: 'stack', capacity: 90, order: 'last in, first out' },
        { buffer: 'rack', capacity: 2 },
        { step: 'fire', cycle: '1 s' },
      ),
      [
        'route[1] "stack" → order: found "last in, first out", expected a step right behind the buffer (the tools behind it take the newest wafer; a hand-over to a store or to lanes does not)',
      ],
    ],
    // Nothing is said of a store that could not be read but what is wrong with it.
    [
      between({ buffer: 'store', capacity: -1 }, { step: 'fire', batch: { load: 50, time: '1 h' } }),
      ['route[1] "store" → capacity: found -1, expected a whole number from 0 to 10000000, or "unlimited"'],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('rework', () => {
  it.each<[unknown, string[]]>([
    [
      between({ step: 'fire', cycle: '1 s', rework: { share: '1 %', to: 'textur', atMost: 1 } }),
      [
        'route[1] "fire" → rework → to: found "textur", expected this step or an earlier one: "texture" or "fire" (did you mean "texture"?)',
      ],
    ],
    [
      between({ step: 'fire', cycle: '1 s', rework: { share: '1 %', to: 'somewhere', atMost: 1 } }),
      [
        'route[1] "fire" → rework → to: found "somewhere", expected this step or an earlier one: "texture" or "fire"',
      ],
    ],
    [
      between({ step: 'fire', cycle: '1 s', rework: { share: '1 %', to: 'print', atMost: 1 } }),
      [
        'route[1] "fire" → rework → to: found "print", expected this step or an earlier one: "texture" or "fire" ("print" comes later)',
      ],
    ],
    [
      between(
        { buffer: 'store', capacity: 5 },
        { step: 'fire', cycle: '1 s', rework: { share: '1 %', to: 'store', atMost: 1 } },
      ),
      [
        'route[2] "fire" → rework → to: found "store", expected this step or an earlier one: "texture" or "fire" ("store" is a buffer)',
      ],
    ],
    [
      singleWith({ rework: { share: '1 %', to: 'texture', atMost: 1 } }),
      [
        'route[0] "print" → rework → to: found "texture", expected this step, as no other comes before it: "print"',
      ],
    ],
    [
      routeOf(
        { group: 'g', lanes: ['x'], each: [{ step: 'a', cycle: '1 s' }] },
        { step: 'b', cycle: '1 s', rework: { share: '1 %', to: 'a', atMost: 1 } },
      ),
      [
        'route[1] "b" → rework → to: found "a", expected this step, as no other comes before it: "b" ("a" is in another lane)',
      ],
    ],
    [
      routeOf({
        group: 'g',
        lanes: {
          x: [{ step: 'a', cycle: '1 s' }],
          y: [{ step: 'b', cycle: '1 s', rework: { share: '1 %', to: 'a', atMost: 1 } }],
        },
      }),
      [
        'route[0] "g" → lanes "y"[0] "b" → rework → to: found "a", expected this step, as no other comes before it: "b" ("a" is in another lane)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('steps that no wafer reaches', () => {
  it.each<[unknown, string[]]>([
    [
      routeOf(
        { step: 'a', cycle: '1 s', breakage: '100 %' },
        { buffer: 'b', capacity: 5 },
        { step: 'c', cycle: '1 s' },
      ),
      [
        'route[1] "b": found an unreachable buffer, expected a way for wafers to come here ("a" before it passes none: breakage 100 %)',
      ],
    ],
    [
      routeOf({ step: 'a', cycle: '1 s' }, { step: 'b', cycle: '1 s', reject: '100 %' }),
      [
        'route[1] "b": found a last item that passes no wafer, expected a way for good wafers to leave the line (reject 100 %)',
      ],
    ],
    [
      routeOf(
        { step: 'a', cycle: '1 s', rework: { share: '100 %', to: 'a', atMost: 3 } },
        { step: 'b', cycle: '1 s' },
      ),
      [
        'route[1] "b": found an unreachable step, expected a way for wafers to come here ("a" before it passes none: rework 100 %)',
      ],
    ],
    [
      routeOf(
        { step: 'a', cycle: '1 s', rework: { share: '100 %', to: 'a', atMost: 3, then: 'pass' } },
        { step: 'b', cycle: '1 s' },
      ),
      [],
    ],
    [
      routeOf(
        {
          group: 'g',
          lanes: {
            x: [{ step: 'a', cycle: '1 s', reject: '100 %' }],
            y: [{ step: 'b', cycle: '1 s', breakage: '100 %' }],
          },
        },
        { step: 'c', cycle: '1 s' },
      ),
      [
        'route[1] "c": found an unreachable step, expected a way for wafers to come here ("g" before it passes none: reject 100 %)',
      ],
    ],
    [
      routeOf({
        group: 'g',
        lanes: ['x'],
        each: [
          { step: 'a', cycle: '1 s', reject: '100 %' },
          { step: 'b', cycle: '1 s' },
        ],
      }),
      [
        'route[0] "g" → each[1] "b": found an unreachable step, expected a way for wafers to come here ("a" before it passes none: reject 100 %)',
        'route[0] "g": found a last item that passes no wafer, expected a way for good wafers to leave the line (reject 100 %)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('a belt that keeps places free', () => {
  it.each<[unknown, string[]]>([
    [
      between(
        { step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 50 } },
        { buffer: 'store', capacity: 40 },
      ),
      [
        'route[1] "dry" → belt → keepFree: found 50, expected at most 40 ("dry" could never take a wafer in; places behind it, in "store": 40)',
      ],
    ],
    [
      between({ step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 2 } }),
      [
        'route[1] "dry" → belt → keepFree: found 2, expected at most 1 ("dry" could never take a wafer in; places behind it, in the tools of "print": 1)',
      ],
    ],
    [
      routeOf(
        { step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 2 } },
        { step: 'print', tools: 2, cycle: '2 s' },
      ),
      [],
    ],
    [
      between(
        { step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 2 } },
        { group: 'g', lanes: ['x', 'y'], each: [{ step: 'a', cycle: '1 s' }] },
      ),
      [
        'route[1] "dry" → belt → keepFree: found 2, expected at most 1 ("dry" could never take a wafer in; places behind it, before the lanes of "g": 1)',
      ],
    ],
    [
      routeOf(
        {
          group: 'g',
          lanes: ['x'],
          each: [{ step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 2 } }],
        },
        { step: 'a', cycle: '1 s' },
      ),
      [
        'route[0] "g" → each[0] "dry" → belt → keepFree: found 2, expected at most 1 ("dry" could never take a wafer in; places behind it, where the lanes of "g" join: 1)',
      ],
    ],
    [
      routeOf(
        { step: 'dry', belt: { spacing: '1 s', transit: '60 s', keepFree: 2 } },
        { buffer: 'store', capacity: 4 },
        { step: 'a', belt: { spacing: '1 s', transit: '9 s' }, rework: { share: '1 %', to: 'a', atMost: 1 } },
      ),
      [
        'route[0] "dry" → belt → keepFree: found 2, expected at most 1 ("dry" could never take a wafer in; places behind it, on the way back into "a": 1)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
