import { line } from 'linewright'

/*
 * For a maintenance lead: one print lane whose stops are to be weighed against each other.
 * Invented: `linewright losses scenarios/downtime.ts` ranks them, `--vary` draws the curve of one.
 */
export default line({
  line: 'Sallow Bank, lane 3',
  from: 'fictional line, invented',
  route: [
    {
      step: 'print',
      cycle: '2 s',
      breakage: '0.15 %',
      stops: [
        { stop: 'screen burst', every: { exponential: '150 min' }, lasts: { lognormal: '10 min', cv: 0.4 } },
        { stop: 'misprint', every: { exponential: '25 min' }, lasts: { lognormal: '40 s', cv: 0.5 } },
        { stop: 'paste refill', every: '2 h', lasts: '90 s', kind: 'scheduled' },
      ],
    },
    { buffer: 'magazine', capacity: 120 },
    {
      step: 'furnace',
      belt: { spacing: '1.8 s', transit: '70 s' },
      stops: [{ stop: 'belt slip', every: { exponential: '9 h' }, lasts: { lognormal: '20 min', cv: 0.5 } }],
    },
    { buffer: 'cooling', capacity: 200 },
    {
      step: 'test',
      cycle: '1.9 s',
      reject: '0.6 %',
      stops: [{ stop: 'probe jam', every: { exponential: '3 h' }, lasts: { lognormal: '6 min', cv: 0.7 } }],
    },
  ],
  run: { days: 1, replications: 10, seed: 'sallow bank' },
  money: {
    currency: 'EUR',
    pricePerCell: 0.48,
    wafer: 0.27,
    addedPerWafer: { print: 0.06, furnace: 0.004 },
    hoursPerYear: 8400,
    discountRate: '9 %',
    years: 5,
    tools: { print: { price: 420_000 }, furnace: { price: 900_000 }, test: { price: 260_000 } },
    places: { magazine: 60, cooling: 60 },
    fasterRepair: { shorterBy: '25 %', investment: 15_000 },
    from: 'invented, of the size that the trade knows',
  },
})
