import type { Money, Sizing } from 'linewright'
import { BACK, MECHATRONICS, VEHICLES, wages } from './people.ts'
import { INVENTED } from './stops.ts'

/** Where a wafer may wait: cassettes, magazines, boxes. */
const STORES = [
  'wet cassettes before texture',
  'wet cassettes before diffusion',
  'cassettes before laser doping',
  'lift buffer before glass etch',
  'cassettes before oxidation',
  'cassettes before rear alumina',
  'cassettes before rear nitride',
  'cassettes before front nitride',
  'cassettes before contact opening',
  'main buffer before print',
  'cassette at the print lane',
  'magazine after dryer 1',
  'magazine after dryer 2',
  'magazine after furnace',
  'magazine before test',
  'belt of the sorter',
  'boxes before pack',
]

/** One tool installed, its floor, its power; upkeep a year is 4 % of the price everywhere. */
function tool(millions: number, floor: number, kilowatts: number) {
  return {
    price: Math.round(millions * 1e6),
    upkeep: '4 %',
    kilowatts,
    floorArea: `${floor} m2`,
    from: INVENTED,
  } as const
}

/** Prices of 2024, all invented, of the size that the trade knows: about 0.033 USD of equipment per W and year. */
export const money: Money = {
  currency: 'USD',
  pricePerWatt: 0.06,
  wafer: 0.27,
  addedPerWafer: {
    texture: 0.006,
    diffusion: 0.004,
    'laser doping': 0.001,
    'glass etch': 0.006,
    oxidation: 0.002,
    'rear alumina': 0.005,
    'rear nitride': 0.005,
    'front nitride': 0.005,
    'contact opening': 0.001,
    'rear pad print': 0.012,
    'rear aluminium print': 0.01,
    'front print': 0.06,
    'firing furnace': 0.004,
    test: 0.001,
    pack: 0.003,
  },
  // Screens, squeegees, lamps and probes; what wears with every wafer is in the lines above.
  stops: {
    'rear pad print': { 'screen change': 40, 'squeegee change': 12 },
    'rear aluminium print': { 'screen change': 40, 'squeegee change': 12 },
    'front print': { 'screen change': 90, 'screen burst after shard': 90, 'squeegee change': 15 },
    'firing furnace': { 'lamp change': 6000 },
    test: { 'probe bar change': 1500 },
  },
  // Etched and used again until they break or are worn out.
  dummies: { diffusion: 0.4, 'rear nitride': 0.4, 'front nitride': 0.4 },
  hoursPerYear: 8688,
  discountRate: '10 %',
  years: 7,
  perKilowattHour: 0.08,
  wages,
  tools: {
    destack: tool(0.25, 15, 5),
    texture: tool(1.6, 90, 110),
    diffusion: tool(1.8, 60, 180),
    'laser doping': tool(0.9, 15, 15),
    'glass etch': tool(1.4, 80, 90),
    oxidation: tool(0.9, 60, 120),
    'rear alumina': tool(1.2, 40, 60),
    'rear nitride': tool(1.7, 65, 160),
    'front nitride': tool(1.7, 65, 160),
    'contact opening': tool(0.9, 15, 15),
    'rear pad print': tool(0.1, 8, 5),
    'dryer 1': tool(0.05, 12, 20),
    'rear aluminium print': tool(0.1, 8, 5),
    'dryer 2': tool(0.06, 14, 20),
    flip: tool(0.01, 3, 1),
    'front print': tool(0.16, 8, 6),
    'firing furnace': tool(0.16, 25, 60),
    regeneration: tool(0.08, 15, 30),
    test: tool(0.05, 7, 5),
    sort: tool(0.03, 5, 3),
    pack: tool(0.15, 12, 4),
  },
  carriers: {
    'wet cassettes to diffusion': 70,
    'dry cassettes to laser doping': 55,
    'dry cassettes to print': 55,
  },
  vehicles: { [VEHICLES]: 90_000 },
  places: Object.fromEntries(STORES.map(store => [store, 2])),
  fasterRepair: { shorterBy: '25 %', investment: 40_000, from: INVENTED },
  variants: {
    'front print at 1.8 s': { investment: 400_000, from: INVENTED },
    'third print line': { investment: 1_600_000, perYear: 120_000, from: INVENTED },
    'fast back end': { investment: 1_200_000, from: INVENTED },
    'one more front nitride tool': { investment: 1_700_000, perYear: 170_000, from: INVENTED },
    // Half as many, and each is dearer by 65: some 1200 a year.
    'screens of 40000 prints': { investment: 0, perYear: 80_000, from: INVENTED },
    'half the micro-stops in the print lines': { investment: 150_000, from: INVENTED },
    'diffusion with loads of 900': { investment: 0, from: INVENTED },
    'smallest magazines in the print lines': { investment: 0, from: INVENTED },
    'hot firing profile': { investment: 0, from: INVENTED },
    // Four heads of 15 USD/h, one in each crew of the pattern; wages are counted by the hour of the line.
    'one more operator in the back end': { investment: 0, perYear: 130_000, from: INVENTED },
    'two more mechatronics': { investment: 0, perYear: 382_000, from: INVENTED },
    'cap of 70000 wafers': { investment: 0, from: INVENTED },
  },
  from: INVENTED,
}

/** What a planner of this hall may choose. */
export const sizing: Sizing = {
  tools: { texture: [1, 3], diffusion: [1, 3], 'rear nitride': [2, 4], 'front nitride': [2, 4] },
  lanes: { 'print lines': [1, 3] },
  buffers: { 'cassettes before contact opening': [3000, 6000] },
  heads: { [BACK]: [3, 4, 5], [MECHATRONICS]: [2, 3] },
  floorArea: '2000 m2',
  from: INVENTED,
}
