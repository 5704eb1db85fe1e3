import type { Line, Step } from '../../../sim/line/types.ts'
import type { StepStand } from '../../../sim/study/designs/stand.ts'
import { figure, grouped, percent } from '../format.ts'
import { type Picture, picture } from '../picture.ts'
import { holdsText } from '../run-picture.ts'
import { STATE_TONES, STATE_WORDS, STATES, statesIn } from './stand-words.ts'

/** What a study marks on a line, and what it knows of its steps. */
export interface Marks {
  readonly marked: readonly string[]
  readonly markMeans: string
  /** How its steps stood: without it tools are drawn plain, and the stream as it divides. */
  readonly stand?: readonly StepStand[] | undefined
  /** Of a step or a store, by its name. */
  facts?(item: string): readonly string[]
}

/** A line as it is built, with what a study has to say of it drawn in. */
export function outline(line: Line, marks: Marks): Picture {
  const tools = new Map<string, number>()
  const count = (route: Line['route']) => {
    for (const item of route) {
      if ('step' in item) tools.set(item.step, toolsOf(item))
      else if ('group' in item) {
        count(item.each ?? [])
        if (!Array.isArray(item.lanes))
          for (const lane of Object.values(item.lanes)) count(lane as Line['route'])
      }
    }
  }
  count(line.route)
  const number = (step: string) => tools.get(step) ?? 1
  const { stand } = marks
  const of = (step: string) => stand?.find(one => one.name === step)
  return picture(line, {
    tones: stand ? STATES.map(state => STATE_TONES[state]) : ['plain'],
    legend: statesIn(stand ?? []).map(state => ({ tone: STATE_TONES[state], name: STATE_WORDS[state] })),
    markMeans: marks.markMeans,
    marked: marks.marked,
    tools: step => Array.from({ length: number(step) }, () => partsOf(of(step))),
    perHour: (step, _station, share) => share * (of(step)?.passedPerHour.mean ?? 1),
    mostPerHour: stand ? Math.max(0, ...stand.map(step => step.passedPerHour.mean)) : 1,
    stepFacts: step => [
      `${grouped(number(step), 0)} ${number(step) === 1 ? 'tool' : 'tools'}, in each lane that has it`,
      ...standFacts(of(step)),
      ...(marks.facts?.(step) ?? []),
    ],
    fill: () => undefined,
    storeFacts: (store, capacity) => [
      holdsText(capacity),
      'how full it is, run tells',
      ...(marks.facts?.(store) ?? []),
    ],
  })
}

function partsOf(step: StepStand | undefined): readonly number[] {
  return step ? STATES.map(state => step.states[state].mean) : [1]
}

function standFacts(step: StepStand | undefined): string[] {
  if (!step) return []
  const told = STATES.filter(state => step.states[state].mean > 0.0005)
  return [
    `${figure(step.passedPerHour).text} wafers/h passed on`,
    ...told.map(state => `${STATE_WORDS[state]}: ${percent(step.states[state]).text} %`),
  ]
}

/** Tools side by side; tubes for a batch tool, which are what its results count. */
function toolsOf({ tools, cycles, batch }: Step): number {
  return (tools ?? cycles?.length ?? 1) * (batch?.tubes ?? 1)
}
