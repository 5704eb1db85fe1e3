import { line } from 'linewright'

/*
 * For a maintenance lead: how often to service the pumps of tube coaters. A pump wears; service or a repair makes it
 * as new, and both begin the service interval anew. All of it began long ago, at a random moment of an interval.
 * A service takes a kit, a failure another pump: what brings the most cells need not bring the most money.
 * Invented: `linewright losses scenarios/service-rhythm.ts --vary "stop pump service: every"` draws the curve.
 */
export default line({
  line: 'Larkmoor pilot line, coaters',
  from: 'fictional tools, invented',
  route: [
    { buffer: 'before coating', capacity: 500 },
    {
      step: 'coating',
      tools: 2,
      // Not fixed: tubes that share a loader would fall in step, and wait for it until the next stop.
      batch: {
        load: 60,
        time: { normal: '40 min', sd: '30 s' },
        tubes: 2,
        loading: '3 min',
        unloading: '3 min',
      },
      stops: [
        {
          stop: 'pump service',
          every: '350 h',
          first: 'at random',
          lasts: '3 h',
          kind: 'scheduled',
          renews: ['pump failure'],
          // Planned work of this kind is done between loads.
          waits: { until: 'load ends', atMost: '2 h' },
        },
        {
          stop: 'pump failure',
          every: { weibull: '400 h', shape: 4 },
          first: 'at random',
          lasts: { lognormal: '30 h', cv: 0.5 },
          inside: 'lose',
          renews: ['pump service'],
        },
      ],
    },
  ],
  money: {
    currency: 'EUR',
    pricePerCell: 0.46,
    wafer: 0.27,
    addedPerWafer: { coating: 0.006 },
    stops: { coating: { 'pump service': 1900, 'pump failure': 4200 } },
    hoursPerYear: 8400,
    discountRate: '9 %',
    years: 7,
    tools: { coating: { price: 1_500_000, upkeep: '4 %', kilowatts: 160, floorArea: '60 m2' } },
    perKilowattHour: 0.09,
    places: { 'before coating': 2 },
    fasterRepair: { shorterBy: '25 %', investment: 20_000 },
    from: 'invented',
  },
  run: { days: 200, replications: 12, seed: 'larkmoor' },
})
