import { BINNING } from './binning.ts'
import { CAPACITY } from './capacity.ts'
import type { Check } from './check.ts'
import { CLOSED_LOOPS } from './closed-loops.ts'
import { MACHINE_INTERFERENCE } from './machine-interference.ts'
import { QUEUES } from './queueing.ts'
import { QUEUEING_SYSTEMS } from './queueing-systems.ts'
import { REPAIR_CREW } from './repair-crew.ts'
import { SERIAL_EXPONENTIAL } from './serial-exponential.ts'
import { SERIAL_MIXED } from './serial-mixed.ts'
import { UNRELIABLE_IN_STEP } from './unreliable-in-step.ts'
import { UNRELIABLE_LINES } from './unreliable-lines.ts'

/**
 * Every simulated check, family by family. Left out, and why: Q-17 (priorities) as a long run. Two classes
 * of calls for one person, each a Poisson stream, can be written as wafers that break and are
 * cleared away, but mean waits at a utilisation of 0.8, known to 1 %, would take minutes.
 */
export const CHECKS: readonly Check[] = [
  ...QUEUES,
  ...QUEUEING_SYSTEMS,
  ...MACHINE_INTERFERENCE,
  ...SERIAL_EXPONENTIAL,
  ...SERIAL_MIXED,
  ...UNRELIABLE_IN_STEP,
  ...UNRELIABLE_LINES,
  ...REPAIR_CREW,
  ...CLOSED_LOOPS,
  ...CAPACITY,
  ...BINNING,
]
