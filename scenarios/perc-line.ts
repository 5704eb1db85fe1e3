import { line } from 'linewright'
import { money, sizing } from './data/money.ts'
import { oxidationToContacts } from './data/oxidation-to-contacts.ts'
import { BACK, calendar, crews, events, fleets, MECHATRONICS, TEST } from './data/people.ts'
import { printLine } from './data/print-lane.ts'
import { fault, INVENTED } from './data/stops.ts'
import { fastBackEnd, halfTheMicroStops, withCap, withHeads } from './data/variants.ts'
import { wafersToGlassEtch } from './data/wafers-to-glass-etch.ts'

/*
 * A whole line for mono PERC cells on wafers of 182 mm, 7200 wafers/h by its nameplate: the front
 * print, 2 lines of 2 lanes at 2 s. The factory is fictional and its figures are invented to be of
 * the size that the trade knows; where one has a source, `from` names it.
 *
 * How the real tools are written down here:
 * - Tools with an index and a way to the other end: destack, the lasers and flip are belts that stand
 *   while a wafer finds no place, since all of them stands at a stop. Print and test are single-wafer
 *   tools, since one wafer is broken, wiped or measured again, with a conveyor behind for the way.
 * - Dryers, furnace and regeneration have two lanes on one belt. Here each lane of the line has a belt
 *   of its own, so a stop of the whole belt strikes each lane by itself, at the same rate; people are
 *   called for each. Test and sorter are one tool there; here a sorter of two robots, one for each lane,
 *   takes the cells of both lanes of a print line as they come.
 * - A stop of one lane of a tool whose lanes share one belt here (lasers, glass etch), of a loader, or
 *   of one of three etch tanks is spread over the whole tool: see `laneFault`, `loaderFault`.
 * - Stops of a tube tool strike each tube by itself, those of the whole tool (paddle) too.
 * - Where the trade says "scrapped or processed again" a load begins anew; "rejected" is lost.
 * - Stops call people, who need their time to come. Those spread over lanes or tubes call nobody.
 * - Between areas cassettes go by trolley or vehicle, in three places; elsewhere tools stand side by
 *   side, and cassettes are places in a buffer, so they wear where they are carried. Units of 100 (stacks, cassettes, boxes) and their
 *   changes are inside the index of their tools, but for the boxes of the sorters.
 * - A wash of boats is work beside the line: boats are away, nobody is called.
 */
export default line({
  line: 'Harrow Fen Cells, Hall 2',
  from: 'fictional line, invented',
  notes: [
    'Harrow Fen Cells is fictional; its figures are invented, of the size that the trade knows.',
    'Each shift has its crews, who come when called; stops of a loader, or of one lane of a belt with several, ' +
      'are spread over the tool and call nobody.',
    'Work that is due once a week or more rarely comes at random, at its true rate: a run of a few days sees little of it.',
    'A run starts empty: wafers in the line and throughput time grow for the first day or two.',
  ],
  target: '5850 wafers/h',
  feed: 'as fast as taken',
  calendar,
  crews,
  fleets,
  events,
  // The front end is faster than the front print: without a cap its buffers fill up.
  cap: { wafers: 95_000, from: INVENTED },
  wafer: {
    area: '330.15 cm2',
    efficiency: {
      mean: '23.1 %',
      // Of the wafer itself. Tube and boat add 0.06 %, print 0.05 %, firing 0.05 %: 0.147 % in all.
      sd: '0.07 %',
      lot: { wafers: 5000, sd: '0.09 %' },
      from: 'mean: China PV roadmap 2021, as reported by market news; the rest invented',
    },
    from: 'format from memory of the trade (182 mm, corners of 247 mm), area computed',
  },
  bins: {
    first: '22.2 %',
    width: '0.1 %',
    count: 18,
    colours: { light: '25 %', medium: '50 %', dark: '25 %' },
    boxes: {
      at: 'sort',
      holds: 100,
      // 11 bins around the mean in three colours, the low-grade box and the overflow: 35 outputs of each print line, beside one for rejects.
      ownBins: [5, 15],
      swap: { lasts: '20 s', skill: TEST },
    },
    from: 'number of bins: common practice, no source; the rest invented',
  },
  route: [
    ...wafersToGlassEtch,
    ...oxidationToContacts,
    // With the full cassettes before it there are 240 places in the stocker.
    { buffer: 'main buffer before print', capacity: 3000, from: INVENTED },
    { group: 'print lines', lanes: ['A', 'B'], each: printLine, from: INVENTED },
    { buffer: 'boxes before pack', capacity: 14_400, from: INVENTED },
    {
      step: 'pack',
      tools: 2,
      cycle: '0.8 s',
      breakage: '60 ppm',
      stops: [fault('label or wrap fault', '16 h', '4 min', 0.7, TEST)],
      from: INVENTED,
    },
  ],
  run: { days: 10, replications: 6, seed: 'harrow fen' },
  money,
  sizing,
  // What might be changed. A change of the route itself (boron emitters, a line of 2010) is another scenario.
  variants: {
    'front print at 1.8 s': { 'front print': { cycle: '1.8 s' } },
    'third print line': { 'print lines': { lanes: ['A', 'B', 'C'] } },
    'fast back end': fastBackEnd,
    'one more front nitride tool': { 'front nitride': { tools: 4 } },
    'screens of 40000 prints': {
      'front print': { stops: { 'screen change': { every: { uniform: [38_000, 42_000] } } } },
    },
    'half the micro-stops in the print lines': halfTheMicroStops(),
    'one more operator in the back end': withHeads(BACK, 5),
    'two more mechatronics': withHeads(MECHATRONICS, 4),
    'hot firing profile': { 'firing furnace': { recipe: 'hot' } },
    'cap of 70000 wafers': withCap(70_000),
    'diffusion with loads of 900': { diffusion: { batch: { load: 900 } } },
    'smallest magazines in the print lines': {
      'magazine after dryer 1': { capacity: 30 },
      'magazine after dryer 2': { capacity: 35 },
      'magazine after furnace': { capacity: 70 },
      'magazine before test': { capacity: 42 },
    },
  },
})
