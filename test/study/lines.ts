import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import type { DesignOptions, Means } from '../../sim/study/designs/designs.ts'
import { inProcessRunner } from '../../sim/study/in-process.ts'

/** The line that a test gives, checked. */
export function checked(value: object): Line {
  const { line, problems } = checkLine({ line: 'test line', ...value })
  if (!line) throw new Error(JSON.stringify(problems))
  return line
}

/** Tools of 2 s, 3 s, ... in a row, with buffers between them. */
export function rowOf(capacity: number, ...cycles: readonly object[]): Line {
  const route = cycles.flatMap((step, i) => [
    ...(i > 0 ? [{ buffer: `store ${i}`, capacity }] : []),
    { step: `step ${i + 1}`, ...step },
  ])
  return checked({ route })
}

export function optionsOf(more: Partial<DesignOptions> = {}): DesignOptions {
  return { days: 0.5, replications: 4, seed: 'test', drive: 'eager', level: 0.95, version: 'test', ...more }
}

export const here = (): Means => ({ runner: inProcessRunner() })
