/** The public names. Scenario files need only those of the first block. */

export { type Problem, problemText } from './base/problems.ts'
export type { Spread } from './chance/spec.ts'
export { buffer, conveyor, group, line, step, stop } from './line/author.ts'
export { canonicalText } from './line/canonical.ts'
export { type CapacityRow, capacityTable } from './line/capacity.ts'
export { checkLine } from './line/check.ts'
export type * from './line/types.ts'
export { applyVariant, describeVariant } from './line/vary.ts'
export type { Estimate } from './stats/estimate.ts'
export type { RunOptions, StudyHooks } from './study/options.ts'
export { runStudy } from './study/replicate.ts'
export type * from './study/run-study.ts'
