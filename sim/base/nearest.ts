/** So many letters are the beginning of a word, and no slip of another one. */
const BEGINNING = 4

/**
 * The known word nearest to a misspelt one, or undefined when none is near enough to
 * be meant: the beginning of a word, or at most one slip in three letters, capitals not counted.
 */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  const wanted = word.toLowerCase()
  const words = [...known]
  const begun = wanted.length < BEGINNING ? [] : words.filter(one => one.toLowerCase().startsWith(wanted))
  if (begun.length > 0) return begun.sort((a, b) => a.length - b.length)[0]
  let best: string | undefined
  let least = Math.max(1, Math.floor(word.length / 3)) + 1
  for (const candidate of words) {
    if (Math.abs(candidate.length - word.length) >= least) continue
    const slips = editDistance(wanted, candidate.toLowerCase())
    // A word made anew from end to end is another word, not a slip.
    if (slips < least && slips < candidate.length) {
      best = candidate
      least = slips
    }
  }
  return best
}

/**
 * Slips that turn one word into another: a letter left out, put in or changed, or two
 * neighbours swapped, each pair once (optimal string alignment; Damerau 1964, Wagner
 * and Fischer 1974).
 */
export function editDistance(from: string, to: string): number {
  let twoAbove: number[] = []
  let above = Array.from({ length: to.length + 1 }, (_, column) => column)
  for (let row = 1; row <= from.length; row++) {
    const current = [row]
    for (let column = 1; column <= to.length; column++) {
      const same = from[row - 1] === to[column - 1]
      let cost = Math.min(above[column] + 1, current[column - 1] + 1, above[column - 1] + (same ? 0 : 1))
      const swapped =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1]
      if (swapped) cost = Math.min(cost, twoAbove[column - 2] + 1)
      current.push(cost)
    }
    twoAbove = above
    above = current
  }
  return above[to.length]
}
