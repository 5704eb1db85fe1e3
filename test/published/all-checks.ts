import { BINNING } from './binning.ts'
import { CAPACITY } from './capacity.ts'
import type { Check } from './check.ts'
import { CLOSED_LOOPS } from './closed-loops.ts'
import { MACHINE_INTERFERENCE } from './machine-interference.ts'
import { PLANNED_REPLACEMENT } from './planned-replacement.ts'
import { QUEUES } from './queueing.ts'
import { QUEUEING_SYSTEMS } from './queueing-systems.ts'
import { REPAIR_CREW } from './repair-crew.ts'
import { SERIAL_EXPONENTIAL } from './serial-exponential.ts'
import { SERIAL_MIXED } from './serial-mixed.ts'
import { UNRELIABLE_IN_STEP } from './unreliable-in-step.ts'
import { UNRELIABLE_LINES } from './unreliable-lines.ts'

/** Every simulated check of `run`, family by family. What is left out, and why, stands in DEVELOPERS.md. */
export const CHECKS: readonly Check[] = [
  ...QUEUES,
  ...QUEUEING_SYSTEMS,
  ...MACHINE_INTERFERENCE,
  ...SERIAL_EXPONENTIAL,
  ...SERIAL_MIXED,
  ...UNRELIABLE_IN_STEP,
  ...UNRELIABLE_LINES,
  ...PLANNED_REPLACEMENT,
  ...REPAIR_CREW,
  ...CLOSED_LOOPS,
  ...CAPACITY,
  ...BINNING,
]
