import { wrongUsage } from './failure.ts'

/**
 * Readers of option values. Every value arrives as the text that was typed; what is
 * not allowed is answered with the name of the option, what was found and what is
 * allowed. A missing option stays undefined.
 */
export type OptionText = string | readonly string[] | undefined

const DECIMAL = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

/** A whole number from `least` to `most`. */
export function wholeNumber(
  option: string,
  given: OptionText,
  limits: { readonly least: number; readonly most: number },
): number | undefined {
  const text = single(option, given)
  if (text === undefined) return undefined
  const value = numberIn(text)
  const allowed = `a whole number from ${limits.least} to ${limits.most}`
  if (!Number.isInteger(value) || value < limits.least || value > limits.most)
    throw refusal(option, text, allowed)
  return value
}

/** A number above zero, at most `most`. */
export function positiveNumber(option: string, given: OptionText, most: number): number | undefined {
  const text = single(option, given)
  if (text === undefined) return undefined
  const value = numberIn(text)
  if (!(value > 0 && value <= most)) throw refusal(option, text, `a number above 0, at most ${most}`)
  return value
}

/** A share written in per cent (`"0.5 %"`), above `least` and below `most` (fractions), as a fraction. */
export function share(
  option: string,
  given: OptionText,
  limits: { readonly least: number; readonly most: number; readonly example: string },
): number | undefined {
  const text = single(option, given)
  if (text === undefined) return undefined
  const value = /%$/.test(text) ? numberIn(text.slice(0, -1).trimEnd()) / 100 : Number.NaN
  if (!(value > limits.least && value < limits.most)) {
    const range = `above ${limits.least * 100} % and below ${limits.most * 100} %`
    throw refusal(option, text, `a share with its unit, ${range}, such as "${limits.example}"`)
  }
  return value
}

/** One of a few words. */
export function oneOf<const Word extends string>(
  option: string,
  given: OptionText,
  words: readonly Word[],
): Word | undefined {
  const text = single(option, given)
  if (text === undefined) return undefined
  const found = words.find(word => word === text)
  if (found === undefined) throw refusal(option, text, words.join(' or '))
  return found
}

/** Any text but an empty one. */
export function word(option: string, given: OptionText, meaning: string): string | undefined {
  const text = single(option, given)
  if (text !== undefined && text.trim() === '') throw refusal(option, text, meaning)
  return text
}

/** Any texts but empty ones, from an option that may be given several times; none when it was not given. */
export function words(option: string, given: OptionText, meaning: string): readonly string[] {
  const texts = ([] as string[]).concat(given ?? [])
  if (texts.some(text => text.trim() === '')) throw refusal(option, '', meaning)
  const twice = texts.find((text, at) => texts.indexOf(text) < at)
  if (twice !== undefined) throw wrongUsage(`--${option}: ${JSON.stringify(twice)} is named twice`)
  return texts
}

function single(option: string, given: OptionText): string | undefined {
  if (given === undefined || typeof given === 'string') return given
  throw wrongUsage(`--${option}: given ${given.length} times; give it once`)
}

function numberIn(text: string): number {
  return DECIMAL.test(text.trim()) ? Number(text) : Number.NaN
}

function refusal(option: string, text: string, allowed: string) {
  const found = text.trim() === '' ? 'no value found' : `found "${text}"`
  return wrongUsage(`--${option}: ${found}; allowed is ${allowed}`)
}
