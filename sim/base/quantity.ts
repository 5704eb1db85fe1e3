import { nearest } from './nearest.ts'
import { type Dimension, UNITS } from './units.ts'

const DIMENSIONS = Object.keys(UNITS) as Dimension[]
/** What a person would call the dimension, with its article. */
const NAMES: Record<Dimension, string> = {
  time: 'a time',
  share: 'a share',
  rate: 'a rate',
  length: 'a length',
  speed: 'a speed',
  area: 'an area',
}
const EXAMPLES: Record<Dimension, string> = {
  time: '3 s',
  share: '0.5 %',
  rate: '3600 wafers/h',
  length: '200 mm',
  speed: '6 m/min',
  area: '330 cm2',
}
/** Own keys only: "toString" is no unit. */
const FACTORS = Object.fromEntries(
  DIMENSIONS.map(dimension => [dimension, Object.assign(Object.create(null), UNITS[dimension])]),
) as Record<Dimension, Readonly<Record<string, number>>>
const DECIMAL = /^-?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

/**
 * Reads a quantity such as `"1.2 s"`: a decimal number, one blank, a unit.
 *
 * @returns the number in the base unit of the dimension (see units.ts), or a text that
 * says what is wrong with it
 */
export function parseQuantity(dimension: Dimension, text: string): number | string {
  const value = parseSignedQuantity(dimension, text)
  return typeof value === 'number' && value < 0 ? 'it must not be below zero' : value
}

/** Reads a quantity that may be below zero, such as a change of efficiency: `"-0.02 %"`. */
export function parseSignedQuantity(dimension: Dimension, text: string): number | string {
  const parts = text.split(' ')
  if (parts.length !== 2) return spacingFault(dimension, text)
  const [figure, unit] = parts
  if (!DECIMAL.test(figure)) return figureFault(figure)
  const factor = unitsOf(dimension)[unit]
  if (factor === undefined) return unitFault(dimension, unit)
  const value = scale(Number(figure), factor)
  if (!Number.isFinite(value)) return `${figure} is too large`
  return value + 0
}

/**
 * The number of a quantity that has been validated, in the base unit of its dimension.
 *
 * @throws Error when it is no such quantity: a mistake of the program, not of the user
 */
export function quantity(dimension: Dimension, text: string): number {
  return valid(dimension, text, parseQuantity(dimension, text))
}

/** The same for a quantity that may be below zero. */
export function signedQuantity(dimension: Dimension, text: string): number {
  return valid(dimension, text, parseSignedQuantity(dimension, text))
}

function valid(dimension: Dimension, text: string, value: number | string): number {
  if (typeof value === 'string') throw new Error(`"${text}" is not ${NAMES[dimension]}: ${value}`)
  return value
}

/** What to write for a quantity of this dimension: `a time such as "3 s" (units: ms, s, min, h, d)`. */
export function quantityWanted(dimension: Dimension): string {
  return `${NAMES[dimension]} such as "${EXAMPLES[dimension]}" (units: ${Object.keys(UNITS[dimension]).join(', ')})`
}

/**
 * A quantity in the unit a person would choose, to five digits at most: 5100 becomes
 * `85 min`.
 *
 * @param value in the base unit of the dimension
 */
export function formatQuantity(dimension: Dimension, value: number): string {
  const unit = UNIT_CHOICES[dimension](Math.abs(value))
  const inUnit = scale(value, 1 / unitsOf(dimension)[unit])
  return `${formatNumber(inUnit)} ${unit}`
}

/** The same in the unit of a quantity as somebody wrote it, `"350 h"`. */
export function formatLike(dimension: Dimension, value: number, written: string): string {
  const unit = written.trim().split(/\s+/).at(-1) ?? ''
  const factor = unitsOf(dimension)[unit]
  return factor === undefined
    ? formatQuantity(dimension, value)
    : `${formatNumber(scale(value, 1 / factor))} ${unit}`
}

/** A bare number, to five digits; whole from 10 000 up. */
export function formatNumber(value: number): string {
  return String(Math.abs(value) >= 1e4 ? Math.round(value) : Number(value.toPrecision(5)))
}

const UNIT_CHOICES: Record<Dimension, (size: number) => string> = {
  time: size =>
    size === 0 ? 's' : size < 0.1 ? 'ms' : size < 120 ? 's' : size < 7200 ? 'min' : size < 172800 ? 'h' : 'd',
  share: size => (size > 0 && size < 1e-4 ? 'ppm' : '%'),
  rate: () => 'wafers/h',
  length: size => (size < 1 ? 'mm' : 'm'),
  speed: () => 'm/min',
  area: size => (size < 1e-4 ? 'mm2' : size < 1 ? 'cm2' : 'm2'),
}

function unitsOf(dimension: Dimension): Readonly<Record<string, number>> {
  return FACTORS[dimension]
}

/** A factor below one is the inverse of a whole number in every unit: dividing by it rounds once only. */
function scale(value: number, factor: number): number {
  return factor < 1 ? value / Math.round(1 / factor) : value * factor
}

function spacingFault(dimension: Dimension, text: string): string {
  if (text.trim() === '') return 'it is empty'
  const words = text.trim().split(/\s+/)
  if (words.length === 2) return 'write one blank between number and unit, and none elsewhere'
  if (words.length > 2) {
    const figures = words.slice(0, -1)
    return figures.every(word => /^[\d.,]+$/.test(word))
      ? 'write the number without blanks in it'
      : 'write one number and one unit'
  }
  const glued = /^([-+\d.,_']+(?:e[-+]?\d+)?)(\D.*)$/i.exec(text)
  if (glued && everyUnit().includes(glued[2])) return `put a blank before the unit: "${glued[1]} ${glued[2]}"`
  if (DECIMAL.test(words[0])) return 'its unit is missing'
  return words[0] in unitsOf(dimension) ? 'its number is missing' : 'it is not a number with a unit'
}

function figureFault(figure: string): string {
  if (/^-?\d[\d.]*([,_']\d+)+(\.\d+)?$/.test(figure))
    return `write "${figure}" with a point for decimals and nothing between thousands`
  if (figure.startsWith('+') && DECIMAL.test(figure.slice(1)))
    return `write ${figure.slice(1)} without the sign`
  return `"${figure}" is not a decimal number`
}

/** Units as people write them elsewhere. */
const MEANT: Readonly<Record<string, string>> = {
  ...{
    msec: 'ms',
    sec: 's',
    secs: 's',
    second: 's',
    seconds: 's',
    mins: 'min',
    minute: 'min',
    minutes: 'min',
  },
  ...{ hr: 'h', hrs: 'h', hour: 'h', hours: 'h', day: 'd', days: 'd', percent: '%', pct: '%' },
  ...{ 'cells/h': 'wafers/h', 'cells/min': 'wafers/min', 'cells/s': 'wafers/s', 'pcs/h': 'wafers/h' },
  ...{ wph: 'wafers/h', 'wafer/h': 'wafers/h', 'wafers/hour': 'wafers/h', 'm/minute': 'm/min' },
}

function unitFault(dimension: Dimension, unit: string): string {
  if (unit === '') return 'its unit is missing'
  const other = DIMENSIONS.find(candidate => unit in unitsOf(candidate))
  if (other) return `"${unit}" is a unit of ${other}, not of ${dimension}`
  const fault = `"${unit}" is not a unit of ${dimension}`
  const meant = Object.hasOwn(MEANT, unit.toLowerCase()) ? MEANT[unit.toLowerCase()] : undefined
  if (meant !== undefined && meant in unitsOf(dimension)) return `${fault}; did you mean "${meant}"?`
  // One letter is near to anything short: it would be a guess.
  const near = nearest(
    unit,
    Object.keys(UNITS[dimension]).filter(symbol => symbol.length > 1),
  )
  return near ? `${fault}; did you mean "${near}"?` : fault
}

function everyUnit(): string[] {
  return DIMENSIONS.flatMap(dimension => Object.keys(UNITS[dimension]))
}
