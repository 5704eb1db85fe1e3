import type { Item, Share, Stop, Time } from 'linewright'
import { COMMON_PRACTICE, fault, INVENTED, planned, plannedAfter, plannedRarely } from './stops.ts'

const calendar = { counts: 'calendar time' } as const
const lose = (least: number, most: number) => ({ inside: { lose: [least, most] } }) as const

/** Speed of the belts through dryers and furnace, and of what lies on them: a wafer every 1.765 s per lane. */
const BELT = { speed: '6.8 m/min', pitch: '0.2 m', whenFull: 'run out' } as const

/** One lane of the back end, from the first print to the sorter. Four such lanes make the two print lines. */
export const printLane: readonly Item[] = [
  { buffer: 'cassette at the print lane', capacity: 100, from: COMMON_PRACTICE },
  ...printStation({
    step: 'rear pad print',
    index: '1.8 s',
    breakage: '80 ppm',
    reject: '60 ppm',
    wiped: '0.1 %',
    stops: [
      fault('wafer jam on nest', '5.6 h', '1.5 min', 0.6, { inside: 'lose' }),
      fault('vision misalign', '4.8 h', '0.8 min', 0.5, { inside: 'restart' }),
      fault('print head or index drive', '270 h', '91 min', 0.9),
      ...printerUpkeep({ screen: 50_000, squeegee: 80_000, paste: 480 }),
    ],
  }),
  dryer('dryer 1', '5.7 m'),
  magazine('magazine after dryer 1', 80),
  ...printStation({
    step: 'rear aluminium print',
    index: '1.8 s',
    breakage: '90 ppm',
    reject: '80 ppm',
    wiped: '0.1 %',
    stops: [
      fault('wafer jam on nest', '5.6 h', '1.5 min', 0.6, { inside: 'lose' }),
      fault('paste dry-out or uneven print', '7.2 h', '1.5 min', 0.6, { inside: 'restart' }),
      fault('print head or index drive', '270 h', '91 min', 0.9),
      ...printerUpkeep({ screen: 60_000, squeegee: 60_000, paste: 150 }),
    ],
  }),
  dryer('dryer 2', '6.8 m'),
  magazine('magazine after dryer 2', 80),
  {
    step: 'flip',
    belt: { spacing: '1.7 s', transit: '4 s', whenFull: 'stop' },
    breakage: '80 ppm',
    stops: [
      fault('dropped wafer', '20 h', '2 min', 0.6, { inside: { lose: 1 } }),
      fault('flipper drive fault', '580 h', '52 min', 0.8, { inside: 'resume' }),
      planned('suction cup change', '336 h', '15 min'),
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
      fault('wafer jam on nest', '4.8 h', '1.5 min', 0.6, { inside: 'lose' }),
      fault('vision misalign', '3.2 h', '0.8 min', 0.5, { inside: 'restart' }),
      fault('screen clog, wipe', '2 h', '1.2 min', 0.5, { inside: 'restart' }),
      {
        stop: 'screen burst after shard',
        every: { weibull: '45 h', shape: 1.3 },
        lasts: { lognormal: '9.9 min', cv: 0.5 },
        inside: 'lose',
        from: INVENTED,
      },
      fault('print head or index drive', '210 h', '98 min', 0.9),
      ...printerUpkeep({ screen: 20_000, squeegee: 40_000, paste: 240 }),
    ],
  }),
  {
    step: 'firing furnace',
    belt: { ...BELT, length: '13.6 m' },
    breakage: '120 ppm',
    reject: '300 ppm',
    stops: [
      fault('jam or overlap on belt', '52 h', '7.7 min', 0.7, lose(3, 10)),
      // What is in the hot zone is over- or under-fired.
      fault('lamp or zone temperature', '200 h', '33 min', 0.8, { ...calendar, inside: { lose: 15 } }),
      fault('belt drive fault', '980 h', '200 min', 0.9, { inside: 'lose' }),
      planned('profile check', '72 h', '18 min'),
      planned('lamp change', '4380 h', '300 min'),
      planned('monthly clean', '720 h', '420 min'),
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
      fault('lamp bank or cooling fault', '320 h', '78 min', 0.9, calendar),
      fault('wafer jam', '60 h', '6.6 min', 0.7, lose(1, 4)),
      planned('monthly maintenance', '720 h', '120 min'),
    ],
    from: INVENTED,
  },
  magazine('magazine before test', 200),
  {
    // A cell is measured for 1.8 s and measured again at once where that is in doubt.
    step: 'test and sort',
    cycle: '1.8 s',
    breakage: '150 ppm',
    // Electrical rejects.
    reject: '0.6 %',
    rework: { share: '1 %', to: 'test and sort', atMost: 1, then: 'pass', from: INVENTED },
    test: { noise: '0.03 %' },
    stops: [
      fault('contact or probe alarm', '6.4 h', '1.2 min', 0.6, { inside: 'restart' }),
      // One miss in 8 h; one cell lost in three.
      fault('sorter pick miss', '12 h', '1.5 min', 0.6),
      fault('sorter drop', '24 h', '1.5 min', 0.6, { inside: 'lose' }),
      fault('camera fault', '200 h', '28 min', 0.9),
      fault('flash lamp or tester fault', '320 h', '78 min', 0.9, calendar),
      planned('reference cell calibration', '8 h', '3 min'),
      plannedRarely('probe bar change', 400_000, 'wafers', '25 min'),
      planned('monthly maintenance', '720 h', '120 min'),
    ],
    from: 'invented, the noise of the tester too',
  },
  // From the contacts to the box a cell needs 25 s in all.
  { conveyor: 'sorter', transit: '23.2 s', capacity: 14, from: INVENTED },
]

interface PrintStation {
  readonly step: string
  readonly index: Time
  readonly breakage: Share
  readonly reject: Share
  /** Wet misprints, wiped off and printed again. */
  readonly wiped: Share
  readonly stops: readonly Stop[]
}

/**
 * A print station of one lane: the nest (a wafer at a time, at the index) and the belt that
 * takes the wafer out, 8 s in all. A broken wafer is itself a stop in seven of ten cases:
 * shards and paste are cleaned from nest and screen.
 */
function printStation({ step, index, breakage, reject, wiped, stops }: PrintStation): Item[] {
  return [
    {
      step,
      cycle: index,
      breakage: {
        share: breakage,
        clearing: { share: '70 %', lasts: { lognormal: '4 min', cv: 0.6 }, from: INVENTED },
        from: INVENTED,
      },
      reject,
      rework: { share: wiped, to: step, atMost: 1, from: INVENTED },
      stops,
      from: INVENTED,
    },
    { conveyor: `${step} outfeed`, transit: '6 s', capacity: 5, from: INVENTED },
  ]
}

interface Upkeep {
  /** Prints of a screen, and of a squeegee. */
  readonly screen: number
  readonly squeegee: number
  /** Printing time of a paste cartridge [min]. */
  readonly paste: number
}

/** Upkeep of a print station. The screen change includes a minute of alignment. */
function printerUpkeep({ screen, squeegee, paste }: Upkeep): Stop[] {
  return [
    plannedAfter('screen change', screen, 'wafers', '7 min', 600),
    plannedAfter('squeegee change', squeegee, 'wafers', '5 min', 3000),
    {
      stop: 'paste cartridge change',
      every: { uniform: [`${paste} min`, `${paste + 10} min`] },
      lasts: '1.2 min',
      kind: 'scheduled',
      from: INVENTED,
    },
    planned('clean nest and camera', '12 h', '8 min'),
    planned('weekly maintenance', '168 h', '60 min'),
  ]
}

function dryer(step: string, length: '5.7 m' | '6.8 m'): Item {
  return {
    step,
    belt: { ...BELT, length },
    breakage: '20 ppm',
    stops: [
      fault('belt drive or heater fault', '460 h', '91 min', 0.9, { ...calendar, inside: 'lose' }),
      fault('wafer jam in oven', '45 h', '6.6 min', 0.7, lose(1, 5)),
      planned('condensate clean', '336 h', '90 min'),
    ],
    from: INVENTED,
  }
}

/** A magazine beside the belt: wafers pass it unless what follows stands. */
function magazine(buffer: string, capacity: number): Item {
  return { buffer, capacity, order: 'last in, first out', from: INVENTED }
}
