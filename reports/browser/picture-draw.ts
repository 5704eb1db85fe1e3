import type { Picture, PictureStep, PictureStore } from '../view/picture.ts'
import { shape } from './elements.ts'
import { type Cell, type Detail, type Layout, layOut, type Stream } from './picture-layout.ts'

/** A drawing of the line, and the parts of it that can be painted anew. */
export interface Drawn {
  readonly svg: SVGSVGElement
  readonly detail: Detail
  readonly cells: readonly Cell[]
  /** Per cell, its group of shapes. */
  readonly tiles: readonly SVGGElement[]
  /** Steps: one rectangle per tool, to be filled with a state. */
  readonly tools: ReadonlyMap<string, readonly SVGRectElement[]>
  readonly vessels: readonly Vessel[]
}

/** A store as drawn: its level, and the height of a full one. */
export interface Vessel {
  readonly item: PictureStore
  readonly level: SVGRectElement
  readonly bottom: number
  readonly height: number
}

/** What is painted into the tools: mean shares of the states, or nothing yet. */
export type Paint = 'shares' | 'states'

/** Widest stream, by detail. */
const WIDEST: Readonly<Record<Detail, number>> = { names: 18, numbers: 11, bare: 7 }

/** Draws the line into the given width; `room` is the height at which fewer words are preferred. */
export function drawPicture(picture: Picture, width: number, room: number, paint: Paint): Drawn {
  const layout = layOut(picture.items, width, room)
  const pen = new Pen(picture, layout, paint)
  return pen.draw()
}

class Pen {
  private readonly tools = new Map<string, SVGRectElement[]>()
  private readonly vessels: Vessel[] = []

  constructor(
    private readonly picture: Picture,
    private readonly layout: Layout,
    private readonly paint: Paint,
  ) {}

  draw(): Drawn {
    const { width, height, cells, streams, detail } = this.layout
    const svg = shape('svg', {
      viewBox: `0 0 ${width} ${round(height)}`,
      width,
      height: round(height),
      'aria-hidden': 'true',
      class: `drawing ${detail}`,
    })
    svg.append(...streams.map(stream => this.stream(stream)))
    const tiles = cells.map(cell => this.tile(cell))
    svg.append(...tiles)
    return { svg, detail, cells, tiles, tools: this.tools, vessels: this.vessels }
  }

  private stream({ fromX, fromY, toX, toY, perHour, reaches }: Stream): SVGPathElement {
    const widest = WIDEST[this.layout.detail]
    const wide = Math.max(1, (Math.max(0, perHour) / this.picture.mostPerHour) * widest)
    const bend = (fromX + toX) / 2
    const way =
      fromY === toY
        ? `H${round(toX)}`
        : `C${round(bend)} ${round(fromY)} ${round(bend)} ${round(toY)} ${round(toX)} ${round(toY)}`
    return shape('path', {
      d: `M${round(fromX)} ${round(fromY)}${way}`,
      class: reaches === 'the edge' ? 'stream on' : 'stream',
      'stroke-width': round(wide),
    })
  }

  private tile(cell: Cell): SVGGElement {
    const { item } = cell
    const group = shape('g', { class: `${item.kind}${item.mark === 'marked' ? ' near' : ''}` })
    if (item.kind === 'step') this.step(cell, item, group)
    else this.store(cell, item, group)
    if (cell.lane !== '' && this.layout.detail === 'names')
      group.append(
        shape(
          'text',
          {
            class: 'lane',
            x: round(cell.x - 3),
            y: round(cell.y + cell.height / 2 - 1),
            'text-anchor': 'end',
          },
          cell.lane,
        ),
      )
    return group
  }

  // ---- steps -------------------------------------------------------------------

  private step(cell: Cell, item: PictureStep, group: SVGGElement): void {
    const { across, down } = grid(item.tools.length, cell)
    const pitch = Math.min(Math.max(15, cell.height / 5), cell.height / down)
    const height = down * pitch
    const top = cell.y - height / 2
    const seam = pitch > 4 ? 1 : 0.5
    const wide = cell.width / across
    group.append(
      shape('rect', {
        class: 'case',
        x: round(cell.x - 2),
        y: round(top - 2),
        width: round(cell.width + 4),
        height: round(height + 4),
        rx: 3,
      }),
    )
    const rects: SVGRectElement[] = []
    item.tools.forEach((shares, tool) => {
      const x = cell.x + (tool % across) * wide
      const y = top + Math.floor(tool / across) * pitch
      const box = {
        x,
        y: y + seam / 2,
        width: wide - (across > 1 ? seam : 0),
        height: Math.max(0.5, pitch - seam),
      }
      if (this.paint === 'shares') group.append(...this.slices(shares, box))
      else {
        const rect = shape('rect', {
          x: round(box.x),
          y: round(box.y),
          width: round(box.width),
          height: round(box.height),
          class: 'tool',
        })
        rects.push(rect)
        group.append(rect)
      }
    })
    this.tools.set(item.station, rects)
    if (cell.leads === 'its lanes') group.append(...this.name(cell, item))
  }

  /** One tool: its states side by side, as wide as their shares. */
  private slices(
    shares: readonly number[],
    box: { x: number; y: number; width: number; height: number },
  ): SVGRectElement[] {
    let x = box.x
    return shares.flatMap((share, state) => {
      const width = share * box.width
      if (width < 0.05) return []
      const rect = shape('rect', {
        x: round(x),
        y: round(box.y),
        width: round(width),
        height: round(box.height),
        fill: `url(#tone-${this.picture.tones[state]})`,
      })
      x += width
      return [rect]
    })
  }

  private name(cell: Cell, item: PictureStep): SVGElement[] {
    const { detail } = this.layout
    const x = round(cell.x + cell.width / 2)
    const near = item.mark === 'marked'
    if (detail !== 'names') {
      const shown = detail === 'numbers' || item.number === 1 || item.number % 10 === 0 || near
      if (!shown) return []
      const y = cell.top + (detail === 'numbers' ? 11 : 7)
      const text = shape(
        'text',
        { class: 'name', x, y: round(y), 'text-anchor': 'middle' },
        String(item.number),
      )
      return near ? [marker(x, y + 1, detail === 'bare' ? 2.5 : 4), text] : [text]
    }
    const lines = broken(item.name, Math.max(9, Math.floor((cell.width + 24) / 5.6)))
    const first = cell.top + 37 - (lines.length - 1) * 11
    const text = shape('text', { class: 'name', 'text-anchor': 'middle' })
    lines.forEach((line, index) => {
      text.append(shape('tspan', { x, y: round(first + 11 * index) }, line))
    })
    return near ? [marker(x, cell.top + 41, 5), text] : [text]
  }

  // ---- stores ------------------------------------------------------------------

  private store(cell: Cell, item: PictureStore, group: SVGGElement): void {
    const full = cell.height * (0.3 + 0.7 * sizeOf(item))
    const top = cell.y - full / 2
    const { x, width } = cell
    const roof = item.capacity === undefined ? '' : `M${round(x)} ${round(top)}H${round(x + width)}`
    const bottom = top + full
    // An empty vessel would say that nothing waits there.
    const known = this.paint === 'shares' && item.fill === undefined ? ' unknown' : ''
    const level = shape('rect', {
      class: 'level',
      x: round(x),
      y: round(bottom),
      width: round(width),
      height: 0,
    })
    group.append(
      shape('rect', {
        class: `inside${known}`,
        x: round(x),
        y: round(top),
        width: round(width),
        height: round(full),
      }),
      level,
      shape('path', {
        class: `wall ${item.store}${known}`,
        d: `M${round(x)} ${round(top)}V${round(bottom)}H${round(x + width)}V${round(top)}${roof}`,
      }),
    )
    const vessel = { item, level, bottom, height: full }
    this.vessels.push(vessel)
    if (this.paint === 'shares') setLevel(vessel, item.fill ?? 0)
    if (item.mark === 'marked' && cell.leads === 'its lanes') {
      const size = this.layout.detail === 'bare' ? 2.5 : 4
      group.append(marker(round(x + width / 2), top - 2 * size, size))
    }
    if (this.layout.detail === 'names' && cell.leads === 'its lanes')
      group.append(
        shape(
          'text',
          { class: 'size', x: round(x + width / 2), y: round(cell.foot + 12), 'text-anchor': 'middle' },
          item.size,
        ),
      )
  }
}

/** Fills a store up to a share of its height. */
export function setLevel({ level, bottom, height }: Vessel, share: number): void {
  const shown = Math.min(1, Math.max(0, share)) * height
  level.setAttribute('y', String(round(bottom - shown)))
  level.setAttribute('height', String(round(shown)))
}

/** Size of a store among stores, 0 to 1: by the logarithm of what it holds, 10 to 10,000 wafers. */
function sizeOf({ capacity }: PictureStore): number {
  if (capacity === undefined) return 1
  return Math.min(1, Math.max(0, (Math.log10(Math.max(1, capacity)) - 1) / 3))
}

/** Tools in columns, so that each keeps a height that can be seen. */
function grid(tools: number, { height }: Cell): { across: number; down: number } {
  const most = Math.max(1, Math.floor(height / 5))
  const across = Math.max(1, Math.ceil(tools / most))
  return { across, down: Math.max(1, Math.ceil(tools / across)) }
}

function marker(x: number, y: number, size: number): SVGPathElement {
  return shape('path', {
    class: 'marker',
    d: `M${round(x - size)} ${round(y)}h${round(2 * size)}l${round(-size)} ${round(size * 0.9)}z`,
  })
}

const MOST_LINES = 3

/** A name in a few short lines. */
function broken(name: string, width: number): string[] {
  const lines: string[] = []
  for (const word of name.split(/\s+/)) {
    const last = lines[lines.length - 1]
    if (last !== undefined && last.length + 1 + word.length <= width)
      lines[lines.length - 1] = `${last} ${word}`
    else lines.push(word)
  }
  const cut = lines.map(line => (line.length > width ? `${line.slice(0, width - 1)}…` : line))
  return cut.length <= MOST_LINES ? cut : [...cut.slice(0, MOST_LINES - 1), '…']
}

function round(value: number): number {
  return Math.round(value * 100) / 100
}
