/** Drawings are this wide at most on paper: A4, the narrower of the two usual sheets, within its margins [px]. */
const PAPER_WIDTH = 680

let printing = false
// While this file is loaded, so before all others that listen: what is drawn at last for the printer is drawn for paper at once.
addEventListener('beforeprint', () => {
  printing = true
})
addEventListener('afterprint', () => {
  printing = false
})

/** The width that a drawing has in a place: on paper no more than that of a sheet, since a page with one wider thing is printed smaller as a whole. */
export function widthFor(place: Element): number {
  return printing ? Math.min(PAPER_WIDTH, place.clientWidth) : place.clientWidth
}
