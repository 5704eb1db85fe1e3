/** Width of a character of a name at 12 px, wide and bold as some fonts have it [px]. */
const CHARACTER = 7.3
/** Lines of a name; what is longer loses its middle, since names of a kind differ at their end. */
const MOST_LINES = 6
/** Height of a line [px]. */
export const LINE_HEIGHT = 14

/** Room that the longest of the names needs on one line [px]. */
export function widthOfNames(names: readonly string[]): number {
  return Math.max(0, ...names.map(name => name.length)) * CHARACTER
}

/** A name broken at blanks into lines that fit into `width` [px]. */
export function nameLines(name: string, width: number): string[] {
  // A name that has just the room it needs stays on one line, however the product was rounded.
  const most = Math.max(6, Math.floor(width / CHARACTER + 1e-6))
  const lines: string[] = []
  for (const word of name.split(' ').map(part => cut(part, most))) {
    const last = lines.at(-1)
    if (last !== undefined && last.length + 1 + word.length <= most)
      lines[lines.length - 1] = `${last} ${word}`
    else lines.push(word)
  }
  if (lines.length <= MOST_LINES) return lines
  const end = Math.floor(MOST_LINES / 2)
  return [...lines.slice(0, MOST_LINES - 1 - end), '…', ...lines.slice(-end)]
}

/** A word without its middle where it is too long. */
function cut(word: string, most: number): string {
  if (word.length <= most) return word
  const end = Math.floor((most - 1) / 2)
  return `${word.slice(0, most - 1 - end)}…${word.slice(word.length - end)}`
}
