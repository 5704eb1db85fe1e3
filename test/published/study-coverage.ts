import type { Line } from '../../sim/line/types.ts'
import { compareDesigns } from '../../sim/study/compare/compare.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import type { StudyCheck } from './check.ts'
import { exponential, queue } from './lines.ts'
import { holds, lineOf, meansOf, optionsOf, repeated, share } from './study-run.ts'

/**
 * How often the simulator's own intervals cover the truth: whole studies, each with its
 * own seed, from the scenario to the interval in the report. Half-widths that divide by
 * n instead of n - 1, wrong degrees of freedom or streams used twice would show here.
 */
const NOMINAL = 0.95

const COVERED = 'share that covers, nominal 0.95'

const MM1: Line = queue('M/M/1', { every: exponential(1.25) }, { cycle: exponential(1) })

/** Mean wait in the queue [h]. */
const WAIT = 4 / 60

/** 20 000 customers in each of ten replications: 25 000 minutes. */
const waits: StudyCheck = {
  ...{ id: 'T-26', family: 'statistics' },
  what: 'M/M/1 at 0.8: how often the 95 % interval of ten replications covers the mean wait of 4',
  source: 'Law & Kelton, Simulation Modeling and Analysis, coverage of replications (from memory)',
  run: { days: 25_000 / 1440, replications: 10, repeats: 400 },
  async find(run) {
    const line = lineOf(MM1)
    const came = await repeated(run, async one => {
      const options = { ...optionsOf(one, NOMINAL), cap: one.replications }
      const { places } = await runStudy(line, options)
      const place = places.find(({ kind }) => kind === 'buffer')
      if (!place) throw new Error('the study has no queue')
      return holds(place.stayHours, WAIT)
    })
    return [share(COVERED, NOMINAL, came)]
  },
}

/** A tool that never waits. */
const tool = (seconds: number): Line => ({
  line: 'tool',
  route: [{ step: 'tool', cycle: { exponential: `${seconds} s` } }],
})

/** With exponential times what a tool makes is a Poisson stream from its first moment on: no warm-up, no bias. */
const pairs: StudyCheck = {
  ...{ id: 'D-10', family: 'studies' },
  what: 'compare: a tool of 3 s against one of 2.5 s, how often the paired 95 % interval of five replications covers the difference of 240 an hour',
  source: 'a tool that never waits makes 3600 / mean an hour (renewal theory)',
  run: { days: 0.02, replications: 5, repeats: 200 },
  async find(run) {
    const designs = [
      { name: 'slow', line: lineOf(tool(3)) },
      { name: 'fast', line: lineOf(tool(2.5)) },
    ]
    const came = await repeated(run, async one => {
      const [pair] = (await compareDesigns(designs, optionsOf(one, NOMINAL), meansOf(one))).pairs
      return holds(pair.gainPerHour, 3600 / 2.5 - 3600 / 3)
    })
    return [share(COVERED, NOMINAL, came)]
  },
}

export const STUDY_COVERAGE: readonly StudyCheck[] = [waits, pairs]
