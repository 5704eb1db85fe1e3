import type { PictureItem, PictureStep, PictureStore } from '../view/picture.ts'
import { type Column, Graph, type Node } from './picture-graph.ts'

/**
 * Where each item of the line is drawn. The route runs from left to right and goes on in
 * the next row; lanes of a group lie one above the other.
 */
export interface Layout {
  readonly detail: Detail
  readonly width: number
  readonly height: number
  readonly cells: readonly Cell[]
  readonly streams: readonly Stream[]
}

/** How much is written: names, numbers only, or hardly anything. */
export type Detail = 'names' | 'numbers' | 'bare'

export interface Cell {
  readonly item: PictureStep | PictureStore
  readonly x: number
  /** Middle. */
  readonly y: number
  readonly width: number
  /** Room for the tile, up and down. */
  readonly height: number
  /** Top of the row that it is in: there stands its name. */
  readonly top: number
  /** Lower end of that row. */
  readonly foot: number
  /** The first of its lanes says the name for all. */
  readonly leads: 'its lanes' | 'nothing'
  /** Name of its lane, at the first item of it. */
  readonly lane: string
}

/** A part of the stream between two items (or the edge of the drawing). */
export interface Stream {
  readonly fromX: number
  readonly fromY: number
  readonly toX: number
  readonly toY: number
  readonly perHour: number
  readonly reaches: 'an item' | 'the edge'
}

interface Sizes {
  readonly detail: Detail
  readonly step: number
  readonly store: number
  readonly gap: number
  /** Above the tiles: names. */
  readonly head: number
  readonly foot: number
  readonly lane: number
  readonly trunk: number
  readonly between: number
}

const NAMES: Sizes = {
  detail: 'names',
  step: 38,
  store: 15,
  gap: 8,
  head: 44,
  foot: 16,
  lane: 26,
  trunk: 78,
  between: 14,
}
const NUMBERS: Sizes = {
  ...NAMES,
  detail: 'numbers',
  step: 24,
  store: 10,
  gap: 4,
  head: 16,
  foot: 0,
  lane: 17,
  trunk: 48,
  between: 9,
}
const BARE: Sizes = {
  ...NAMES,
  detail: 'bare',
  step: 13,
  store: 4,
  gap: 2,
  head: 11,
  foot: 0,
  lane: 8,
  trunk: 26,
  between: 9,
}

/** Items of a line that does not fill its rows get wider up to so much, and taller up to so much; then the gaps grow [px]. */
const WIDER = 2.4
const TALLER = 1.4
const WIDEST_GAP = 130

/** Lays out the items in the given width, with as many words as the given height allows. */
export function layOut(items: readonly PictureItem[], width: number, room: number): Layout {
  const graph = new Graph(items)
  const tries = (width < 600 ? [NUMBERS, BARE] : [NAMES, NUMBERS, BARE]).map(sizes =>
    place(graph, stretched(graph, sizes, width), width),
  )
  const last = tries[tries.length - 1] as Layout
  return tries.find(({ height }) => height <= room) ?? last
}

/** Sizes at which the longest row just fills the width, unless the line is too short for that. */
function stretched(graph: Graph, sizes: Sizes, width: number): Sizes {
  const free = width - 2 * EDGE
  const bands = bandsOf(graph, sizes, free)
  const longest = Math.max(1, ...bands.map(band => bandWidth(graph, band, sizes)))
  const factor = Math.max(1, Math.min(WIDER, free / longest))
  const taller = Math.min(TALLER, Math.max(1, Math.sqrt(factor)))
  const wide = {
    ...sizes,
    step: sizes.step * factor,
    store: sizes.store * Math.min(factor, 1.6),
    gap: sizes.gap * factor,
    trunk: sizes.trunk * taller,
    lane: sizes.lane * Math.min(taller, 1.2),
  }
  const most = Math.max(1, ...bands.map(({ first, last }) => last - first + 1))
  const rest = free - Math.max(...bands.map(band => bandWidth(graph, band, wide)))
  return { ...wide, gap: wide.gap + Math.max(0, Math.min(WIDEST_GAP, rest / most)) }
}

/** Room for the names of lanes. */
const LANE_NAME = 20

function before({ begins }: Column, { detail }: Sizes): number {
  return begins === 'lanes' && detail === 'names' ? LANE_NAME : 0
}

function widthOf(column: Column, sizes: Sizes): number {
  return (column.kind === 'step' ? sizes.step : sizes.store) + sizes.gap + before(column, sizes)
}

// ---- rows ------------------------------------------------------------------------

interface Band {
  readonly first: number
  readonly last: number
}

/** Columns in rows, as even as can be. */
function bandsOf(graph: Graph, sizes: Sizes, width: number): Band[] {
  const widths = graph.columns.map(column => widthOf(column, sizes))
  const fewest = greedy(widths, width).length
  let [low, high] = [width / 2, width]
  for (let i = 0; i < 20 && fewest > 1; i++) {
    const middle = (low + high) / 2
    if (greedy(widths, middle).length <= fewest) high = middle
    else low = middle
  }
  return greedy(widths, high)
}

function bandWidth(graph: Graph, { first, last }: Band, sizes: Sizes): number {
  return graph.columns.slice(first, last + 1).reduce((sum, column) => sum + widthOf(column, sizes), 0)
}

function greedy(widths: readonly number[], width: number): Band[] {
  const bands: Band[] = []
  let [first, used] = [0, 0]
  widths.forEach((one, index) => {
    if (used + one > width && index > first) {
      bands.push({ first, last: index - 1 })
      first = index
      used = 0
    }
    used += one
  })
  if (widths.length > 0) bands.push({ first, last: widths.length - 1 })
  return bands
}

/** Below the last row: the frame of a tile is drawn around it. */
const FRAME = 5

/** Left and right of each row: where the stream comes from and goes to. */
const EDGE = 16

function place(graph: Graph, sizes: Sizes, width: number): Layout {
  const widths = graph.columns.map(column => widthOf(column, sizes))
  const bands = bandsOf(graph, sizes, width - 2 * EDGE + 1)
  const columnX: number[] = []
  const bandOf: number[] = []
  const tops: number[] = []
  const heights: number[] = []
  let y = 0
  bands.forEach(({ first, last }, band) => {
    let x = EDGE
    let lanes = 1
    for (let c = first; c <= last; c++) {
      columnX[c] = x
      bandOf[c] = band
      x += widths[c] ?? 0
      if ((graph.columns[c]?.items ?? 1) > 1) lanes = graph.rows
    }
    tops.push(y)
    heights.push(Math.max(sizes.trunk, lanes * sizes.lane))
    y += sizes.head + (heights[band] ?? 0) + sizes.foot + sizes.between
  })
  const cells = new Map<Node, Cell>()
  for (const node of graph.nodes) {
    const band = bandOf[node.column] ?? 0
    const column = graph.columns[node.column] as Column
    const height = heights[band] ?? sizes.trunk
    const top = (tops[band] ?? 0) + sizes.head
    const share = (height * node.rows) / graph.rows
    cells.set(node, {
      item: node.item,
      x: (columnX[node.column] ?? 0) + sizes.gap / 2 + before(column, sizes),
      y: top + (height * (node.row + node.rows / 2)) / graph.rows,
      width: node.item.kind === 'step' ? sizes.step : sizes.store,
      height: column.items === 1 ? sizes.trunk : Math.min(sizes.trunk, share * 0.8),
      top: tops[band] ?? 0,
      foot: top + height,
      leads: node.row === 0 ? 'its lanes' : 'nothing',
      lane: node.lane,
    })
  }
  return {
    detail: sizes.detail,
    width,
    height: Math.max(0, y - sizes.between) + FRAME,
    cells: [...cells.values()],
    streams: streamsOf(graph, cells, bandOf, width),
  }
}

/** The ways between items; one that goes on in the next row is drawn to the edge and from the edge. */
function streamsOf(
  graph: Graph,
  cells: ReadonlyMap<Node, Cell>,
  bandOf: readonly number[],
  width: number,
): Stream[] {
  const incoming = new Set(graph.edges.map(({ to }) => to))
  const outgoing = new Set(graph.edges.map(({ from }) => from))
  const streams: Stream[] = []
  const add = (
    fromX: number,
    fromY: number,
    toX: number,
    toY: number,
    perHour: number,
    reaches: Stream['reaches'],
  ) => streams.push({ fromX, fromY, toX, toY, perHour, reaches })
  const middle = (cell: Cell) => cell.x + cell.width / 2
  for (const { from, to } of graph.edges) {
    const [a, b] = [cells.get(from) as Cell, cells.get(to) as Cell]
    const perHour = Math.min(from.perHour, to.perHour)
    if (bandOf[from.column] === bandOf[to.column]) add(middle(a), a.y, middle(b), b.y, perHour, 'an item')
    else {
      add(middle(a), a.y, width - 1, a.y, from.perHour, 'the edge')
      add(1, b.y, middle(b), b.y, perHour, 'an item')
    }
  }
  for (const [node, cell] of cells) {
    if (!incoming.has(node)) add(1, cell.y, middle(cell), cell.y, node.perHour, 'an item')
    if (!outgoing.has(node)) {
      const right = Math.min(width - 1, cell.x + cell.width + EDGE + 8)
      add(middle(cell), cell.y, right, cell.y, node.perHour, 'the edge')
    }
  }
  return streams
}
