import type { Item, Line, Route, Step } from '../../sim/line/types.ts'
import type { PlaceFigures, RunStudy, StepFigures } from '../../sim/study/run-study.ts'
import { figure, grouped, percent, significant } from './format.ts'
import { nearLimit } from './limit.ts'
import { STATE_KEYS, STATE_NAMES, type StateKey } from './states.ts'

/** The line as it is drawn: its items in the order of the route, lanes within groups. */
export interface Picture {
  readonly items: readonly PictureItem[]
  /** States that occur, for the legend. */
  readonly states: readonly { readonly key: StateKey; readonly name: string }[]
  /** Steps marked as near the limit. */
  readonly near: readonly string[]
  /** Highest rate of a step [wafers/h]: as wide as the stream gets. */
  readonly mostPerHour: number
  /** In words, for those who cannot see it. */
  readonly words: string
}

export type PictureItem = PictureStep | PictureStore | PictureGroup

export interface PictureStep {
  readonly kind: 'step'
  readonly name: string
  /** Number of the step in the route, from 1. */
  readonly number: number
  /** The step, after the names of its lanes: as a recording calls it. */
  readonly station: string
  /** Shares of each tool, in the order of the state numbers. */
  readonly tools: readonly (readonly number[])[]
  /** Wafers handed on here, in this lane [wafers/h]. */
  readonly perHour: number
  readonly near: 'the limit' | 'no limit'
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
  /** Mean share of the capacity in use, 0 to 1. */
  readonly fill: number
  /** The how manieth store of this name along the route, from 0. */
  readonly turn: number
  readonly facts: readonly string[]
}

export interface PictureGroup {
  readonly kind: 'group'
  readonly name: string
  readonly lanes: readonly { readonly name: string; readonly items: readonly PictureItem[] }[]
}

/** Draws up a line with its figures. */
export function picture(line: Line, study: RunStudy): Picture {
  const drawn = new Drawing(study)
  const items = drawn.route(line.route, [], 1)
  const present = STATE_KEYS.filter(key => study.steps.some(step => step.states[key].mean > 0))
  return {
    items,
    states: present.map(key => ({ key, name: STATE_NAMES[key] })),
    near: nearLimit(study),
    mostPerHour: Math.max(1, ...study.steps.map(step => step.passedPerHour.mean)),
    words: inWords(line, study),
  }
}

class Drawing {
  private readonly steps: ReadonlyMap<string, StepFigures>
  private readonly numbers: ReadonlyMap<string, number>
  private readonly near: ReadonlySet<string>
  private readonly places: ReadonlyMap<string, PlaceFigures>
  private readonly turns = new Map<string, number>()

  constructor(study: RunStudy) {
    this.steps = new Map(study.steps.map(step => [step.name, step]))
    this.numbers = new Map(study.steps.map((step, index) => [step.name, index + 1]))
    this.near = new Set(nearLimit(study))
    this.places = new Map(study.places.map(place => [place.name, place]))
  }

  /** @param share of the flow that takes this way */
  route(route: Route, lane: readonly string[], share: number): PictureItem[] {
    return route.flatMap((item): PictureItem[] => {
      if ('step' in item) return this.step(item, lane, share)
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

  private step({ step: name }: Step, lane: readonly string[], share: number): PictureStep[] {
    const step = this.steps.get(name)
    if (step === undefined) return []
    const station = [...lane, name].join(' ')
    const own = step.each.filter(tool => tool.station === station)
    return [
      {
        kind: 'step',
        name,
        number: this.numbers.get(name) ?? 0,
        station,
        tools: own.map(({ shares }) => STATE_KEYS.map(key => shares[key])),
        // Lanes of one step share its rate by their tools: the results have it for all lanes together.
        perHour: step.passedPerHour.mean * (step.tools > 0 ? own.length / step.tools : share),
        near: this.near.has(name) ? 'the limit' : 'no limit',
        facts: stepFacts(step),
      },
    ]
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
    const place = this.places.get(name)
    const fill = place?.capacity === undefined ? 0 : place.wip.mean / Math.max(1, place.capacity)
    return [
      {
        kind: 'store',
        name,
        store,
        ...(capacity !== undefined && { capacity }),
        size: capacity === undefined ? '∞' : short(capacity),
        fill: Math.min(1, Math.max(0, fill)),
        turn,
        facts: storeFacts(place, capacity),
      },
    ]
  }
}

function stepFacts(step: StepFigures): string[] {
  const passed = figure(step.passedPerHour)
  const states = STATE_KEYS.filter(key => step.states[key].mean > 0.0005)
  return [
    `${grouped(step.tools, 0)} ${step.tools === 1 ? 'tool' : 'tools'} in all, ${passed.text} wafers/h passed on${passed.interval === '' ? '' : ` (${passed.interval})`}`,
    ...states.map(key => `${STATE_NAMES[key]}: ${percent(step.states[key]).text} %`),
  ]
}

function storeFacts(place: PlaceFigures | undefined, capacity: number | undefined): string[] {
  const holds = capacity === undefined ? 'holds any number' : `holds ${grouped(capacity, 0)} wafers`
  if (place === undefined) return [holds]
  const all =
    place.capacity !== undefined && place.capacity !== capacity
      ? ` in all lanes together, of ${grouped(place.capacity, 0)}`
      : ''
  return [holds, `${figure(place.wip).text} wafers on average${all}`]
}

/** A count in three or four characters: 80, 1.2k, 24k, 3M. */
export function short(count: number): string {
  if (count < 1000) return String(count)
  if (count < 1e6) return `${significant(count / 1000, count < 10_000 ? 2 : 3)}k`
  return `${significant(count / 1e6, 2)}M`
}

function inWords(line: Line, study: RunStudy): string {
  const list = study.steps.map(step => `${step.name} (${step.tools} ${step.tools === 1 ? 'tool' : 'tools'})`)
  const groups = line.route.filter(item => 'group' in item).map(item => (item as { group: string }).group)
  const lanes = groups.length === 0 ? '' : ` Lanes side by side: ${groups.join(', ')}.`
  const near = nearLimit(study)
  const limit = near.length === 0 ? '' : ` Marked as near the limit: ${near.join(', ')}.`
  return `The line in the order of its route: ${list.join(', ')}.${lanes}${limit} The tables below hold all figures.`
}
