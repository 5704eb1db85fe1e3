import { line } from 'linewright'
import { backEnd, feedIn } from './data/layouts.ts'

/*
 * For a consultant: four printers behind one magazine that feed two testers behind another.
 * Its rival is separate-lanes.ts, with the same tools and as many places: `linewright compare` both.
 */
export default line({
  line: 'shared pool',
  from: 'invented',
  route: [
    feedIn,
    { buffer: 'magazine', capacity: 8 },
    { ...backEnd.print, tools: 4 },
    { buffer: 'store', capacity: 8 },
    { ...backEnd.test, tools: 2 },
  ],
  run: { days: 1, replications: 12, seed: 'layouts' },
})
