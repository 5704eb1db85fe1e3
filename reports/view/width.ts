import stringWidth from 'string-width'

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' })

/** Columns that a text takes in a terminal; wide characters take two. */
export function widthOf(text: string): number {
  return stringWidth(text)
}

/** The text cut to `width` columns, with … where something is missing. Never splits a character. */
export function shortened(text: string, width: number): string {
  if (widthOf(text) <= width) return text
  let kept = ''
  let used = 1
  for (const { segment } of graphemes.segment(text)) {
    const next = widthOf(segment)
    if (used + next > width) break
    kept += segment
    used += next
  }
  return `${kept.trimEnd()}…`
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
