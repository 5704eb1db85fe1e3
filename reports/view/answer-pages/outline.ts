import type { Line, Step } from '../../../sim/line/types.ts'
import { grouped } from '../format.ts'
import { type LineFigures, type Picture, picture } from '../picture.ts'
import { holdsText } from '../run-picture.ts'

/** What a study marks on a line, and what it knows of its steps. */
export interface Marks {
  readonly marked: readonly string[]
  readonly markMeans: string
  readonly tones?: LineFigures['tones']
  readonly legend?: LineFigures['legend']
  /** Parts of each tool of a step; without it tools are drawn plain. */
  parts?(step: string): readonly number[]
  facts?(step: string): readonly string[]
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
  return picture(line, {
    tones: marks.tones ?? ['plain'],
    legend: marks.legend ?? [],
    markMeans: marks.markMeans,
    marked: marks.marked,
    tools: step => Array.from({ length: number(step) }, () => marks.parts?.(step) ?? [1]),
    // Rates are not what such a study is about: the stream is drawn as it divides.
    perHour: (_step, _station, share) => share,
    mostPerHour: 1,
    stepFacts: step => [
      `${grouped(number(step), 0)} ${number(step) === 1 ? 'tool' : 'tools'}, in each lane that has it`,
      ...(marks.facts?.(step) ?? []),
    ],
    fill: () => 0,
    storeFacts: (_store, capacity) => [holdsText(capacity)],
  })
}

/** Tools side by side; tubes for a batch tool, which are what its results count. */
function toolsOf({ tools, cycles, batch }: Step): number {
  return (tools ?? cycles?.length ?? 1) * (batch?.tubes ?? 1)
}
