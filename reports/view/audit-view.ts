import type { AuditFigures } from '../../sim/study/run-study.ts'
import { grouped } from './format.ts'

/** The audit of a run in words. */
export interface AuditView {
  readonly passed: boolean
  readonly lines: readonly string[]
  readonly faults: readonly string[]
}

/** The audit in words: where every wafer went, and how far Little's law is off. */
export function auditView(audit: AuditFigures): AuditView {
  const count = (value: number) => grouped(value, 0)
  const out = audit.good + audit.broken + audit.rejected + audit.lost + audit.inside
  return {
    passed: audit.passed,
    lines: [
      `Wafers in ${count(audit.wafersIn)}, accounted for ${count(out)}: good ${count(audit.good)}, broken ${count(audit.broken)}, rejected ${count(audit.rejected)}, lost ${count(audit.lost)}, still inside ${count(audit.inside)}.`,
      `Largest gap of Little's law, WIP x time against summed stays: ${gap(audit.littleGap)}.`,
    ],
    faults: audit.faults,
  }
}

function gap(relative: number): string {
  return relative === 0 ? 'none' : `${relative.toExponential(1)} of the stays`
}
