const waiting = new Map<Element, () => void>()
let watch: IntersectionObserver | undefined

/** Does something once, when a place comes near the window, or before the page is printed. */
export function whenNear(place: Element, start: () => void): void {
  watch ??= watching()
  waiting.set(place, start)
  watch.observe(place)
}

function watching(): IntersectionObserver {
  addEventListener('beforeprint', () => {
    for (const place of [...waiting.keys()]) begin(place)
  })
  return new IntersectionObserver(
    entries => {
      for (const { isIntersecting, target } of entries) if (isIntersecting) begin(target)
    },
    { rootMargin: '600px' },
  )
}

function begin(place: Element): void {
  const start = waiting.get(place)
  waiting.delete(place)
  watch?.unobserve(place)
  start?.()
}
