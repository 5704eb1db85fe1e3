import { line } from 'linewright'

/*
 * For a capacity planner: a small line to be sized. Invented, with round figures, so that the
 * whole search takes seconds: `linewright size scenarios/new-line.ts`, then `payback` on the same.
 */
export default line({
  line: 'Larkmoor pilot line',
  from: 'fictional line, invented',
  target: '1500 wafers/h',
  wafer: { area: '330.15 cm2', efficiency: { mean: '24 %' } },
  route: [
    { step: 'texture', belt: { spacing: '2 s', transit: '5 min' }, breakage: '300 ppm' },
    { buffer: 'wet store', capacity: 1000 },
    {
      step: 'diffusion',
      tools: 2,
      batch: { load: 500, time: '40 min', loading: '3 min', unloading: '3 min' },
      stops: [{ stop: 'paddle fault', every: { exponential: '40 h' }, lasts: { lognormal: '1 h', cv: 0.8 } }],
    },
    { buffer: 'tube store', capacity: 1200 },
    {
      step: 'print',
      tools: 1,
      cycle: '3.6 s',
      breakage: '0.1 %',
      stops: [
        {
          stop: 'screen change',
          counts: 'wafers',
          every: 8000,
          first: 'at random',
          lasts: '6 min',
          kind: 'scheduled',
        },
        { stop: 'jam', every: { exponential: '2 h' }, lasts: { lognormal: '4 min', cv: 0.7 } },
      ],
    },
    { buffer: 'magazine', capacity: 60 },
    { step: 'test', cycle: '2.6 s', reject: '0.8 %' },
  ],
  run: { days: 1, replications: 6, seed: 'larkmoor' },
  money: {
    currency: 'EUR',
    pricePerWatt: 0.06,
    wafer: 0.27,
    addedPerWafer: { texture: 0.006, diffusion: 0.01, print: 0.06 },
    hoursPerYear: 8400,
    discountRate: '9 %',
    years: 7,
    perKilowattHour: 0.09,
    tools: {
      texture: { price: 1_200_000, upkeep: '4 %', kilowatts: 90, floorArea: '60 m2' },
      diffusion: { price: 700_000, installation: 80_000, upkeep: '4 %', kilowatts: 60, floorArea: '25 m2' },
      print: { price: 420_000, installation: 30_000, upkeep: '5 %', kilowatts: 14, floorArea: '18 m2' },
      test: { price: 260_000, upkeep: '4 %', kilowatts: 8, floorArea: '12 m2' },
    },
    places: { 'wet store': 30, 'tube store': 30, magazine: 60 },
    fasterRepair: { shorterBy: '25 %', investment: 15_000 },
    from: 'invented, of the size that the trade knows',
  },
  sizing: {
    tools: { diffusion: [1, 5], print: [1, 4], test: [1, 3] },
    buffers: { magazine: [60, 120, 240] },
    floorArea: '260 m2',
  },
})
