/** Things that a reader goes through one by one: items of a drawing, values of a chart. */
export interface Browsed {
  count(): number
  /** Points at one, or at none (-1). */
  show(index: number): void
  words(index: number): string
  /** Which one an element belongs to; -1: none. */
  at?(target: Element): number
  /** How far the up and down keys go; default 1. */
  readonly leap?: () => number
}

/**
 * Lets keys and the pointer go through things; what is pointed at is written below and
 * read out. Arrow keys go on by one, Home and End to the ends, Escape lets go.
 */
export function browse(place: HTMLElement, readout: HTMLElement, things: Browsed): void {
  readout.setAttribute('aria-live', 'polite')
  let index = -1
  const go = (to: number) => {
    index = to < 0 ? -1 : Math.min(things.count() - 1, to)
    things.show(index)
    readout.textContent = index < 0 ? '' : things.words(index)
  }
  place.addEventListener('keydown', event => {
    const to = target(event.key, index, things.count(), things.leap?.() ?? 1)
    if (to === undefined) return
    event.preventDefault()
    go(to)
  })
  place.addEventListener('blur', () => go(-1))
  const { at } = things
  if (at === undefined) return
  place.addEventListener('pointermove', event => {
    const over = event.target instanceof Element ? at(event.target) : -1
    if (over >= 0 && over !== index) go(over)
  })
  place.addEventListener('pointerleave', () => go(-1))
}

function target(key: string, index: number, count: number, leap: number): number | undefined {
  switch (key) {
    case 'ArrowRight':
      return Math.min(count - 1, index + 1)
    case 'ArrowLeft':
      return Math.max(0, index - 1)
    case 'ArrowDown':
      return Math.min(count - 1, Math.max(0, index) + (index < 0 ? 0 : leap))
    case 'ArrowUp':
      return Math.max(0, index - leap)
    case 'Home':
      return 0
    case 'End':
      return count - 1
    case 'Escape':
      return -1
    default:
      return undefined
  }
}
