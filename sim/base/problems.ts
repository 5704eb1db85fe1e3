/**
 * One thing that is wrong with what a person wrote, or probably wrong (a warning).
 * Every field is text for people.
 */
export interface Problem {
  /** Where: `route[6] "front print" → stops[1] "jam" → every`. */
  readonly path: string
  /** What stands there. */
  readonly found: string
  /** What is allowed. */
  readonly expected: string
  /** The reason, or the nearest right spelling. */
  readonly hint?: string
}

/** A step on the way to a place in a file: a key, an index, or the name of what stands there. */
export type PathPart = string | number | { readonly name: string }
export type Path = readonly PathPart[]

/** A path as text: keys joined by arrows, indices in brackets, names in quotes. */
export function pathText(path: Path): string {
  let text = ''
  for (const part of path) {
    if (typeof part === 'number') text += `[${part}]`
    else if (typeof part === 'string') text += text === '' ? part : ` → ${part}`
    else text += text === '' ? JSON.stringify(part.name) : ` ${JSON.stringify(part.name)}`
  }
  return text
}

/** A problem in one line, without a full stop. */
export function problemText({ path, found, expected, hint }: Problem): string {
  return `${path}: found ${found}, expected ${expected}${hint === undefined ? '' : ` (${hint})`}`
}

/** So many that are alike are told as one. */
export const MANY_ALIKE = 4
/** Further places that are named of what is told as one. */
const PLACES_NAMED = 3

/**
 * Problems as `problemText` has them, one a line. Those that differ in nothing but their place are told as one
 * where they are many: a slip in a part that many steps share is one mistake.
 */
export function problemLines(problems: readonly Problem[]): string[] {
  const kindOf = ({ found, expected, hint }: Problem) => JSON.stringify([found, expected, hint])
  const alike = new Map<string, Problem[]>()
  for (const problem of problems) {
    const same = alike.get(kindOf(problem))
    if (same) same.push(problem)
    else alike.set(kindOf(problem), [problem])
  }
  return problems.flatMap(problem => {
    const same = alike.get(kindOf(problem)) ?? []
    if (same.length < MANY_ALIKE) return [problemText(problem)]
    return problem === same[0] ? [`${problemText(problem)}, and at ${placesText(same.slice(1))}`] : []
  })
}

function placesText(others: readonly Problem[]): string {
  const named = others.slice(0, PLACES_NAMED).map(({ path }) => path)
  return `${others.length} more places: ${named.join('; ')}${others.length > PLACES_NAMED ? '; …' : ''}`
}

/** A problem from its parts; a hint of undefined is left out. */
export function problemAt(path: Path, found: string, expected: string, hint?: string): Problem {
  return { path: pathText(path), found, expected, ...(hint === undefined ? {} : { hint }) }
}

const LONGEST_TEXT = 60

/** A value as a problem names it: short, on one line. */
export function foundText(value: unknown): string {
  if (value === undefined) return 'nothing'
  if (typeof value === 'string') return quoted(value)
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`
  if (typeof value === 'object' && value !== null) {
    const keys = Object.keys(value).map(keyText)
    return keys.length === 0
      ? 'an empty object'
      : `an object with ${wordList(keys.slice(0, 6), 'and')}${keys.length > 6 ? ' …' : ''}`
  }
  return typeof value === 'function' ? 'a function' : String(value)
}

/** A key as it is when it is a plain word, else in quotes. */
export function keyText(key: string): string {
  return /^\w{1,40}$/.test(key) ? key : quoted(key)
}

/** A text in quotes, cut when it is long. */
export function quoted(text: string): string {
  const characters = [...text]
  return JSON.stringify(
    characters.length > LONGEST_TEXT ? `${characters.slice(0, LONGEST_TEXT).join('')}…` : text,
  )
}

/** `a, b or c`. */
export function wordList(words: readonly string[], last: 'and' | 'or'): string {
  return words.length < 2
    ? words.join('')
    : `${words.slice(0, -1).join(', ')} ${last} ${words[words.length - 1]}`
}
