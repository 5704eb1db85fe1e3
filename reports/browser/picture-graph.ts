import type { PictureItem, PictureStep, PictureStore } from '../view/picture.ts'

/** An item in its column. */
export interface Node {
  readonly item: PictureStep | PictureStore
  readonly column: number
  /** Upper end and size of its share of the height, both as parts of `Graph.rows`. */
  readonly row: number
  readonly rows: number
  readonly lane: string
  perHour: number
}

/** Items one above the other. */
export interface Column {
  /** How many. */
  items: number
  kind: 'step' | 'store'
  /** Lanes begin here, and say their names before it. */
  begins: 'lanes' | 'nothing'
}

/** The items of a line as nodes in columns, and the ways between them. */
export class Graph {
  readonly nodes: Node[] = []
  readonly columns: Column[] = []
  readonly edges: { readonly from: Node; readonly to: Node }[] = []
  /** Lanes at the widest place. */
  readonly rows: number

  constructor(items: readonly PictureItem[]) {
    this.rows = rowsOf(items)
    this.walk(items, [], 0, 0, this.rows, '')
    this.spreadRates()
  }

  /** A store carries what comes to it; before the first step, what that step hands on. */
  private spreadRates(): void {
    const ways = new Map<Node, number>()
    for (const { from } of this.edges) ways.set(from, (ways.get(from) ?? 0) + 1)
    for (const node of this.nodes) {
      if (node.perHour >= 0) continue
      const before = this.edges.filter(edge => edge.to === node && edge.from.perHour >= 0)
      if (before.length === 0) continue
      node.perHour = before.reduce((sum, { from }) => sum + from.perHour / (ways.get(from) ?? 1), 0)
    }
    for (const { from, to } of this.edges.toReversed()) if (from.perHour < 0) from.perHour = to.perHour
  }

  /** @returns the last nodes of the route, and the column after them */
  private walk(
    items: readonly PictureItem[],
    open: readonly Node[],
    column: number,
    row: number,
    rows: number,
    lane: string,
  ): { ends: readonly Node[]; next: number } {
    let [ends, next, name] = [open, column, lane]
    for (const item of items) {
      if (item.kind === 'group') {
        const after: { ends: readonly Node[]; next: number }[] = []
        const needed = item.lanes.map(one => rowsOf(one.items))
        const unit = rows / needed.reduce((sum, n) => sum + n, 0)
        let at = row
        item.lanes.forEach((one, index) => {
          const share = (needed[index] ?? 1) * unit
          after.push(this.walk(one.items, ends, next, at, share, one.name))
          at += share
        })
        ends = after.flatMap(one => one.ends)
        next = Math.max(next, ...after.map(one => one.next))
      } else {
        const node = this.add(item, next, row, rows, name)
        for (const from of ends) this.edges.push({ from, to: node })
        ends = [node]
        next++
        name = ''
      }
    }
    return { ends, next }
  }

  private add(
    item: PictureStep | PictureStore,
    column: number,
    row: number,
    rows: number,
    lane: string,
  ): Node {
    const perHour = item.kind === 'step' ? item.perHour : -1
    const node = { item, column, row, rows, lane, perHour }
    this.nodes.push(node)
    const known = this.columns[column] ?? { items: 0, kind: 'store', begins: 'nothing' }
    known.items++
    if (lane !== '') known.begins = 'lanes'
    if (item.kind === 'step') known.kind = 'step'
    this.columns[column] = known
    return node
  }
}

/** Lanes that lie one above the other at the widest place of a route. */
function rowsOf(items: readonly PictureItem[]): number {
  return Math.max(
    1,
    ...items.map(item =>
      item.kind === 'group' ? item.lanes.reduce((sum, lane) => sum + rowsOf(lane.items), 0) : 1,
    ),
  )
}
