/** Makes elements of the page. Text is always set as text, never as markup. */

const SVG = 'http://www.w3.org/2000/svg'

type Attributes = Readonly<Record<string, string | number | undefined>>

/** An HTML element with attributes and children; a string becomes text. */
export function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name)
  set(made, attributes)
  made.append(...children)
  return made
}

/** The same for SVG. */
export function shape<Name extends keyof SVGElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly (Node | string)[]
): SVGElementTagNameMap[Name] {
  const made = document.createElementNS(SVG, name)
  set(made, attributes)
  made.append(...children)
  return made
}

function set(made: Element, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined) made.setAttribute(name, String(value))
}

/** An element that the page is known to have. */
export function found<Kind extends Element = HTMLElement>(root: ParentNode, selector: string): Kind {
  const one = root.querySelector<Kind>(selector)
  if (one === null) throw new Error(`the page has no ${selector}`)
  return one
}

/** Tells a screen reader, once. */
export function say(text: string): void {
  found(document, '#said').textContent = text
}
