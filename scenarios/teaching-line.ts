import { line } from 'linewright'

/*
 * Three tools, fixed times, one stop at fixed intervals: a line to be solved with a pencil.
 *
 *     print (2 s) -> dryer (belt, 58 s) -> magazine (39 places) -> test (3 s)
 *
 * Test is the slowest tool: 3 s, 1200 cells/h. As long as it has cells it works without a pause,
 * and print, faster, is held back to one wafer every 3 s: the dryer runs out, so it takes a wafer
 * in only while the magazine has a place for it and for each one inside. So dryer and magazine
 * together always hold 39 wafers: 58 s / 3 s, 19 or 20, on the belt, the others in the magazine.
 *
 * Print stops after 54 min of running, that is after 3240 s / 2 s = 1620 wafers, for 10 min. Between
 * two stops 1620 wafers go through the line, so that is a cycle which repeats for ever.
 *
 * What the stop costs. It begins the moment a wafer has left print, which is the moment test takes
 * one. Test works on that wafer and on the 39 behind it: 40 x 3 s = 120 s. Print comes up after
 * 600 s, needs 2 s for the wafer in it, the dryer 58 s: test gets its next wafer after 660 s. It
 * has starved for 660 s - 120 s = 540 s.
 *
 * The cycle. Test works 1620 x 3 s = 4860 s and starves 540 s: 5400 s. So the line makes 1620 cells
 * in 1.5 h: 1080 cells/h.
 *
 * States, as shares of the 5400 s:
 *   test    productive 4860 s, 90 %; starved 540 s, 10 %.
 *   print   productive 1620 x 2 s = 3240 s, 60 %; down 600 s, 11.1 %; blocked the rest, 28.9 %.
 *   dryer   judged at its infeed: productive 1620 x 1.5 s = 2430 s, 45 %; starved 628 s, 11.6 %;
 *           blocked 2342 s, 43.4 %. (The test of this file counts them.)
 *
 * Wafers in the line, and the time each spends there. Print always holds one. Test holds one for
 * 90 % of the time. Dryer and magazine hold 39, but for the time after a stop: 34.77 on average (the
 * test of this file adds that up). Together 36.67 wafers, so by Little's law a wafer spends
 * 36.67 / (1080/h) = 122.2 s in the line: 2 min 2 s.
 */
export default line({
  line: 'teaching line',
  from: 'invented',
  notes: ['Fixed times only, so every replication is the same: its figures can be found with a pencil.'],
  target: '1080 wafers/h',
  route: [
    {
      step: 'print',
      cycle: '2 s',
      stops: [
        { stop: 'screen change', every: '54 min', lasts: '10 min', kind: 'scheduled', from: 'invented' },
      ],
      from: 'invented',
    },
    { step: 'dryer', belt: { spacing: '1.5 s', transit: '58 s', whenFull: 'run out' }, from: 'invented' },
    { buffer: 'magazine', capacity: 39, from: 'invented' },
    { step: 'test', cycle: '3 s', from: 'invented' },
  ],
  // 75 h: 50 cycles of 1.5 h.
  run: { days: 3.125, replications: 2, seed: 'teaching' },
  variants: {
    'twice the magazine': { magazine: { capacity: 79 } },
    'screen change in 5 min': { print: { stops: { 'screen change': { lasts: '5 min' } } } },
  },
})
