import { BINNING } from './binning.ts'
import { CAPACITY } from './capacity.ts'
import type { Check } from './check.ts'
import { QUEUES } from './queueing.ts'
import { QUEUEING_SYSTEMS } from './queueing-systems.ts'
import { SERIAL_EXPONENTIAL } from './serial-exponential.ts'
import { SERIAL_MIXED } from './serial-mixed.ts'
import { UNRELIABLE_IN_STEP } from './unreliable-in-step.ts'
import { UNRELIABLE_LINES } from './unreliable-lines.ts'

/**
 * Every simulated check, family by family. Published checks that no line can be written
 * for yet, and why:
 *
 * - Q-17 (priorities): a queue serves first in, first out or last in, first out only;
 * - U-07, S-24 (repair crews): every repair starts at once;
 * - B-12 (a fixed number of wafers in the line): the feed has no such cap;
 * - blocking before service of S-09: tools here are blocked after service only.
 */
export const CHECKS: readonly Check[] = [
  ...QUEUES,
  ...QUEUEING_SYSTEMS,
  ...SERIAL_EXPONENTIAL,
  ...SERIAL_MIXED,
  ...UNRELIABLE_IN_STEP,
  ...UNRELIABLE_LINES,
  ...CAPACITY,
  ...BINNING,
]
