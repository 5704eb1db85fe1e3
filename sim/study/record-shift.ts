import { Run } from '../engine/run.ts'
import { opensFrom } from '../line/calendar.ts'
import type { Line } from '../line/types.ts'
import { type Recording, record } from '../measure/recording.ts'
import { compile } from '../plan/compile.ts'
import { TICKS_PER_SECOND } from '../plan/plan.ts'
import type { RunOptions } from './options.ts'
import type { RunStudy } from './run-study.ts'

/** Length of a shift [h]. */
const SHIFT_HOURS = 8
/** A sample every so many seconds, unless the line is large. */
const EVERY_SECONDS = 30
/** Samples of all tools and stores together that a page can carry. */
const MOST_SAMPLES = 250_000

/**
 * Records one shift of the first replication of a study, from the end of the warm-up on, or
 * from when the line opens after it: the same seed and streams, so the same wafers at the
 * same ticks. The shift is shorter when the run ends before.
 *
 * @param line the line that was studied
 */
export function recordShift(
  line: Line,
  options: Pick<RunOptions, 'seed' | 'drive' | 'days'>,
  study: RunStudy,
): Recording {
  const plan = compile(line)
  const key = { seed: options.seed, replication: 0 }
  const run = new Run(plan, options.days * 86_400 * TICKS_PER_SECOND, key, options.drive)
  const { cutHours, windowHours } = study.warmUp
  const end = cutHours + windowHours
  const opens = opensFrom(line.calendar, Math.round(cutHours * 3600)) / 3600
  const startHours = opens < end ? opens : cutHours
  const hours = Math.min(SHIFT_HOURS, end - startHours)
  const tools = plan.stations.reduce((sum, station) => sum + ('tools' in station ? station.tools : 0), 0)
  const most = Math.max(30, Math.floor(MOST_SAMPLES / (tools + plan.channels.length)))
  const everySeconds = Math.max(1, Math.ceil(Math.max(EVERY_SECONDS, (hours * 3600) / most)))
  // A run of seconds is looked at ten times at least.
  const every = Math.min(everySeconds, Math.max(0.001, (hours * 3600) / 10))
  return record(plan, run, {
    startHours,
    everySeconds: every,
    samples: Math.floor((hours * 3600) / every) + 1,
  })
}
