import type { Estimate } from '../../sim/stats/estimate.ts'

/** A number as a reader sees it. `interval` is empty where there is none. */
export interface Figure {
  readonly text: string
  readonly interval: string
}

/** How to show an estimate. */
export interface Show {
  /** Multiplies the figure before it is shown (100 for per cent). Default 1. */
  readonly scale?: number
  /** Digits of the half-width that are kept. Default 1. */
  readonly digits?: number
  /** Most decimals, whatever the interval allows. Default 6. */
  readonly most?: number
  /** Keeps the first digit of the figure itself, however wide its interval: what happened does not read as 0. */
  readonly keep?: 'first digit'
  /** The ends of the interval are not shown below this: what is counted is never less than nothing. */
  readonly least?: number
  /** No end of an interval is shown above this, such as 1 of a share. */
  readonly highest?: number
  /** Fewest decimals, however wide the interval: shares that a reader adds up are whole per cents at least. */
  readonly fewest?: number
  /** Most digits of the figure itself, whatever the interval allows: more than so many are not measured. */
  readonly figures?: number
}

/** For quantiles of the time in the line, which are read off classes that are half a per cent wide. */
export const OF_CLASSES: Show = { digits: 2, figures: 3 }

/** For what is counted in a run, such as stops: those at fixed times are alike in all replications, rare ones are not. */
export const COUNTED: Show = { most: 2, keep: 'first digit' }

/** For shares of time that add up to a whole. */
export const PARTS: Show = { fewest: 0 }

/** For waits, which the terminal and the page give alike. */
export const WAITS: Show = { ...COUNTED, digits: 2 }

/** Stands where there is nothing to say, e.g. the mean length of a stop that never happened. */
export const NOTHING = '–'

/** Significant digits where all replications gave the same figure. */
const DIGITS_WHEN_CERTAIN = 6

/** Smaller figures than this are no figures of a factory. */
const DUST = 1e-9

/**
 * An estimate rounded to its interval: the last digit shown is the first digit
 * (or the `digits`-th) of the half-width, so 6512.34 ± 18.4 reads 6,510, and with
 * two digits 6,512. The ends of the interval are rounded to the same place.
 */
export function figure(exact: Estimate, show: Show = {}): Figure {
  const estimate = withoutDust(exact)
  if (estimate.n === 0) return { text: NOTHING, interval: '' }
  const scale = show.scale ?? 1
  const decimals = decimalsOf(estimate, show)
  const { low, high } = estimate
  const certain = low !== undefined && high !== undefined && low === high
  const write = (value: number) =>
    certain ? trimmed(value * scale, decimals) : grouped(value * scale, decimals)
  return {
    text: write(estimate.mean),
    interval: Number.isFinite(halfWidth(estimate))
      ? `${write(Math.max(low ?? 0, show.least ?? -Infinity))} to ${write(Math.min(high ?? 0, show.highest ?? Infinity))}`
      : '',
  }
}

/** As `figure`, of what cannot be below zero; a difference can. */
export function amount(estimate: Estimate, show: Show = {}): Figure {
  return figure(estimate, { least: 0, ...show })
}

/** What is left of differences that are zero, by rounding in the last digit of their terms, is shown as zero. */
function withoutDust(estimate: Estimate): Estimate {
  const { mean, low = mean, high = mean, n } = estimate
  const dust = mean !== 0 && Math.max(Math.abs(mean), Math.abs(low), Math.abs(high)) < DUST
  return dust ? { mean: 0, ...(estimate.low !== undefined && { low: 0, high: 0 }), n } : estimate
}

/** As `amount`, in per cent with at most one decimal unless told otherwise. The sign is not part of the text. */
export function percent(estimate: Estimate, show: Show = {}): Figure {
  return amount(estimate, { most: 1, ...show, scale: 100 })
}

/**
 * Decimals that the interval of an estimate supports: 1 means tenths, -1 whole
 * tens. A figure from one replication, of which nothing says how sure it is, keeps
 * two significant digits more than asked for of a half-width.
 */
export function decimalsOf(estimate: Estimate, show: Show = {}): number {
  const scale = show.scale ?? 1
  const half = halfWidth(estimate) * scale
  const size = magnitude(estimate.mean * scale)
  const most = Math.min(show.most ?? 6, (show.figures ?? Infinity) - 1 - size)
  if (half > 0) {
    const told = Math.max((show.digits ?? 1) - 1 - magnitude(half), show.fewest ?? -Infinity)
    return Math.min(most, show.keep === 'first digit' ? Math.max(told, -size) : told)
  }
  const kept = half === 0 ? DIGITS_WHEN_CERTAIN : 2 + (show.digits ?? 1)
  return Math.max(0, Math.min(most, kept - 1 - size))
}

/** Half the width of the interval; NaN where there is none. */
export function halfWidth(estimate: Estimate): number {
  const { low, high } = estimate
  return low === undefined || high === undefined ? Number.NaN : (high - low) / 2
}

/** A number with thousands set apart by commas. `decimals` below 0 rounds to tens, hundreds, ... */
export function grouped(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return NOTHING
  const unit = 10 ** Math.max(0, -decimals)
  const text = (Math.round(value / unit) * unit).toFixed(0)
  const fixed = decimals > 0 ? value.toFixed(Math.min(decimals, 20)) : text
  const [whole = '', part] = fixed.replace('-', '').split('.')
  const digits = whole.replace(/\B(?=(\d{3})+$)/g, ',') + (part === undefined ? '' : `.${part}`)
  return fixed.startsWith('-') && /[1-9]/.test(fixed) ? `-${digits}` : digits
}

/** A number to a few significant digits, without trailing zeros after the point. */
export function significant(value: number, digits: number): string {
  if (!Number.isFinite(value)) return NOTHING
  return trimmed(value, Math.max(0, digits - 1 - magnitude(value)))
}

/** `1 day`, `2.5 days`. */
export function daysText(days: number): string {
  return `${significant(days, 6)} ${days === 1 ? 'day' : 'days'}`
}

/** The unit in which a time given in hours reads best, and by what to multiply it. */
export function unitOfTime(hours: number): { readonly unit: 'h' | 'min' | 's'; readonly scale: number } {
  if (hours >= 1) return { unit: 'h', scale: 1 }
  return hours >= 1 / 60 ? { unit: 'min', scale: 60 } : { unit: 's', scale: 3600 }
}

/** A time given in hours, in the unit in which it reads best: `1.5 min`. */
export function timeText(hours: number): string {
  const { unit, scale } = unitOfTime(hours)
  return `${significant(hours * scale, 3)} ${unit}`
}

function trimmed(value: number, decimals: number): string {
  const text = grouped(value, decimals)
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}

/** Power of ten of the first digit: 2 for 184, -1 for 0.3; 0 for 0 and for what is no number. */
function magnitude(value: number): number {
  return value === 0 || !Number.isFinite(value) ? 0 : Math.floor(Math.log10(Math.abs(value)))
}
