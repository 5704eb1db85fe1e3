/** Text that is markup already; everything else is escaped when it is put into a page. */
export class Markup {
  constructor(readonly text: string) {}
}

type Part = string | number | Markup | undefined | readonly Part[]

/**
 * Markup from a template: what is put in is escaped, so names with markup in them show
 * as text. Lists are joined, undefined is nothing.
 */
export function html(fixed: TemplateStringsArray, ...parts: readonly Part[]): Markup {
  return new Markup(fixed.map((text, index) => text + textOf(parts[index])).join(''))
}

function textOf(part: Part): string {
  if (part === undefined) return ''
  if (part instanceof Markup) return part.text
  return typeof part === 'object' ? part.map(textOf).join('') : escaped(String(part))
}

/** Text that is safe between tags and in quoted attributes. */
export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
}

/** Data for a script block: JSON in which nothing can end the block. */
export function jsonBlock(value: unknown): Markup {
  return new Markup(JSON.stringify(value).replaceAll('<', '\\u003c'))
}

/** A program for a script block. */
export function scriptBlock(code: string): Markup {
  return new Markup(code.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--'))
}

/** Rules for a style block. */
export function styleBlock(rules: string): Markup {
  return new Markup(rules.replaceAll('</style', '<\\/style'))
}
