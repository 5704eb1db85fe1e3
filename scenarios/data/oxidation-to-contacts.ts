import type { Item, TimeLimit } from 'linewright'
import { FURNACE, MECHATRONICS, TRIP, VEHICLES } from './people.ts'
import {
  boats,
  COMMON_PRACTICE,
  cassetteWear,
  fault,
  filledUp,
  INVENTED,
  loaderFault,
  plannedBetweenLoads,
  plannedRarely,
} from './stops.ts'
import { laserStops } from './wafers-to-glass-etch.ts'

const calendar = { counts: 'calendar time' } as const

/** Front end, second part: the films, and the openings in the rear ones. */
export const oxidationToContacts: readonly Item[] = [
  { buffer: 'cassettes before oxidation', capacity: 9600, from: INVENTED },
  {
    step: 'oxidation',
    tools: 2,
    // The wait for a full load is invented here: the longest that leaves the tubes enough time.
    batch: {
      load: 1200,
      least: 900,
      longestWait: '10 min',
      tubes: 4,
      time: { normal: '55 min', sd: '1 min' },
      loading: '5.5 min',
      unloading: '5.5 min',
      boats: boats(8, '15 min'),
    },
    // Bare silicon: late wafers are dipped again, once.
    timeLimits: [
      {
        after: 'glass etch',
        atMost: '4 h',
        late: { to: 'glass etch', atMost: 1 },
        from: COMMON_PRACTICE,
      },
    ],
    breakage: '300 ppm',
    reject: '100 ppm',
    // The oxide is stripped in the wet bench, and grown again.
    rework: { share: '0.1 %', to: 'glass etch', atMost: 1, from: INVENTED },
    stops: [
      loaderFault(4, 'boat loader gripper', '22 h', '9.9 min', 0.8, { inside: { lose: [1, 6] } }),
      loaderFault(4, 'shard in boat', '9.6 h', '3 min', 0.6, { inside: { lose: [1, 4] } }),
      fault('door seal or temperature', '460 h', '78 min', 0.9, FURNACE, { ...calendar, inside: 'restart' }),
      fault('paddle or elevator fault', '520 h', '140 min', 0.9, MECHATRONICS),
      plannedBetweenLoads('quartz tube swap', '13140 h', '1200 min', FURNACE),
      plannedBetweenLoads('monthly maintenance', '720 h', '240 min', FURNACE),
    ],
    from: INVENTED,
  },
  { buffer: 'cassettes before rear alumina', capacity: 9600, from: INVENTED },
  {
    // Batch atomic layer deposition of Al2O3.
    step: 'rear alumina',
    tools: 2,
    batch: {
      load: 2000,
      least: 1500,
      longestWait: '10 min',
      tubes: 2,
      time: { normal: '34 min', sd: '0.8 min' },
      loading: '9 min',
      unloading: '9 min',
      boats: boats(6, '10 min'),
    },
    timeLimits: [{ after: 'oxidation', atMost: '8 h', late: { loses: '0.05 %' }, from: COMMON_PRACTICE }],
    breakage: '250 ppm',
    reject: '150 ppm',
    stops: [
      loaderFault(2, 'boat loader gripper', '24 h', '9.9 min', 0.8, { inside: { lose: [1, 6] } }),
      fault('valve or precursor pressure', '170 h', '65 min', 0.9, FURNACE, { ...calendar, inside: 'lose' }),
      fault('vacuum pump trip', '580 h', '200 min', 0.9, FURNACE, { ...calendar, inside: 'lose' }),
      plannedBetweenLoads('precursor change', '336 h', '60 min', FURNACE),
      plannedBetweenLoads('chamber and foreline clean', '720 h', '480 min', FURNACE),
    ],
    from: INVENTED,
  },
  { buffer: 'cassettes before rear nitride', capacity: 8000, from: INVENTED },
  // The alumina is not capped yet.
  nitride('rear nitride', '36.4 min', { after: 'rear alumina', atMost: '4 h', late: { loses: '0.05 %' } }),
  { buffer: 'cassettes before front nitride', capacity: 8000, from: INVENTED },
  nitride('front nitride', '38.4 min', { after: 'rear nitride', atMost: '8 h', late: { loses: '0.02 %' } }),
  { buffer: 'cassettes before contact opening', capacity: 6000, from: INVENTED },
  {
    // Laser opens the rear films for the aluminium.
    step: 'contact opening',
    tools: 2,
    belt: { lanes: 2, spacing: '1.7 s', transit: '12 s', whenFull: 'stop' },
    timeLimits: [
      { after: 'front nitride', atMost: '72 h', late: { loses: '0.02 %' }, from: COMMON_PRACTICE },
    ],
    breakage: '120 ppm',
    reject: '80 ppm',
    stops: laserStops(),
    from: INVENTED,
  },
  {
    // From the front end to the stocker before the print lines.
    carriers: 'dry cassettes to print',
    holds: 100,
    number: 330,
    fullAtMost: 210,
    longestWait: '15 min',
    moved: { takes: TRIP, by: VEHICLES, perTrip: 8, priority: 1 },
    back: '4 min',
    ...cassetteWear,
    from: INVENTED,
  },
]

/** SiNx from a plasma in tubes with graphite boats; with the loader the rear takes 40 min, the front 42 min. */
function nitride(step: string, time: '36.4 min' | '38.4 min', late: TimeLimit): Item {
  return {
    step,
    tools: 3,
    batch: {
      load: 400,
      ...filledUp(200, '20 min'),
      tubes: 5,
      time: { normal: time, sd: '0.7 min' },
      loading: '1.8 min',
      unloading: '1.8 min',
      // To the wash after 100 runs, then once through a tube without wafers.
      boats: {
        perTool: 11,
        cooling: '18 min',
        cleaning: { every: 100, lasts: '18 h', coating: '70 min' },
      },
    },
    timeLimits: [{ ...late, from: COMMON_PRACTICE }],
    breakage: '350 ppm',
    reject: '250 ppm',
    rework: { share: '0.1 %', to: step, atMost: 1, from: INVENTED },
    stops: [
      loaderFault(5, 'boat loader gripper', '15 h', '7.7 min', 0.8, { inside: { lose: [1, 4] } }),
      loaderFault(5, 'wafer not seated in boat', '4.8 h', '2 min', 0.6, { inside: { lose: 1 } }),
      // A load coated in part is stripped and coated again.
      fault('plasma or contact fault', '110 h', '33 min', 0.9, FURNACE, { inside: 'restart' }),
      fault('gas flow or exhaust alarm', '210 h', '58 min', 0.9, FURNACE, { ...calendar, inside: 'restart' }),
      fault('pump trip or clogged foreline', '390 h', '180 min', 0.9, FURNACE, {
        ...calendar,
        inside: 'restart',
      }),
      plannedRarely('tube clean', 1000, 'loads', '360 min', FURNACE),
      plannedBetweenLoads('pump service', '2190 h', '240 min', FURNACE),
      plannedBetweenLoads('weekly check', '168 h', '60 min', FURNACE),
    ],
    from: INVENTED,
  }
}
