import { line } from 'linewright'
import { backEnd, feedIn } from './data/layouts.ts'

/* The tools and places of shared-pool.ts in two lanes that do not help each other out. */
export default line({
  line: 'separate lanes',
  from: 'invented',
  route: [
    feedIn,
    {
      group: 'lanes',
      lanes: ['A', 'B'],
      each: [
        { buffer: 'magazine', capacity: 4 },
        { ...backEnd.print, tools: 2 },
        { buffer: 'store', capacity: 4 },
        { ...backEnd.test, tools: 1 },
      ],
    },
  ],
  run: { days: 1, replications: 12, seed: 'layouts' },
})
