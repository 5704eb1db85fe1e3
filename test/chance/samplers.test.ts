import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Law, quantile } from '../../sim/chance/law.ts'
import { sampler } from '../../sim/chance/sampler.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { relativelyCloseTo } from '../close.ts'
import { CONTINUOUS, DRAWN, FIXED, GEOMETRIC, nameOf, OBSERVED, REPLAYED } from './laws.ts'

const named = (laws: readonly Law[]) => laws.map(law => [nameOf(law), law] as const)

/** A stream that gives one value for ever and counts how often it was asked. */
function constant(u: number): { stream: () => number; asked: () => number } {
  let asked = 0
  return {
    stream: () => {
      asked++
      return u
    },
    asked: () => asked,
  }
}

const LAST = 1 - 2 ** -53
/** Uniforms from the very first to the very last that a stream can give, all on its grid. */
const GRID = [
  ...[0, 2 ** -53, 1e-12, 1e-9, 1e-6, 1e-3],
  ...Array.from({ length: 99 }, (_, i) => (i + 1) / 100),
  ...[0.999, 1 - 1e-6, 1 - 1e-9, 1 - 1e-12, LAST],
].map(u => Math.round(u * 2 ** 53) / 2 ** 53)
const uniforms = fc.integer({ min: 1, max: 2 ** 53 - 1 }).map(k => k / 2 ** 53)

describe.each(named(DRAWN))('sampler of %s', (_, law) => {
  it('asks the stream once per draw', () => {
    const { stream, asked } = constant(0.3)
    const draw = sampler(law, stream)
    expect(asked()).toBe(0)
    for (let i = 1; i <= 10; i++) {
      draw()
      expect(asked()).toBe(i)
    }
  })

  it('rises with the uniform and stays finite and within the law', () => {
    const least = quantile(law, 0)
    const most = quantile(law, 1)
    let previous = -Infinity
    for (const u of GRID) {
      const value = sampler(law, () => u)()
      expect(value).toBeGreaterThanOrEqual(previous)
      expect(value).toBeGreaterThanOrEqual(least)
      expect(value).toBeLessThanOrEqual(most)
      if (u > 0) expect(value).toSatisfy(Number.isFinite)
      previous = value
    }
  })
})

describe.each(named(CONTINUOUS))('sampler of %s', (_, law) => {
  it('is the quantile function at the uniform', () => {
    const tolerance = law.kind === 'gamma' ? 1e-7 : 1e-12
    const check = (u: number) => relativelyCloseTo(sampler(law, () => u)(), quantile(law, u), tolerance)
    for (const u of GRID) if (u > 0) check(u)
    fc.assert(fc.property(uniforms, check), { numRuns: 300, seed: 2 })
  })
})

describe.each(named(GEOMETRIC))('sampler of %s', (_, law) => {
  it('is the quantile function at the uniform', () => {
    const check = (u: number) => {
      expect(sampler(law, () => u)()).toBe(quantile(law, u))
    }
    fc.assert(fc.property(uniforms, check), { numRuns: 300, seed: 3 })
  })
})

describe('sampler of observed values', () => {
  it('gives each value the same share of the uniforms, in rising order', () => {
    const drawn = Array.from({ length: 10 }, (_, i) => sampler(OBSERVED, () => (i + 0.5) / 10)())
    expect(drawn).toEqual([3, 3, 3, 3, 7, 7, 9, 9, 12, 12])
  })

  it('never runs past the last value', () => {
    for (let count = 1; count <= 200; count++) {
      const values = Array.from({ length: count }, (_, i) => i)
      expect(sampler({ kind: 'observed', values }, () => LAST)()).toBe(count - 1)
    }
  })
})

describe('samplers without chance', () => {
  it('fixed never asks the stream', () => {
    const { stream, asked } = constant(0.3)
    const draw = sampler(FIXED, stream)
    expect([draw(), draw(), draw()]).toEqual([1.2, 1.2, 1.2])
    expect(asked()).toBe(0)
  })

  it('replayed gives the values in order, then from the start, without asking', () => {
    const { stream, asked } = constant(0.3)
    const draw = sampler(REPLAYED, stream)
    expect(Array.from({ length: 12 }, draw)).toEqual([7, 3, 9, 3, 12, 7, 3, 9, 3, 12, 7, 3])
    expect(asked()).toBe(0)
  })

  it('replayed starts anew for every sampler', () => {
    sampler(REPLAYED, () => 0)()
    expect(sampler(REPLAYED, () => 0)()).toBe(7)
  })
})

describe('common random numbers', () => {
  it('keep two laws in step: the same stream gives the same ranks', () => {
    const gamma = sampler({ kind: 'gamma', mean: 30, cv: 0.6 }, openStream('s', 0, 'repair'))
    const faster = sampler({ kind: 'lognormal', mean: 10, cv: 0.4 }, openStream('s', 0, 'repair'))
    const pairs = Array.from({ length: 1000 }, () => [gamma(), faster()])
    pairs.sort((a, b) => a[0] - b[0])
    expect(pairs.every((pair, i) => i === 0 || pair[1] >= pairs[i - 1][1])).toBe(true)
  })
})
