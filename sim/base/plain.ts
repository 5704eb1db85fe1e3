const DEEPEST = 40
const LARGEST = 1_000_000

/**
 * A copy of a value as JSON would hold it: own keys of objects, those that hold
 * `undefined` left out. What is no list and no object is kept as it is, for the
 * schema to judge.
 *
 * @returns the copy, or why there can be none: data that holds itself never ends
 */
export function plainCopy(value: unknown): { readonly copy: unknown } | { readonly fault: string } {
  let parts = 0

  function copyOf(part: unknown, depth: number): unknown {
    if (typeof part !== 'object' || part === null) return part
    if (depth > DEEPEST)
      throw new RangeError(`it is nested more than ${DEEPEST} levels deep (does a part of it hold itself?)`)
    if (++parts > LARGEST) throw new RangeError(`it has more than ${LARGEST} parts`)
    if (Array.isArray(part)) return Array.from(part, element => copyOf(element, depth + 1))
    const copy = {}
    for (const [key, held] of Object.entries(part)) {
      if (held === undefined) continue
      // Not by assignment: the key "__proto__" would vanish instead of being reported.
      Object.defineProperty(copy, key, {
        value: copyOf(held, depth + 1),
        enumerable: true,
        writable: true,
        configurable: true,
      })
    }
    return copy
  }

  try {
    return { copy: copyOf(value, 0) }
  } catch (error) {
    if (error instanceof RangeError) return { fault: error.message }
    throw error
  }
}

/** An object that is no list. */
export function isPlainObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
