import type { Item, Line, Route, Step } from '../../sim/line/types.ts'
import { significant } from './format.ts'

/** The line as it is drawn: its items in the order of the route, lanes within groups. */
export interface Picture {
  readonly items: readonly PictureItem[]
  /** What the parts of a tool stand for, in their order. */
  readonly tones: readonly string[]
  /** Those that occur, for the legend. */
  readonly legend: readonly { readonly tone: string; readonly name: string }[]
  /** What a mark on a step or a store means; absent when none is marked. */
  readonly markMeans?: string
  /** Highest rate of a step [wafers/h]: as wide as the stream gets. */
  readonly mostPerHour: number
  /** In words, for those who cannot see it. */
  readonly words: string
}

export type PictureItem = PictureStep | PictureStore | PictureGroup

/** Whether a study points at an item. */
export type Mark = 'marked' | 'not marked'

export interface PictureStep {
  readonly kind: 'step'
  readonly name: string
  /** Number of the step in the route, from 1. */
  readonly number: number
  /** The step, after the names of its lanes: as a recording calls it. */
  readonly station: string
  /** Parts of each tool, in the order of `tones`. */
  readonly tools: readonly (readonly number[])[]
  /** Wafers handed on here, in this lane [wafers/h]. */
  readonly perHour: number
  readonly mark: Mark
  /** Shown when pointed at. */
  readonly facts: readonly string[]
}

export interface PictureStore {
  readonly kind: 'store'
  readonly name: string
  readonly store: 'buffer' | 'conveyor' | 'carriers'
  /** Absent when unlimited. */
  readonly capacity?: number
  /** Capacity, short: `24k`. */
  readonly size: string
  /** Mean share of the capacity in use, 0 to 1; absent where a study does not say. */
  readonly fill?: number
  /** The how manieth store of this name along the route, from 0. */
  readonly turn: number
  readonly mark: Mark
  readonly facts: readonly string[]
}

export interface PictureGroup {
  readonly kind: 'group'
  readonly name: string
  readonly lanes: readonly { readonly name: string; readonly items: readonly PictureItem[] }[]
}

/** What a study knows of the items of a line, by their names. */
export interface LineFigures {
  readonly tones: readonly string[]
  readonly legend: readonly { readonly tone: string; readonly name: string }[]
  readonly markMeans?: string
  /** Parts of each tool of a station. */
  tools(step: string, station: string): readonly (readonly number[])[]
  /** Wafers handed on in all lanes; `share`: of the flow that takes this way. */
  perHour(step: string, station: string, share: number): number
  readonly mostPerHour: number
  /** Names of steps and stores; what is not drawn, such as a crew, has no mark. */
  readonly marked: readonly string[]
  stepFacts(step: string): readonly string[]
  /** Mean share of the capacity in use; undefined where nothing is known of it. */
  fill(store: string): number | undefined
  storeFacts(store: string, capacity: number | undefined): readonly string[]
}

/** Draws up a line with what is known of it. */
export function picture(line: Line, figures: LineFigures): Picture {
  const drawn = new Drawing(figures)
  const items = drawn.route(line.route, [], 1)
  const { tones, legend, markMeans, mostPerHour } = figures
  const marked = drawn.marked()
  return {
    items,
    tones,
    legend,
    ...(markMeans !== undefined && marked.length > 0 && { markMeans }),
    mostPerHour: Math.max(1, mostPerHour),
    words: inWords(line, drawn.names(), marked, markMeans),
  }
}

class Drawing {
  private readonly numbers = new Map<string, number>()
  private readonly turns = new Map<string, number>()

  constructor(private readonly figures: LineFigures) {}

  names(): readonly string[] {
    return [...this.numbers.keys()]
  }

  /** What is marked of all that is drawn. */
  marked(): readonly string[] {
    return this.figures.marked.filter(name => this.numbers.has(name) || this.turns.has(name))
  }

  private markOf(name: string): Mark {
    return this.figures.marked.includes(name) ? 'marked' : 'not marked'
  }

  /** @param share of the flow that takes this way */
  route(route: Route, lane: readonly string[], share: number): PictureItem[] {
    return route.flatMap((item): PictureItem[] => {
      if ('step' in item) return [this.step(item, lane, share)]
      if ('group' in item) return [this.group(item, lane, share)]
      return this.store(item)
    })
  }

  private group(
    item: Extract<Item, { group: string }>,
    lane: readonly string[],
    share: number,
  ): PictureGroup {
    const lanes: readonly (readonly [string, Route])[] = Array.isArray(item.lanes)
      ? (item.lanes as readonly string[]).map(name => [name, item.each ?? []] as const)
      : Object.entries(item.lanes as Readonly<Record<string, Route>>)
    return {
      kind: 'group',
      name: item.group,
      lanes: lanes.map(([name, route]) => ({
        name,
        items: this.route(route, [...lane, name], share / lanes.length),
      })),
    }
  }

  private step({ step: name }: Step, lane: readonly string[], share: number): PictureStep {
    const station = [...lane, name].join(' ')
    const number = this.numbers.get(name) ?? this.numbers.size + 1
    this.numbers.set(name, number)
    const { figures } = this
    return {
      kind: 'step',
      name,
      number,
      station,
      tools: figures.tools(name, station),
      perHour: figures.perHour(name, station, share),
      mark: this.markOf(name),
      facts: figures.stepFacts(name),
    }
  }

  private store(item: Item): PictureStore[] {
    const named = item as unknown as Readonly<Record<string, unknown>>
    const store = (['buffer', 'conveyor', 'carriers'] as const).find(key => key in named)
    if (store === undefined) return []
    const name = String(named[store])
    const turn = this.turns.get(name) ?? 0
    this.turns.set(name, turn + 1)
    const given = store === 'carriers' ? Number(named.number) * Number(named.holds) : named.capacity
    const capacity = typeof given === 'number' ? given : undefined
    const fill = this.figures.fill(name)
    return [
      {
        kind: 'store',
        name,
        store,
        ...(capacity !== undefined && { capacity }),
        size: capacity === undefined ? '∞' : short(capacity),
        ...(fill !== undefined && { fill }),
        turn,
        mark: this.markOf(name),
        facts: this.figures.storeFacts(name, capacity),
      },
    ]
  }
}

/** A count in three or four characters: 80, 1.2k, 24k, 3M. */
export function short(count: number): string {
  if (count < 1000) return String(count)
  if (count < 1e6) return `${significant(count / 1000, count < 10_000 ? 2 : 3)}k`
  return `${significant(count / 1e6, 2)}M`
}

function inWords(
  line: Line,
  steps: readonly string[],
  marked: readonly string[],
  markMeans: string | undefined,
): string {
  const groups = line.route.filter(item => 'group' in item).map(item => (item as { group: string }).group)
  const lanes = groups.length === 0 ? '' : ` Lanes side by side: ${groups.join(', ')}.`
  const said =
    marked.length === 0 || markMeans === undefined ? '' : ` Marked as ${markMeans}: ${marked.join(', ')}.`
  return `The line in the order of its route: ${steps.join(', ')}.${lanes}${said} The tables below hold all figures.`
}
