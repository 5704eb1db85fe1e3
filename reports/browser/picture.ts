import type { Picture, PictureItem } from '../view/picture.ts'
import { browse } from './browse.ts'
import { element, found, shape } from './elements.ts'
import { widthFor } from './paper.ts'
import { type Drawn, drawPicture } from './picture-draw.ts'
import { fillLegend } from './tones.ts'

/** Height that the drawing should leave for itself on the first screen [px]. */
const LEAST_ROOM = 220

/** Steps that are named below a drawing that has only their numbers. */
const MOST_NAMES = 60

/** Draws the line on the first screen, and again whenever the width changes. */
export function startPicture(picture: Picture): void {
  const place = found(document, '#picture')
  const readout = found(document, '#picture-readout')
  const legend = found(document, '#picture-legend')
  fillLegend(legend, picture.legend)
  if (picture.markMeans !== undefined) legend.append(markEntry(picture.markMeans))
  const steps = stepsOf(picture.items)
  const names = element('p', { class: 'step-names' }, steps.join(' · '))
  legend.after(names)
  let drawn: Drawn | undefined
  const draw = (width: number) => {
    const room = Math.max(
      LEAST_ROOM,
      innerHeight - place.getBoundingClientRect().top - scrollY - legend.offsetHeight - 30,
    )
    drawn = drawPicture(picture, width, room, 'shares')
    place.replaceChildren(drawn.svg)
    names.hidden = drawn.detail === 'names' || steps.length > MOST_NAMES
  }
  redrawOnWidth(place, draw)
  browse(place, readout, {
    count: () => drawn?.cells.length ?? 0,
    show: index => {
      drawn?.tiles.forEach((tile, at) => {
        tile.classList.toggle('pointed', at === index)
      })
    },
    words: index => wordsOf(drawn, index, picture.markMeans ?? ''),
    at: target => drawn?.tiles.findIndex(tile => tile.contains(target)) ?? -1,
  })
}

/** `1 texture`, each step once. */
function stepsOf(items: readonly PictureItem[]): string[] {
  const named = items.flatMap(item => {
    if (item.kind === 'group') return item.lanes.flatMap(lane => stepsOf(lane.items))
    return item.kind === 'step' ? [`${item.number} ${item.name}`] : []
  })
  return [...new Set(named)]
}

function markEntry(means: string): HTMLElement {
  const sign = shape('svg', { width: 18, height: 12, 'aria-hidden': 'true' })
  sign.append(
    shape('rect', { x: 4, y: 4.5, width: 10, height: 6.5, class: 'case', 'stroke-width': 2 }),
    shape('path', { class: 'marker', d: 'M5 0h8l-4 3.6z' }),
  )
  return element('span', { class: 'near' }, sign, ` ${means}`)
}

function wordsOf(drawn: Drawn | undefined, index: number, markMeans: string): string {
  const cell = drawn?.cells[index]
  if (cell === undefined) return ''
  const { item } = cell
  const number = item.kind === 'step' ? `${item.number}. ` : ''
  const near = item.mark === 'marked' ? ` (${markMeans})` : ''
  return `${number}${item.name}${near}: ${item.facts.join('; ')}`
}

/** Calls back with the width of a place, now and whenever it has changed, on paper too. */
export function redrawOnWidth(place: HTMLElement, draw: (width: number) => void): void {
  let last = 0
  const look = () => {
    const width = widthFor(place)
    if (width <= 0 || Math.abs(width - last) < 1) return
    last = width
    draw(width)
  }
  look()
  new ResizeObserver(look).observe(place)
  addEventListener('beforeprint', look)
  addEventListener('afterprint', look)
}
