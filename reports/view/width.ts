import stringWidth from 'string-width'

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' })

/** Columns that a text takes in a terminal; wide characters take two. */
export function widthOf(text: string): number {
  return stringWidth(text)
}

/**
 * The text cut to `width` columns, with … where something is missing: two thirds of
 * the way, since names of a kind often differ at their end. Never splits a character.
 */
export function shortened(text: string, width: number): string {
  if (widthOf(text) <= width) return text
  const parts = [...graphemes.segment(text)].map(({ segment }) => segment)
  const end = taken(parts.toReversed(), Math.floor((width - 1) / 3))
    .toReversed()
    .join('')
    .trimStart()
  const start = taken(parts, width - 1 - widthOf(end))
    .join('')
    .trimEnd()
  return `${start}…${end}`
}

/** As many of the parts, from the first on, as fit into `width` columns. */
function taken(parts: readonly string[], width: number): string[] {
  let used = 0
  const over = parts.findIndex(part => {
    used += widthOf(part)
    return used > width
  })
  return over < 0 ? [...parts] : parts.slice(0, over)
}

/** The text broken at blanks into lines of at most `width` columns; longer words are cut. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ').map(part => shortened(part, width))) {
    if (line !== '' && widthOf(line) + 1 + widthOf(word) > width) {
      lines.push(line)
      line = word
    } else {
      line = line === '' ? word : `${line} ${word}`
    }
  }
  return [...lines, line]
}
