/**
 * Units of the scenario language. One table drives both the static types (an
 * editor marks `"1.2 sec"`) and the parser that checks again at run time.
 *
 * Inside the simulator every quantity is a plain number in the base unit of its
 * dimension: seconds, fractions, wafers per second, metres, metres per second,
 * square metres.
 */
export const UNITS = {
  time: { ms: 1e-3, s: 1, min: 60, h: 3600, d: 86400 },
  share: { '%': 0.01, ppm: 1e-6 },
  rate: { 'wafers/h': 1 / 3600, 'wafers/min': 1 / 60, 'wafers/s': 1, 'cells/h': 1 / 3600 },
  length: { mm: 1e-3, cm: 1e-2, m: 1 },
  speed: { 'm/min': 1 / 60, 'mm/s': 1e-3, 'm/s': 1 },
  area: { mm2: 1e-6, cm2: 1e-4, m2: 1 },
} as const

/** What a quantity measures. */
export type Dimension = keyof typeof UNITS
/** The unit symbols of one dimension. */
export type Unit<D extends Dimension> = keyof (typeof UNITS)[D] & string
/** A quantity as text, a number, one blank and a unit: `"1.2 s"`. */
export type Quantity<D extends Dimension> = `${number} ${Unit<D>}`

export type Time = Quantity<'time'>
export type Share = Quantity<'share'>
export type Rate = Quantity<'rate'>
export type Length = Quantity<'length'>
export type Speed = Quantity<'speed'>
export type Area = Quantity<'area'>
