import { cutNormalSampler } from './cut-normal.ts'
import { exponentialSampler } from './exponential.ts'
import { gammaSampler } from './gamma.ts'
import { geometricLawSampler, stepSampler } from './geometric.ts'
import type { Law } from './law.ts'
import { lognormalSampler } from './lognormal.ts'
import { observedSampler, replaySampler } from './observed.ts'
import type { Stream } from './streams.ts'
import { triangularSampler } from './triangular.ts'
import { uniformSampler } from './uniform.ts'
import { weibullSampler } from './weibull.ts'

/**
 * A function that draws from the law, in base units.
 *
 * Every draw inverts the distribution at one uniform of the stream and rises
 * with it, so that two variants of a line which share their streams stay in step
 * draw by draw (common random numbers). A fixed law and a replay take none.
 */
export function sampler(law: Law, stream: Stream): () => number {
  switch (law.kind) {
    case 'fixed':
      return fixedSampler(law.value)
    case 'exponential':
      return exponentialSampler(law.mean, stream)
    case 'lognormal':
      return lognormalSampler(law.mean, law.cv, stream)
    case 'gamma':
      return gammaSampler(law.mean, law.cv, stream)
    case 'weibull':
      return weibullSampler(law.mean, law.shape, stream)
    case 'normal':
      return cutNormalSampler(law, stream)
    case 'triangular':
      return triangularSampler(law.least, law.mode, law.most, stream)
    case 'uniform':
      return uniformSampler(law.least, law.most, stream)
    case 'geometric':
      return geometricLawSampler(law.mean, law.step, stream)
    case 'observed':
      return observedSampler(law.values, stream)
    case 'replayed':
      return replaySampler(law.values)
  }
}

/**
 * Number of wafers up to and including the next one that fails, when each fails
 * with the probability `share`, independent of all others:
 * P(K = 1) = share, P(K > k) = (1 - share)^k. One uniform per occurrence, so that
 * rare failures cost nothing while they do not happen.
 *
 * Infinity for share 0 and 1 for share 1, both without a draw.
 */
export function geometricSampler(share: number, stream: Stream): () => number {
  if (share <= 0) return fixedSampler(Infinity)
  if (share >= 1) return fixedSampler(1)
  return stepSampler(share, stream)
}

function fixedSampler(value: number): () => number {
  return () => value
}
