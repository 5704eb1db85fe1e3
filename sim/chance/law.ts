import { cutNormalMean, cutNormalQuantile, cutNormalVariance } from './cut-normal.ts'
import { exponentialQuantile, exponentialVariance } from './exponential.ts'
import { gammaQuantile } from './gamma.ts'
import { geometricQuantile, geometricVariance } from './geometric.ts'
import { lognormalQuantile } from './lognormal.ts'
import { observedMean, observedQuantile, observedVariance } from './observed.ts'
import type { ShapedSpread, Spread } from './spec.ts'
import { triangularMean, triangularQuantile, triangularVariance } from './triangular.ts'
import { uniformMean, uniformQuantile, uniformVariance } from './uniform.ts'
import { weibullQuantile, weibullVariance } from './weibull.ts'

/** A distribution in base units (seconds for times, pieces for counts), as plain data. */
export type Law =
  | { readonly kind: 'fixed'; readonly value: number }
  | { readonly kind: 'exponential'; readonly mean: number }
  | { readonly kind: 'lognormal'; readonly mean: number; readonly cv: number }
  | { readonly kind: 'gamma'; readonly mean: number; readonly cv: number }
  | { readonly kind: 'weibull'; readonly mean: number; readonly shape: number }
  /** `mean` and `sd` of the uncut law. `most` may be Infinity. */
  | {
      readonly kind: 'normal'
      readonly mean: number
      readonly sd: number
      readonly least: number
      readonly most: number
    }
  | { readonly kind: 'triangular'; readonly least: number; readonly mode: number; readonly most: number }
  | { readonly kind: 'uniform'; readonly least: number; readonly most: number }
  | { readonly kind: 'geometric'; readonly mean: number; readonly step: number }
  | { readonly kind: 'observed'; readonly values: readonly number[] }
  | { readonly kind: 'replayed'; readonly values: readonly number[] }

/**
 * Turns a valid spread into a law. `read` gives a quantity in base units, `one`
 * is the step of a geometric law that states none, in base units.
 *
 * A law without any spread (cv 0, sd 0) is the fixed value that it always gives.
 */
export function toLaw<V>(spread: Spread<V>, read: (value: V) => number, one: number): Law {
  if (typeof spread !== 'object' || spread === null) return { kind: 'fixed', value: read(spread as V) }
  const shaped = spread as ShapedSpread<V>
  if ('exponential' in shaped) return { kind: 'exponential', mean: read(shaped.exponential) }
  if ('lognormal' in shaped) return byCv('lognormal', read(shaped.lognormal), shaped.cv)
  if ('gamma' in shaped) return byCv('gamma', read(shaped.gamma), shaped.cv)
  if ('weibull' in shaped) return { kind: 'weibull', mean: read(shaped.weibull), shape: shaped.shape }
  if ('normal' in shaped) return normalLaw(shaped, read)
  if ('triangular' in shaped) {
    const [least, mode, most] = shaped.triangular
    return { kind: 'triangular', least: read(least), mode: read(mode), most: read(most) }
  }
  if ('uniform' in shaped) {
    const [least, most] = shaped.uniform
    return { kind: 'uniform', least: read(least), most: read(most) }
  }
  if ('geometric' in shaped) {
    const step = shaped.step === undefined ? one : read(shaped.step)
    return { kind: 'geometric', mean: read(shaped.geometric), step }
  }
  if ('observed' in shaped) return { kind: 'observed', values: shaped.observed.map(read) }
  return { kind: 'replayed', values: shaped.replayed.map(read) }
}

function byCv(kind: 'lognormal' | 'gamma', mean: number, cv: number): Law {
  return cv === 0 ? { kind: 'fixed', value: mean } : { kind, mean, cv }
}

function normalLaw<V>(spread: Extract<ShapedSpread<V>, { normal: V }>, read: (value: V) => number): Law {
  const mean = read(spread.normal)
  const sd = read(spread.sd)
  const least = spread.least === undefined ? 0 : read(spread.least)
  const most = spread.most === undefined ? Infinity : read(spread.most)
  if (sd === 0) return { kind: 'fixed', value: Math.min(most, Math.max(least, mean)) }
  return { kind: 'normal', mean, sd, least, most }
}

/** Mean of what is drawn: for a cut normal law the mean after the cut, not its `mean`. */
export function mean(law: Law): number {
  switch (law.kind) {
    case 'fixed':
      return law.value
    case 'exponential':
    case 'lognormal':
    case 'gamma':
    case 'weibull':
    case 'geometric':
      return law.mean
    case 'normal':
      return cutNormalMean(law)
    case 'triangular':
      return triangularMean(law.least, law.mode, law.most)
    case 'uniform':
      return uniformMean(law.least, law.most)
    case 'observed':
    case 'replayed':
      return observedMean(law.values)
  }
}

/** Variance of what is drawn: for a cut normal law the variance after the cut, not `sd` squared. */
export function variance(law: Law): number {
  switch (law.kind) {
    case 'fixed':
      return 0
    case 'exponential':
      return exponentialVariance(law.mean)
    case 'lognormal':
    case 'gamma':
      return (law.mean * law.cv) ** 2
    case 'weibull':
      return weibullVariance(law.mean, law.shape)
    case 'normal':
      return cutNormalVariance(law)
    case 'triangular':
      return triangularVariance(law.least, law.mode, law.most)
    case 'uniform':
      return uniformVariance(law.least, law.most)
    case 'geometric':
      return geometricVariance(law.mean, law.step)
    case 'observed':
    case 'replayed':
      return observedVariance(law.values)
  }
}

/**
 * Value that a draw stays at or below with probability p, 0 <= p <= 1; the
 * sampler gives the same value for a uniform p. Observed and replayed values are
 * interpolated (type 7), which their draws are not.
 */
export function quantile(law: Law, p: number): number {
  switch (law.kind) {
    case 'fixed':
      return law.value
    case 'exponential':
      return exponentialQuantile(law.mean, p)
    case 'lognormal':
      return lognormalQuantile(law.mean, law.cv, p)
    case 'gamma':
      return gammaQuantile(law.mean, law.cv, p)
    case 'weibull':
      return weibullQuantile(law.mean, law.shape, p)
    case 'normal':
      return cutNormalQuantile(law, p)
    case 'triangular':
      return triangularQuantile(law.least, law.mode, law.most, p)
    case 'uniform':
      return uniformQuantile(law.least, law.most, p)
    case 'geometric':
      return geometricQuantile(law.mean, law.step, p)
    case 'observed':
    case 'replayed':
      return observedQuantile(law.values, p)
  }
}

/** A value below which no draw falls: the least one where the law has one, else 0. */
export function least(law: Law): number {
  switch (law.kind) {
    case 'fixed':
      return law.value
    case 'uniform':
    case 'triangular':
      return law.least
    case 'observed':
    case 'replayed':
      return Math.min(...law.values)
    default:
      return 0
  }
}
