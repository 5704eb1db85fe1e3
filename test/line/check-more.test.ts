import { describe, expect, it } from 'vitest'
import { between, lineWith, problemsIn, routeOf, singleWith, stepWith, stopWith, wafer } from './lines.ts'

/** Problems of the further keys of stops and steps, and of carriers. Texts as they are shown. */

const JAM = 'route[0] "print" → stops[0] "jam"'
const WAFER =
  'an efficiency of the wafer, such as wafer: { area: "330 cm2", efficiency: { mean: "23.1 %", sd: "0.15 %" } }'
const measured = (...route: unknown[]) => ({ ...routeOf(...route), wafer })
const texture = { step: 'texture', cycle: '2 s' }
const print = { step: 'print', cycle: '2 s' }
const store = { buffer: 'store', capacity: 90 }

describe('when a stop is due', () => {
  const byClock = (fields: object) =>
    singleWith({ stops: [{ stop: 'jam', at: ['06:00'], lasts: '5 min', ...fields }] })
  const calendar = { counts: 'calendar time' }
  it.each<[unknown, string[]]>([
    [byClock({}), []],
    [byClock({ at: ['Mon 06:00', '18:00'], counts: 'calendar time' }), []],
    [stopWith({ ...calendar, first: '1 h' }), []],
    [stopWith({ ...calendar, first: { from: '0 h', to: '12 h' } }), []],
    [
      stopWith({ ...calendar, first: { from: '6 h', to: '360 min' } }),
      [`${JAM} → first → to: found "360 min", expected more than from, "6 h"`],
    ],
    [
      stopWith({ ...calendar, first: { from: '6 h', until: '12 h' } }),
      [
        `${JAM} → first → to: found nothing, expected a time such as "3 s" (units: ms, s, min, h, d)`,
        `${JAM} → first → until: found an unknown key, expected one of from, to`,
      ],
    ],
    [
      stopWith({ first: { from: '0 h', to: '12 h' } }),
      [
        `${JAM} → first: found 0 h to 12 h, expected "at random", or counts: "calendar time" (the other clocks go with the work, so nobody knows when it will be due)`,
      ],
    ],
    [stopWith({ at: ['06:00'] }), [`${JAM}: found every and at, expected either every or at`]],
    [byClock({ at: [] }), [`${JAM} → at: found an empty list, expected at least one time`]],
    [
      byClock({ at: ['6 am', 'Monday 06:00'] }),
      [
        `${JAM} → at[0]: found "6 am", expected a time by the clock such as "06:00" or "Mon 06:00" (days are Mon, Tue, Wed, Thu, Fri, Sat, Sun)`,
        `${JAM} → at[1]: found "Monday 06:00", expected a time by the clock such as "06:00" or "Mon 06:00" (did you mean "Mon 06:00"?)`,
      ],
    ],
    [
      byClock({ counts: 'running time' }),
      [
        `${JAM} → counts: found "running time", expected "calendar time", or nothing (a stop with "at" is due by the clock)`,
      ],
    ],
    [
      byClock({ first: '1 h' }),
      [`${JAM} → first: found "1 h", expected none beside at (at says when it is due)`],
    ],
    [
      stopWith({ first: '1 h' }),
      [
        `${JAM} → first: found "1 h", expected "at random", or counts: "calendar time" (the other clocks go with the work, so nobody knows when it will be due)`,
      ],
    ],
    [
      stopWith({ ...calendar, first: ['1 h', '2 h'] }),
      [
        `${JAM} → first: found a list of 2, expected one time, or one for each tool: 1 (a span such as { from: "0 h", to: "12 h" } fits any number)`,
      ],
    ],
    // The tubes of a tool have the same.
    [
      routeOf(store, {
        step: 'print',
        tools: 2,
        batch: { load: 9, time: '1 h', tubes: 3 },
        stops: [{ stop: 'jam', ...calendar, every: '2 h', lasts: '5 min', first: ['1 h', '2 h'] }],
      }),
      [],
    ],
    // A word that cannot be read is one mistake, whatever stands beside it.
    [
      stopWith({ counts: 'wafer', every: 500 }),
      [
        `${JAM} → counts: found "wafer", expected "running time", "calendar time", "wafers" or "loads" (did you mean "wafers"?)`,
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('stops that wait', () => {
  it.each<[unknown, string[]]>([
    [stopWith({ waits: { until: 'starved', atMost: '1 h' }, overdue: '2 %' }), []],
    [
      stopWith({ waits: { until: 'load ends', atMost: '1 h' } }),
      [
        `${JAM} → waits → until: found "load ends", expected "starved", "shift change" or "people come" (only batch tools work in loads)`,
      ],
    ],
    [
      stopWith({ overdue: '2 %' }),
      [
        `${JAM} → overdue: found "2 %", expected none without "waits" (a stop that does not wait is never overdue)`,
      ],
    ],
    [
      stopWith({ waits: { until: 'people come', atMost: '1 h' } }),
      [`${JAM} → waits → until: found "people come", expected none without "skill" (it needs nobody)`],
    ],
    [
      stopWith({ skill: 'fitter', waits: { until: 'people come', atMost: '1 h' }, inside: { lose: 1 } }),
      [
        `${JAM} → inside: found a loss, expected "resume", "restart" or "run out" (a stop that waits until people come loses nothing)`,
      ],
    ],
    [
      stopWith({ waits: { until: 'starve' } }),
      [
        `${JAM} → waits → until: found "starve", expected "starved", "load ends", "shift change" or "people come" (did you mean "starved"?)`,
        `${JAM} → waits → atMost: found nothing, expected a time of at least 0 s`,
      ],
    ],
  ])('%#', (value, texts) => {
    expect(
      problemsIn(value).map(text => text.replace(/a time such as .*$/, 'a time of at least 0 s')),
    ).toEqual(texts)
  })
})

describe('wafers that are held up', () => {
  const heldUp = { after: '10 s', loses: '0.3 %' }
  const onBelt = (belt: object, more: object = {}, line: object = {}) => ({
    ...stepWith({ belt: { spacing: '1 s', transit: '60 s', ...belt }, heldUp, ...more }),
    ...{ wafer, ...line },
  })
  const stop = (inside: string) => ({ stops: [{ stop: 'jam', every: '2 h', lasts: '5 min', inside }] })
  const dip = (more: object) => ({ events: [{ event: 'dip', every: '9 d', lasts: '1 min', ...more }] })
  const none = [
    'route[0] "print" → heldUp: found wafers held up on a belt that never stands, expected none, or whenFull: "stop", or a stop with inside: "resume" (only where the belt stands are wafers held up)',
  ]

  it.each<[unknown, string[]]>([
    [onBelt({ whenFull: 'stop' }), []],
    [onBelt({}), none],
    [onBelt({ whenFull: 'run out', keepFree: 0 }), none],
    [onBelt({}, stop('run out')), none],
    [onBelt({}, stop('lose')), none],
    [onBelt({}, stop('resume')), []],
    [onBelt({}, {}, dip({})), none],
    [onBelt({}, {}, dip({ inside: 'resume' })), []],
    [onBelt({}, {}, dip({ inside: 'resume', steps: ['print'] })), []],
    [{ ...singleWith({ heldUp }), wafer }, []],
  ])('are on what can stand: %#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('efficiency', () => {
  it.each<[unknown, string[]]>([
    [
      lineWith({
        wafer,
        route: [
          {
            ...print,
            effect: { shift: '-0.05 %', sd: '0.02 %' },
            heldUp: { after: '1 min', loses: '0.1 %' },
          },
        ],
      }),
      [],
    ],
    [
      singleWith({ effect: { sd: '-1 %', shift: '0.1' } }),
      [
        'route[0] "print" → effect → shift: found "0.1", expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
        'route[0] "print" → effect → sd: found "-1 %", expected a share such as "0.5 %" (units: %, ppm) (it must not be below zero)',
      ],
    ],
    [
      singleWith({ effect: { shift: '-120 %' } }),
      ['route[0] "print" → effect → shift: found "-120 %", expected a share from -100 % to 100 %'],
    ],
    [
      singleWith({
        effect: { sd: '0.1 %' },
        heldUp: { after: '1 min', loses: '0.1 %' },
        stops: [{ stop: 'change', every: '2 h', lasts: '5 min' }],
        drift: { until: 'change', loses: '0.1 %' },
      }),
      ['effect', 'drift → loses', 'heldUp → loses'].map(
        place =>
          `route[0] "print" → ${place}: found a change of efficiency without a wafer to have one, expected ${WAFER}`,
      ),
    ],
    [
      singleWith({ drift: { until: 'change', defects: '1 %' } }),
      ['route[0] "print" → drift → until: found "change", expected a stop of this step, but it has none'],
    ],
    [
      singleWith({
        stops: [{ stop: 'screen change', every: '2 h', lasts: '5 min' }],
        drift: { until: 'screen chang' },
      }),
      [
        'route[0] "print" → drift: found a drift without effect, expected loses, defects or both',
        'route[0] "print" → drift → until: found "screen chang", expected a stop of this step: "screen change" (did you mean "screen change"?)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('recipes', () => {
  const belt = { length: '12 m', speed: '6 m/min', pitch: '0.2 m' }
  it.each<[unknown, string[]]>([
    [stepWith({ belt, recipes: { fast: { belt: { speed: '7 m/min' } } }, recipe: 'fast' }), []],
    // What the step lacks its recipes may give.
    [stepWith({ recipes: { a: { cycle: '1 s' }, b: { cycle: '2 s' } }, recipe: 'b' }), []],
    [
      stepWith({ recipes: { a: { cycle: '1 s' } } }),
      [
        'route[0] "print": found a step without a way to work, expected exactly one of cycle, cycles, belt and batch',
      ],
    ],
    [
      stepWith({ belt, recipes: { fast: {} }, recipe: 'fats' }),
      ['route[0] "print" → recipe: found "fats", expected "fast" (did you mean "fast"?)'],
    ],
    [
      stepWith({ belt, recipe: 'fast' }),
      ['route[0] "print" → recipe: found "fast", expected recipes to pick from'],
    ],
    [
      stepWith({ belt, recipes: { a: { cycle: '2 s' } } }),
      ['route[0] "print" → recipes "a" → cycle: found "2 s", expected none, as "print" is a belt'],
    ],
    [
      stepWith({
        belt,
        recipes: { a: { belt: { spacing: '1 s' } }, b: { reject: '60 %', breakage: '50 %' } },
      }),
      [
        'route[0] "print" → recipes "a" → belt: found spacing, length, speed and pitch, expected either spacing and transit, or length, speed and pitch',
        'route[0] "print" → recipes "b": found breakage 50 %, reject 60 %, rework 0 %, expected at most 100 % together',
      ],
    ],
    [
      stepWith({ belt, recipes: { a: { speed: '7 m/min' } } }),
      [
        'route[0] "print" → recipes → a → speed: found an unknown key, expected one of cycle, belt, batch, effect, reject, breakage, defects, from',
      ],
    ],
    // The recipe that is picked counts between items too.
    [
      routeOf(store, {
        step: 'tube',
        batch: { load: 50, time: '1 h' },
        recipes: { big: { batch: { load: 200 } } },
        recipe: 'big',
      }),
      [
        'route[0] "store" → capacity: found 90, expected at least 200, or "unlimited" ("tube" behind it takes loads of 200)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('time limits', () => {
  const limit = { after: 'texture', atMost: '4 h', late: 'scrap' }
  const limited = (...timeLimits: unknown[]) => routeOf(texture, store, { ...print, timeLimits })
  const at = (index: number) => `route[2] "print" → timeLimits[${index}]`
  it.each<[unknown, string[]]>([
    [limited(limit), []],
    [limited({ ...limit, late: { to: 'texture', atMost: 1, then: 'pass' } }), []],
    [measured(texture, store, { ...print, timeLimits: [{ ...limit, late: { loses: '0.05 %' } }] }), []],
    [
      limited({ ...limit, after: 'textur' }, { ...limit, after: 'print' }),
      [
        `${at(0)} → after: found "textur", expected an earlier step: "texture" (did you mean "texture"?)`,
        `${at(1)} → after: found "print", expected an earlier step: "texture" ("print" is this step itself)`,
      ],
    ],
    [
      limited(limit, limit),
      [`${at(1)} → after: found "texture", expected one limit after a step (timeLimits[0] has it)`],
    ],
    [
      limited({ ...limit, late: 'scrapped' }, { ...limit, late: { loses: '1 %', to: 'texture' } }),
      [
        `${at(0)} → late: found "scrapped", expected "scrap", or an object such as { loses: "0.05 %" } or { to: "texture", atMost: 1 }`,
        `${at(1)} → late: found loses and to, expected "scrap", or an object such as { loses: "0.05 %" } or { to: "texture", atMost: 1 }`,
      ],
    ],
    [
      routeOf(texture, { step: 'etch', cycle: '1 s' }, store, {
        ...print,
        timeLimits: [{ ...limit, late: { to: 'etch', atMost: 1 } }],
      }),
      [
        'route[3] "print" → timeLimits[0] → late → to: found "etch", expected "texture" or a step before it (the time counts anew only after that step)',
      ],
    ],
    [
      singleWith({ timeLimits: [limit] }),
      [
        'route[0] "print" → timeLimits[0] → after: found "texture", expected an earlier step, but none comes before this one',
      ],
    ],
    // Lanes that wafers may have come through count, other lanes do not.
    [
      routeOf({ group: 'g', lanes: ['a', 'b'], each: [texture] }, store, { ...print, timeLimits: [limit] }),
      [],
    ],
    [
      routeOf({ group: 'g', lanes: { a: [texture], b: [{ ...print, timeLimits: [limit] }] } }),
      [
        'route[0] "g" → lanes "b"[0] "print" → timeLimits[0] → after: found "texture", expected an earlier step, but none comes before this one ("texture" is in another lane)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('carriers', () => {
  const cassettes = { carriers: 'cassettes', holds: 100, number: 20, moved: { takes: '1 min' } }
  const CASSETTES = 'route[1] "cassettes"'
  it.each<[unknown, string[]]>([
    [between(cassettes), []],
    [between(store, cassettes, { buffer: 'rack', capacity: 5 }), []],
    [routeOf({ group: 'g', lanes: ['a'], each: [texture, cassettes, print] }), []],
    [
      between({
        ...cassettes,
        fullAtMost: 21,
        moved: { takes: '1 min', perTrip: 30, returns: '2 min', priority: 1 },
      }),
      [
        `${CASSETTES} → fullAtMost: found 21, expected at most all carriers, 20`,
        `${CASSETTES} → moved → perTrip: found 30, expected at most all carriers, 20`,
        `${CASSETTES} → moved → perTrip: found 30, expected none without "by" (nobody goes along: each carrier moves by itself)`,
        `${CASSETTES} → moved → returns: found "2 min", expected none without "by" (nobody goes along: each carrier moves by itself)`,
        `${CASSETTES} → moved → priority: found 1, expected none without "by" (nobody goes along: each carrier moves by itself)`,
      ],
    ],
    [
      between({ carriers: 'cassettes', hold: 100, number: 0, moved: '1 min' }),
      [
        `${CASSETTES} → number: found 0, expected a whole number from 1 to 100000`,
        `${CASSETTES} → moved: found "1 min", expected an object such as { takes: "2 min", by: "operators" }`,
        `${CASSETTES} → hold: found an unknown key, expected one of carriers, holds, number, fullAtMost, longestWait, moved, back, cleaning, breakage, from (did you mean "holds"?)`,
      ],
    ],
    [
      between({
        ...cassettes,
        cleaning: { every: 200, lasts: { uniform: ['3 h', '5 h'] } },
        breakage: { share: '500 ppm', replacedAfter: '1 d' },
      }),
      [],
    ],
    [
      between({ ...cassettes, cleaning: { every: 0, lasts: '4 h', coating: '1 h' }, breakage: '500 ppm' }),
      [
        `${CASSETTES} → cleaning → every: found 0, expected a whole number from 1 to 1000000`,
        `${CASSETTES} → cleaning → coating: found an unknown key, expected one of every, lasts`,
        `${CASSETTES} → breakage: found "500 ppm", expected an object such as { share: "0.05 %", replacedAfter: "24 h" }`,
      ],
    ],
    [
      routeOf(cassettes, print),
      [
        'route[0] "cassettes": found nothing before them, expected a step, a buffer or a conveyor right before them (they are filled from it)',
      ],
    ],
    [
      routeOf(print, cassettes),
      [
        `${CASSETTES}: found nothing behind them, expected a step, a buffer or a conveyor right behind them (they are emptied into it)`,
      ],
    ],
    [
      between(cassettes, { ...cassettes, carriers: 'boxes' }),
      [
        'route[2] "boxes": found the carriers "cassettes" before them, expected a step, a buffer or a conveyor right before them (they are filled from it)',
      ],
    ],
    [
      routeOf(texture, cassettes, { group: 'g', lanes: ['a'], each: [print] }),
      [
        `${CASSETTES}: found the group "g" behind them, expected a step, a buffer or a conveyor right behind them (they are emptied into it)`,
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('dummy wafers', () => {
  const tube = (batch: object) => routeOf(store, { step: 'tube', batch: { load: 50, time: '1 h', ...batch } })
  it.each<[unknown, string[]]>([
    [tube({ least: 20, dummies: { runs: 50 } }), []],
    [
      tube({ dummies: { runs: 50 } }),
      [
        'route[1] "tube" → batch → dummies: found dummy wafers, expected none without "least" (there are no short loads)',
      ],
    ],
    [
      tube({ least: 20, dummies: { runs: 0, number: 9 } }),
      [
        'route[1] "tube" → batch → dummies → runs: found 0, expected a whole number from 1 to 1000000',
        'route[1] "tube" → batch → dummies → number: found an unknown key, expected one of runs, from',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('boats', () => {
  const tube = (boats: unknown) => routeOf(store, { step: 'tube', batch: { load: 50, time: '1 h', boats } })
  it.each<[unknown, string[]]>([
    [
      tube({
        perTool: 3,
        cooling: '10 min',
        cleaning: { every: 100, lasts: '2 h', coating: '40 min' },
        breakage: { share: '0.1 %', replacedAfter: '8 h' },
      }),
      [],
    ],
    [
      tube({ perTool: 0, cleaning: { every: 0, lasts: '2 h' } }),
      [
        'route[1] "tube" → batch → boats → perTool: found 0, expected a whole number from 1 to 1000',
        'route[1] "tube" → batch → boats → cleaning → every: found 0, expected a whole number from 1 to 1000000',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
