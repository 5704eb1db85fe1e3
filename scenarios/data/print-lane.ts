import type { Item, Share, Step, Stop, Time, TimeLimit } from 'linewright'
import { BACK, FURNACE, MECHATRONICS, PROCESS, TEST } from './people.ts'
import { printerUpkeep } from './printer-upkeep.ts'
import { COMMON_PRACTICE, fault, INVENTED, planned, plannedRarely } from './stops.ts'

const calendar = { counts: 'calendar time' } as const
const lose = (least: number, most: number) => ({ inside: { lose: [least, most] } }) as const

/** Speed of the belts through dryers and furnace, and of what lies on them: a wafer every 1.765 s per lane. */
const BELT = { speed: '6.8 m/min', pitch: '0.2 m', whenFull: 'run out' } as const

/** One lane of the back end, from the first print to the test. */
export const printLane: readonly Item[] = [
  { buffer: 'cassette at the print lane', capacity: 100, from: COMMON_PRACTICE },
  ...printStation({
    step: 'rear pad print',
    index: '1.8 s',
    breakage: '80 ppm',
    reject: '60 ppm',
    wiped: '0.1 %',
    stops: [
      fault('wafer jam on nest', '5.6 h', '1.5 min', 0.6, BACK, { inside: 'lose' }),
      fault('vision misalign', '4.8 h', '0.8 min', 0.5, BACK, { inside: 'restart' }),
      fault('print head or index drive', '270 h', '91 min', 0.9, MECHATRONICS),
      ...printerUpkeep({ index: 1.8, screen: 50_000, squeegee: 80_000, paste: 480 }),
    ],
    more: {
      timeLimits: [
        { after: 'contact opening', atMost: '48 h', late: { loses: '0.02 %' }, from: COMMON_PRACTICE },
      ],
    },
  }),
  dryer('dryer 1', '5.7 m', 'rear pad print'),
  magazine('magazine after dryer 1', 80),
  ...printStation({
    step: 'rear aluminium print',
    index: '1.8 s',
    breakage: '90 ppm',
    reject: '80 ppm',
    wiped: '0.1 %',
    stops: [
      fault('wafer jam on nest', '5.6 h', '1.5 min', 0.6, BACK, { inside: 'lose' }),
      fault('paste dry-out or uneven print', '7.2 h', '1.5 min', 0.6, BACK, { inside: 'restart' }),
      fault('print head or index drive', '270 h', '91 min', 0.9, MECHATRONICS),
      ...printerUpkeep({ index: 1.8, screen: 60_000, squeegee: 60_000, paste: 150 }),
    ],
  }),
  dryer('dryer 2', '6.8 m', 'rear aluminium print'),
  magazine('magazine after dryer 2', 80),
  {
    step: 'flip',
    belt: { spacing: '1.7 s', transit: '4 s', whenFull: 'stop' },
    breakage: '80 ppm',
    stops: [
      fault('dropped wafer', '20 h', '2 min', 0.6, BACK, { inside: { lose: 1 } }),
      fault('flipper drive fault', '580 h', '52 min', 0.8, MECHATRONICS, { inside: 'resume' }),
      planned('suction cup change', '336 h', '15 min', BACK),
    ],
    from: INVENTED,
  },
  ...printStation({
    // The designed constraint: 4 lanes x 3600 / 2 s = 7200 wafers/h.
    step: 'front print',
    index: '2 s',
    breakage: '130 ppm',
    reject: '250 ppm',
    wiped: '0.4 %',
    stops: [
      fault('wafer jam on nest', '4.8 h', '1.5 min', 0.6, BACK, { inside: 'lose' }),
      fault('vision misalign', '3.2 h', '0.8 min', 0.5, BACK, { inside: 'restart' }),
      fault('screen clog, wipe', '2 h', '1.2 min', 0.5, BACK, { inside: 'restart' }),
      {
        stop: 'screen burst after shard',
        every: { weibull: '45 h', shape: 1.3 },
        lasts: { lognormal: '9.9 min', cv: 0.5 },
        inside: 'lose',
        skill: BACK,
        from: INVENTED,
      },
      fault('print head or index drive', '210 h', '98 min', 0.9, MECHATRONICS),
      ...printerUpkeep({ index: 2, screen: 20_000, squeegee: 40_000, paste: 240 }),
    ],
    // What holds the line comes first.
    priority: 1,
    more: {
      // A new screen gives 0.03 % more than a worn one, so half of that is added to the mean.
      effect: { shift: '0.015 %', sd: '0.05 %' },
      // Finger breaks too fine for the camera, which the tester finds.
      drift: { until: 'screen change', loses: '0.03 %', defects: '0.1 %' },
    },
  }),
  {
    step: 'firing furnace',
    belt: { ...BELT, length: '13.6 m' },
    recipes: {
      standard: { effect: { sd: '0.05 %' } },
      // 10 K above the best peak temperature: 0.0006 % per K2 of efficiency, for a faster belt.
      hot: { belt: { speed: '7.4 m/min' }, effect: { shift: '-0.06 %', sd: '0.05 %' } },
    },
    recipe: 'standard',
    timeLimits: [wet('front print')],
    // Contacts fired through, which the tester finds.
    defects: '300 ppm',
    breakage: '120 ppm',
    reject: '300 ppm',
    stops: [
      ...whatHoldsTheLine([
        fault('jam or overlap on belt', '52 h', '7.7 min', 0.7, BACK, lose(3, 10)),
        // What is in the hot zone is over- or under-fired.
        fault('lamp or zone temperature', '200 h', '33 min', 0.8, FURNACE, {
          ...calendar,
          inside: { lose: 15 },
        }),
        fault('belt drive fault', '980 h', '200 min', 0.9, MECHATRONICS, { inside: 'lose' }),
        planned('profile check', '72 h', '18 min', PROCESS),
        planned('lamp change', '4380 h', '300 min', FURNACE),
        planned('monthly clean', '720 h', '420 min', FURNACE),
      ]),
      {
        // After 30 min with an empty belt, which is 2 min after the last wafer went in: 20 dummy wafers and their way through.
        stop: 'dummy wafers after an empty belt',
        afterIdle: '32 min',
        lasts: '155 s',
        kind: 'scheduled',
        from: INVENTED,
      },
    ],
    from: INVENTED,
  },
  // The furnace lane holds 68 wafers when full: it takes none in with 12 in the magazine.
  magazine('magazine after furnace', 80),
  {
    step: 'regeneration',
    belt: { ...BELT, length: '8 m' },
    breakage: '30 ppm',
    stops: [
      fault('lamp bank or cooling fault', '320 h', '78 min', 0.9, MECHATRONICS, calendar),
      fault('wafer jam', '60 h', '6.6 min', 0.7, BACK, lose(1, 4)),
      planned('monthly maintenance', '720 h', '120 min', MECHATRONICS),
    ],
    from: INVENTED,
  },
  magazine('magazine before test', 200),
  {
    // A cell is measured for 1.8 s and measured again at once where that is in doubt.
    step: 'test',
    cycle: '1.8 s',
    breakage: '150 ppm',
    // Electrical rejects: 0.6 % in all, a sixth of it the hidden defects of etch, print and firing.
    reject: '0.5 %',
    rework: { share: '1 %', to: 'test', atMost: 1, then: 'pass', from: INVENTED },
    test: { noise: '0.03 %', finds: '100 %', downgrades: '1.2 %' },
    stops: [
      fault('contact or probe alarm', '6.4 h', '1.2 min', 0.6, TEST, { inside: 'restart' }),
      fault('camera fault', '200 h', '28 min', 0.9, PROCESS),
      fault('flash lamp or tester fault', '320 h', '78 min', 0.9, MECHATRONICS, calendar),
      planned('reference cell calibration', '8 h', '3 min', TEST),
      plannedRarely('probe bar change', 400_000, 'wafers', '25 min', MECHATRONICS),
      planned('monthly maintenance', '720 h', '120 min', MECHATRONICS),
    ],
    from: 'invented, the noise of the tester too',
  },
  // From the contacts to the box a cell needs 25 s in all.
  { conveyor: 'way to the sorter', transit: '21.4 s', capacity: 14, from: INVENTED },
]

/** A print line: two lanes, and a robot for each that puts the cells of both into the same outputs. */
export const printLine: readonly Item[] = [
  { group: 'lanes of a print line', lanes: ['1', '2'], each: printLane, from: INVENTED },
  // Both lanes end on one belt along the outputs.
  { buffer: 'belt of the sorter', capacity: 10, from: INVENTED },
  {
    step: 'sort',
    tools: 2,
    cycle: '1.8 s',
    stops: [
      // One miss in 8 h; one cell lost in three.
      fault('pick miss', '12 h', '1.5 min', 0.6, TEST),
      fault('drop', '24 h', '1.5 min', 0.6, TEST, { inside: 'lose' }),
    ],
    from: INVENTED,
  },
]

interface PrintStation {
  readonly step: string
  readonly index: Time
  readonly breakage: Share
  readonly reject: Share
  /** Wet misprints, wiped off and printed again. */
  readonly wiped: Share
  readonly stops: readonly Stop[]
  /** Who comes first when people are short: see `Stop`. */
  readonly priority?: number
  readonly more?: Pick<Step, 'effect' | 'drift' | 'timeLimits'>
}

/**
 * A print station of one lane: the nest (a wafer at a time, at the index) and the belt that
 * takes the wafer out, 8 s in all. A broken wafer is itself a stop in seven of ten cases:
 * shards and paste are cleaned from nest and screen.
 */
function printStation(station: PrintStation): Item[] {
  const { step, index, breakage, reject, wiped, stops, priority = 0, more } = station
  return [
    {
      step,
      cycle: index,
      breakage: {
        share: breakage,
        clearing: {
          share: '70 %',
          lasts: { lognormal: '4 min', cv: 0.6 },
          skill: BACK,
          priority,
          from: INVENTED,
        },
        from: INVENTED,
      },
      reject,
      rework: { share: wiped, to: step, atMost: 1, from: INVENTED },
      stops: priority > 0 ? whatHoldsTheLine(stops) : stops,
      ...more,
      from: INVENTED,
    },
    { conveyor: `${step} outfeed`, transit: '6 s', capacity: 5, from: INVENTED },
  ]
}

/** The people come here first. */
function whatHoldsTheLine(stops: readonly Stop[]): Stop[] {
  return stops.map(stop => ({ ...stop, priority: 1 }))
}

/**
 * Wet paste dries on the wafer after 10 min. In the line such a wafer is wiped by hand and printed
 * again; a way back in front of each printer would cost every wafer a hand-over, so here it passes
 * and loses what a bad print loses. Invented.
 */
function wet(print: string): TimeLimit {
  return { after: print, atMost: '10 min', late: { loses: '0.2 %' }, from: INVENTED }
}

function dryer(step: string, length: '5.7 m' | '6.8 m', print: string): Item {
  return {
    step,
    belt: { ...BELT, length },
    timeLimits: [wet(print)],
    breakage: '20 ppm',
    stops: [
      fault('belt drive or heater fault', '460 h', '91 min', 0.9, MECHATRONICS, {
        ...calendar,
        inside: 'lose',
      }),
      fault('wafer jam in oven', '45 h', '6.6 min', 0.7, BACK, lose(1, 5)),
      planned('condensate clean', '336 h', '90 min', MECHATRONICS),
    ],
    from: INVENTED,
  }
}

/** A magazine beside the belt: wafers pass it unless what follows stands. */
function magazine(buffer: string, capacity: number): Item {
  return { buffer, capacity, order: 'last in, first out', from: INVENTED }
}
