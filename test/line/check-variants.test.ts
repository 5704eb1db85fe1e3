import { describe, expect, it } from 'vitest'
import { between, lineWith, problemsIn, singleWith, stopWith } from './lines.ts'

/** Problems of variants. Texts as they are shown. */

describe('a variant', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({ variants: 5 }),
      ['variants: found 5, expected an object such as { "more printers": { "front print": { tools: 4 } } }'],
    ],
    [
      lineWith({ variants: { a: 5 } }),
      ['variants "a": found 5, expected an object such as { "front print": { tools: 4 } }'],
    ],
    [
      lineWith({ variants: { ' a': {} } }),
      ['variants: found " a", expected a name without blanks at its ends'],
    ],
    [
      lineWith({ variants: { a: { prnt: { tools: 2 } } } }),
      [
        'variants "a" → "prnt": found an unknown name, expected the name of a step, buffer, conveyor, carriers or group, or line (did you mean "print"?)',
      ],
    ],
    [
      lineWith({ variants: { a: { somewhere: { tools: 2 } } } }),
      [
        'variants "a" → "somewhere": found an unknown name, expected the name of a step, buffer, conveyor, carriers or group, or line',
      ],
    ],
    [
      lineWith({ variants: { a: { print: 3 } } }),
      ['variants "a" → "print": found 3, expected an object such as { tools: 4 }'],
    ],
    [
      lineWith({ variants: { a: { print: { tols: 2 } } } }),
      [
        'variants "a" → "print" → tols: found an unknown key, expected one of tools, cycle, cycles, belt, batch, breakage, reject, rework, test, stops, effect, recipes, recipe, defects, drift, heldUp, timeLimits, warmUp, from (did you mean "tools"?)',
      ],
    ],
    [
      lineWith({ variants: { a: { print: { step: 'other' } } } }),
      [
        'variants "a" → "print" → step: found "other", expected no change of the name (a variant changes what an item does)',
      ],
    ],
    [
      lineWith({ variants: { a: { line: { route: [] } } } }),
      [
        'variants "a" → "line" → route: found an unknown key, expected one of feed, wafer, bins, target, calendar, crews, fleets, events, cap',
      ],
    ],
    [
      lineWith({ variants: { a: { line: { traget: '1 wafers/h' } } } }),
      [
        'variants "a" → "line" → traget: found an unknown key, expected one of feed, wafer, bins, target, calendar, crews, fleets, events, cap (did you mean "target"?)',
      ],
    ],
    [
      Object.assign(between({ buffer: 'store', capacity: 5 }), { variants: { a: { store: { tools: 2 } } } }),
      [
        'variants "a" → "store" → tools: found an unknown key, expected one of capacity, order, leastDwell, from',
      ],
    ],
    [
      Object.assign(stopWith({}), { variants: { a: { print: { stops: { jm: { lasts: '1 h' } } } } } }),
      ['variants "a" → "print" → stops → "jm": found an unknown name, expected "jam" (did you mean "jam"?)'],
    ],
    [
      Object.assign(stopWith({}), { variants: { a: { print: { stops: { breakdown: { lasts: '1 h' } } } } } }),
      [
        'variants "a" → "print" → stops → "breakdown": found an unknown name, expected "jam" (to add a stop, give all stops as a list)',
      ],
    ],
    [
      Object.assign(stopWith({}), { variants: { a: { print: { stops: { jam: { last: '1 h' } } } } } }),
      [
        'variants "a" → "print" → stops → "jam" → last: found an unknown key, expected one of counts, every, at, afterIdle, first, lasts, inside, setUpWafers, renews, kind, skill, people, priority, waits, overdue, from (did you mean "lasts"?)',
      ],
    ],
    [
      Object.assign(stopWith({}), { variants: { a: { print: { stops: { jam: 5 } } } } }),
      ['variants "a" → "print" → stops → "jam": found 5, expected an object such as { lasts: "5 min" }'],
    ],
    [
      lineWith({ variants: { a: { print: { stops: { jam: { lasts: '1 h' } } } } } }),
      [
        'variants "a" → "print" → stops → "jam": found an unknown name, expected a step that has stops (to add a stop, give all stops as a list)',
      ],
    ],
    // The changed line must be right in its turn.
    [
      lineWith({
        variants: { a: { print: { tools: 0 } }, b: { line: { target: 5 } }, c: { print: { cycle: null } } },
      }),
      [
        'variants "a" → route[0] "print" → tools: found 0, expected a whole number from 1 to 200',
        'variants "b" → target: found 5, expected a rate such as "3600 wafers/h" (units: wafers/h, wafers/min, wafers/s, cells/h) (its unit is missing)',
        'variants "c" → route[0] "print": found a step without a way to work, expected exactly one of cycle, cycles, belt and batch',
      ],
    ],
    [
      lineWith({ variants: { a: { print: { belt: { spacing: '1 s', transit: '60 s' } } } } }),
      [
        'variants "a" → route[0] "print": found cycle and belt, expected exactly one of cycle, cycles, belt and batch',
      ],
    ],
    [
      Object.assign(
        between({ buffer: 'store', capacity: 50 }, { step: 'fire', batch: { load: 50, time: '1 h' } }),
        { variants: { small: { store: { capacity: 40 } } } },
      ),
      [
        'variants "small" → route[1] "store" → capacity: found 40, expected at least 50, or "unlimited" ("fire" behind it takes loads of 50)',
      ],
    ],
    [
      Object.assign(stopWith({}), {
        variants: { a: { print: { stops: 5 } }, b: { print: { stops: [{ stop: 'new' }] } } },
      }),
      [
        'variants "a" → route[0] "print" → stops: found 5, expected a list of stops',
        'variants "b" → route[0] "print" → stops[0] "new" → every: found nothing, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
        'variants "b" → route[0] "print" → stops[0] "new" → lasts: found nothing, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
      ],
    ],
    [
      Object.assign(between({ group: 'g', lanes: ['x'], each: [{ step: 'a', cycle: '1 s' }] }), {
        variants: { a: { g: { lanes: { x: 5 } } }, b: { g: { each: null } } },
      }),
      [
        'variants "a" → route[1] "g" → each: found a route, expected none beside lanes with routes of their own',
        'variants "a" → route[1] "g" → lanes "x": found 5, expected a list of steps, buffers, conveyors, carriers and groups',
        'variants "b" → route[1] "g" → each: found nothing, expected the route of each lane, as the lanes are given by name only',
      ],
    ],
    // Spelling is checked even when the line itself has problems; the changed line is not.
    [
      Object.assign(singleWith({ tools: 0 }), {
        variants: { a: { prnt: { tools: 2 } }, b: { print: { cycle: 5 } } },
      }),
      [
        'route[0] "print" → tools: found 0, expected a whole number from 1 to 200',
        'variants "a" → "prnt": found an unknown name, expected the name of a step, buffer, conveyor, carriers or group, or line (did you mean "print"?)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
