import gammainc from '@stdlib/math-base-special-gammainc'
import { describe, expect, it } from 'vitest'
import { type Law, mean } from '../../sim/chance/law.ts'
import { remainingOf } from '../../sim/chance/remaining.ts'
import { sampler } from '../../sim/chance/sampler.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { weibullScale } from '../../sim/chance/weibull.ts'
import { CRITICAL, kolmogorov } from './kolmogorov.ts'

/** Wear: cv 0.28. */
const WORN = { kind: 'weibull', mean: 60, shape: 4 } as const

function left(law: Law, name: string): number[] {
  const draw = sampler(law, openStream('remaining', 0, name))
  const moments = openStream('remaining', 0, name, 'moments')
  return Array.from({ length: 10_000 }, () => remainingOf(draw, mean(law), moments))
}

/**
 * By (1/m) x the integral of 1 - F from 0 to x (Cox 1962, Renewal Theory, section 5.2, from memory),
 * worked out for each law: of the Weibull law with scale s and shape k it is the incomplete gamma
 * function P(1/k, (x/s)^k), by the substitution u = (t/s)^k.
 */
describe('what is left of an interval', () => {
  it.each<[string, Law, (x: number) => number]>([
    ['fixed: anything up to all of it', { kind: 'fixed', value: 60 }, x => Math.min(1, x / 60)],
    ['exponential: as much as of a new one', { kind: 'exponential', mean: 60 }, x => -Math.expm1(-x / 60)],
    ['uniform from 0 to 120', { kind: 'uniform', least: 0, most: 120 }, x => (x - x ** 2 / 240) / 60],
    [
      'uniform from 40 to 80',
      { kind: 'uniform', least: 40, most: 80 },
      x => (x <= 40 ? x : x - (x - 40) ** 2 / 80) / 60,
    ],
    ['weibull of shape 4', WORN, x => gammainc((x / weibullScale(60, 4)) ** 4, 1 / 4)],
  ])('%s', (name, law, below) => {
    expect(kolmogorov(left(law, name), below)).toBeLessThan(CRITICAL)
  })

  it('would be noticed if it were a whole interval', () => {
    const whole = Array.from({ length: 10_000 }, sampler(WORN, openStream('remaining', 0, 'whole')))
    expect(kolmogorov(whole, x => gammainc((x / weibullScale(60, 4)) ** 4, 1 / 4))).toBeGreaterThan(CRITICAL)
  })
})
