import fc from 'fast-check'
import { describe, it } from 'vitest'
import { flowOf } from '../../sim/line/passage.ts'
import type { Route, Step } from '../../sim/line/types.ts'
import { relativelyCloseTo } from '../close.ts'

/** Yields and visits against a second way: every path of a wafer, with its count of rework, added up. */

interface Chance {
  readonly pass: number
  readonly back: number
}

interface Loop extends Chance {
  readonly to: number
  readonly atMost: number
  readonly then: 'reject' | 'pass'
}

/** Adds up the paths of one wafer through steps in a row. */
function addUpPaths(loops: readonly Loop[]): { readonly visits: number[]; readonly passed: number } {
  const visits = loops.map(() => 0)
  let passed = 0
  function follow(step: number, counts: readonly number[], weight: number): void {
    if (weight < 1e-17) return
    if (step === loops.length) {
      passed += weight
      return
    }
    const { pass, back, to, atMost, then } = loops[step]
    visits[step] += weight
    follow(step + 1, counts, weight * pass)
    if (counts[step] < atMost) follow(to, counts.with(step, counts[step] + 1), weight * back)
    else if (then === 'pass') follow(step + 1, counts, weight * back)
  }
  follow(
    0,
    loops.map(() => 0),
    1,
  )
  return { visits, passed }
}

function stepsFor(loops: readonly (Loop & { readonly reject: number; readonly share: number })[]): Route {
  return loops.map(
    ({ reject, share, to, atMost, then }, index): Step => ({
      step: `${index}`,
      cycle: '1 s',
      reject: `${reject} %`,
      ...(atMost > 0 ? { rework: { share: `${share} %`, to: `${to}`, atMost, then } } : {}),
    }),
  )
}

function loopOf(reject: number, share: number, to: number, atMost: number, then: 'reject' | 'pass') {
  const back = atMost > 0 ? (1 - reject / 100) * (share / 100) : 0
  return { reject, share, to, atMost, then, back, pass: 1 - reject / 100 - back }
}

function compare(loops: readonly ReturnType<typeof loopOf>[], tolerance: number): void {
  const flow = flowOf(stepsFor(loops), undefined, new Map())
  const { visits, passed } = addUpPaths(loops)
  relativelyCloseTo(flow.yield, passed, tolerance)
  visits.forEach((expected, step) => {
    relativelyCloseTo(flow.visits.get(`${step}`) ?? 0, expected, tolerance)
  })
}

const percent = fc.integer({ min: 0, max: 40 })
const then = fc.constantFrom('reject' as const, 'pass' as const)

describe('flowOf', () => {
  it('is exact for loops one after another', () => {
    // Each stretch of one to three steps ends with a loop over the whole stretch or a part of it.
    const stretch = fc.tuple(
      fc.array(percent, { minLength: 1, maxLength: 3 }),
      percent,
      fc.nat(2),
      fc.integer({ min: 0, max: 3 }),
      then,
    )
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 1, maxLength: 3 }), stretches => {
        const loops: ReturnType<typeof loopOf>[] = []
        for (const [rejects, share, reach, atMost, last] of stretches) {
          const first = loops.length
          rejects.forEach((reject, index) => {
            const isLast = index === rejects.length - 1
            loops.push(loopOf(reject, share, first + Math.min(reach, index), isLast ? atMost : 0, last))
          })
        }
        compare(loops, 1e-11)
      }),
    )
  })

  it('is exact for loops within loops when hardly anyone uses them up', () => {
    // 10 % at most 9 times: what the count would cut off is below 1e-9.
    const loop = fc.tuple(percent, fc.nat(3))
    fc.assert(
      fc.property(fc.array(loop, { minLength: 2, maxLength: 3 }), steps => {
        const loops = steps.map(([reject, reach], index) =>
          loopOf(reject, 10, Math.max(0, index - reach), 9, 'reject'),
        )
        compare(loops, 1e-8)
      }),
      { numRuns: 15 },
    )
  })
})
