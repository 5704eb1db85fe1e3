import type { Item } from 'linewright'
import { FRONT, FURNACE, HANDLERS, MECHATRONICS, PROCESS, TRIP, VEHICLES, WET } from './people.ts'
import {
  about,
  boats,
  COMMON_PRACTICE,
  cassetteWear,
  fault,
  filledUp,
  INVENTED,
  laneFault,
  loaderFault,
  planned,
  plannedBetweenLoads,
  plannedRarely,
} from './stops.ts'

/** Front end, first part: from the stack of wafers to the emitter without glass. */
export const wafersToGlassEtch: readonly Item[] = [
  {
    // Two lanes and 20 s from one end to the other: a belt that stands while a wafer finds no place.
    step: 'destack',
    tools: 2,
    belt: { lanes: 2, spacing: '1.6 s', transit: '20 s', whenFull: 'stop' },
    breakage: '400 ppm',
    // Chips, cracks, thickness: they go back to the supplier.
    reject: '0.5 %',
    stops: [
      fault('double pick', '1.3 h', '1.2 min', 0.5, FRONT, { inside: 'resume' }),
      fault('broken wafer in stack', '4 h', '4 min', 0.6, FRONT, { inside: { lose: [1, 3] } }),
      fault('camera or sensor fault', '120 h', '28 min', 0.8, PROCESS, { inside: 'resume' }),
      fault('gripper or vacuum fault', '230 h', '72 min', 0.9, MECHATRONICS, { inside: 'resume' }),
      planned('clean suction cups and optics', '12 h', '10 min', FRONT),
      planned('weekly maintenance', '168 h', '90 min', MECHATRONICS),
      planned('quarterly maintenance', '2190 h', '360 min', MECHATRONICS),
    ],
    from: INVENTED,
  },
  { buffer: 'wet cassettes before texture', capacity: 12_000, from: INVENTED },
  {
    // A wet bench takes a load of six cassettes every 7.5 min; what follows is the conveyor behind it.
    step: 'texture',
    tools: 2,
    batch: { load: 600, least: 300, longestWait: '6 min', time: '7.5 min' },
    breakage: '300 ppm',
    reject: '200 ppm',
    rework: { share: '0.2 %', to: 'texture', atMost: 1, from: INVENTED },
    stops: [
      // What stands in etch when the robot does not come back within 4 min is lost.
      fault('carrier robot fault', '82 h', '20 min', 0.9, MECHATRONICS, { inside: 'lose' }),
      // One of three etch tanks: a third of 28 min for the tool.
      fault('bath temperature or dosing', '98 h', '9.33 min', 0.8, WET, { counts: 'calendar time' }),
      fault('dryer heater or fan fault', '270 h', '91 min', 0.9, MECHATRONICS, { counts: 'calendar time' }),
      fault('pump, valve or leak', '420 h', '170 min', 0.9, WET, { counts: 'calendar time', inside: 'lose' }),
      fault('cassette misplaced', '11 h', '2.5 min', 0.6, FRONT),
      // Each of three etch tanks after 100 loads of its own, 55 min: a third of that for the tool.
      {
        stop: 'etch tank refill',
        counts: 'loads',
        every: about(100),
        lasts: '18.33 min',
        kind: 'supply',
        skill: WET,
        waits: { until: 'starved', atMost: '1 h' },
        from: INVENTED,
      },
      plannedBetweenLoads('shift check and titration', '12 h', '10 min', WET),
      plannedBetweenLoads('clean rinse tanks and weirs', '168 h', '120 min', WET),
      plannedBetweenLoads('quarterly maintenance', '2190 h', '600 min', WET),
    ],
    from: INVENTED,
  },
  {
    // The way of a load through the baths, 58 min in all; seven more loads per bench.
    conveyor: 'texture baths',
    transit: '50.5 min',
    capacity: 8400,
    from: INVENTED,
  },
  {
    // 420 wet cassettes in all, of which 120 stand before the texture and 48 are in each bench.
    carriers: 'wet cassettes to diffusion',
    holds: 100,
    number: 204,
    fullAtMost: 120,
    longestWait: '15 min',
    moved: { takes: TRIP, by: HANDLERS, perTrip: 8 },
    back: '4 min',
    ...cassetteWear,
    from: INVENTED,
  },
  // With the full cassettes there are 144 places before the diffusion.
  { buffer: 'wet cassettes before diffusion', capacity: 2400, from: INVENTED },
  {
    // A tube takes a load every 102 min. Two robots need 12 min each for a boat, one on the
    // way in and one on the way out: one loader with 6 min each way moves as many.
    step: 'diffusion',
    tools: 2,
    batch: {
      load: 1200,
      ...filledUp(600, '30 min'),
      tubes: 6,
      time: { normal: '90 min', sd: '1 min' },
      loading: '6 min',
      unloading: '6 min',
      boats: boats(10, '20 min'),
      // What the oxidation takes in 4 h (net 8549 wafers/h), the time limit before it: no load starts that would wait longer.
      cap: { wafers: 34_000, until: 'oxidation' },
    },
    // A clean surface ages: 4 h from the end of the bench, 50.5 min after the load has been taken. Late wafers
    // are cleaned once more; those that are late again are scrapped.
    timeLimits: [
      {
        after: 'texture',
        atMost: '290.5 min',
        late: { to: 'texture', atMost: 1 },
        from: COMMON_PRACTICE,
      },
    ],
    // What tube and place in the boat add.
    effect: { sd: '0.06 %' },
    breakage: '450 ppm',
    reject: '300 ppm',
    rework: { share: '0.3 %', to: 'diffusion', atMost: 1, from: INVENTED },
    stops: [
      loaderFault(6, 'boat loader gripper', '21 h', '9.9 min', 0.8, { inside: { lose: [1, 6] } }),
      loaderFault(6, 'shard in boat', '8.8 h', '3 min', 0.6, { inside: { lose: [1, 4] } }),
      fault('door seal or pressure', '270 h', '78 min', 0.9, FURNACE, {
        counts: 'calendar time',
        inside: 'restart',
      }),
      fault('gas flow or bubbler', '230 h', '46 min', 0.8, FURNACE, {
        counts: 'calendar time',
        inside: 'restart',
      }),
      fault('vacuum pump trip', '580 h', '200 min', 0.9, FURNACE, {
        counts: 'calendar time',
        inside: 'lose',
      }),
      fault('paddle or elevator fault', '460 h', '140 min', 0.9, MECHATRONICS),
      {
        stop: 'conditioning run',
        afterIdle: '8 h',
        lasts: '60 min',
        kind: 'scheduled',
        skill: PROCESS,
        from: INVENTED,
      },
      plannedBetweenLoads('source change', '336 h', '35 min', FURNACE),
      plannedBetweenLoads('pump oil and cold trap', '720 h', '150 min', FURNACE),
      plannedBetweenLoads('quartz tube swap', '8760 h', '1320 min', FURNACE),
    ],
    from: 'tube cycle of 102 min: TaiyangNews, Boron for TOPCon; the rest invented',
  },
  {
    carriers: 'dry cassettes to laser doping',
    holds: 100,
    number: 150,
    fullAtMost: 60,
    longestWait: '15 min',
    moved: { takes: TRIP, by: VEHICLES, perTrip: 8 },
    back: '4 min',
    ...cassetteWear,
    from: INVENTED,
  },
  { buffer: 'cassettes before laser doping', capacity: 1200, from: INVENTED },
  {
    // Laser selective emitter. The glass takes up moisture after a day; what late wafers lose is invented.
    step: 'laser doping',
    tools: 2,
    belt: { lanes: 2, spacing: '1.7 s', transit: '12 s', whenFull: 'stop' },
    timeLimits: [{ after: 'diffusion', atMost: '24 h', late: { loses: '0.02 %' }, from: COMMON_PRACTICE }],
    breakage: '80 ppm',
    reject: '100 ppm',
    stops: laserStops(),
    from: INVENTED,
  },
  {
    buffer: 'lift buffer before glass etch',
    capacity: 4800,
    order: 'last in, first out',
    from: INVENTED,
  },
  {
    // Single-side wet bench: glass etch, edge isolation, rear polish. It runs out for 7 min and
    // takes a wafer in only while there is a place for each one inside.
    step: 'glass etch',
    tools: 2,
    belt: { lanes: 5, length: '20 m', speed: '2.9 m/min', pitch: '0.2 m', whenFull: 'run out' },
    timeLimits: [{ after: 'laser doping', atMost: '24 h', late: { loses: '0.02 %' }, from: COMMON_PRACTICE }],
    // Edges not quite isolated, which only the tester sees.
    defects: '200 ppm',
    breakage: '400 ppm',
    reject: '250 ppm',
    rework: { share: '0.1 %', to: 'glass etch', atMost: 1, from: INVENTED },
    stops: [
      laneFault(5, 'lane jam', '2.2 h', '2 min', 0.6, { inside: { lose: [1, 4] } }),
      // What is in the acid and the alkaline zone: up to 112 wafers.
      fault('roller or drive fault', '140 h', '58 min', 0.9, MECHATRONICS, { inside: { lose: 112 } }),
      fault('bath concentration or temperature', '68 h', '22 min', 0.8, WET, { counts: 'calendar time' }),
      fault('air knife or dryer fault', '200 h', '52 min', 0.8, MECHATRONICS),
      plannedRarely('acid change', 900_000, 'wafers', '240 min', WET),
      planned('roller clean and shard removal', '24 h', '20 min', FRONT),
      planned('weekly clean', '168 h', '120 min', WET),
      planned('filter change', '168 h', '40 min', WET),
      planned('quarterly maintenance', '2190 h', '600 min', WET),
    ],
    from: INVENTED,
  },
]

/** The two lasers have the same stops. */
export function laserStops() {
  return [
    laneFault(2, 'wafer not aligned', '2.4 h', '0.8 min', 0.5, { inside: 'resume' }),
    fault('cassette lift jam', '24 h', '4 min', 0.7, FRONT, { inside: 'resume' }),
    fault('laser power or interlock', '150 h', '46 min', 0.9, PROCESS, { inside: 'resume' }),
    fault('scanner or chiller fault', '580 h', '230 min', 1, MECHATRONICS, {
      counts: 'calendar time',
      inside: 'resume',
    }),
    planned('power check and lens clean', '24 h', '12 min', PROCESS),
    planned('monthly maintenance', '720 h', '180 min', MECHATRONICS),
  ]
}
