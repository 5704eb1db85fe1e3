import type { Line } from '../../sim/line/types.ts'
import type { RunStudy, StepFigures } from '../../sim/study/run-study.ts'
import { figure, grouped, percent } from './format.ts'
import { nearLimit } from './limit.ts'
import { type Picture, picture } from './picture.ts'
import { STATE_KEYS, STATE_NAMES } from './states.ts'

/** The line of a run: shares of the states on each tool, rates, levels, and what is near the limit. */
export function runPicture(line: Line, study: RunStudy): Picture {
  const steps = new Map(study.steps.map(step => [step.name, step]))
  const places = new Map(study.places.map(place => [place.name, place]))
  const own = (step: string, station: string) =>
    steps.get(step)?.each.filter(tool => tool.station === station) ?? []
  const present = STATE_KEYS.filter(key => study.steps.some(step => step.states[key].mean > 0))
  return picture(line, {
    tones: STATE_KEYS,
    legend: present.map(key => ({ tone: key, name: STATE_NAMES[key] })),
    markMeans: 'near the limit of the line',
    marked: nearLimit(study),
    tools: (step, station) => own(step, station).map(({ shares }) => STATE_KEYS.map(key => shares[key])),
    // Lanes of one step share its rate by their tools: the results have it for all lanes together.
    perHour(step, station, share) {
      const found = steps.get(step)
      if (found === undefined) return 0
      const { tools, passedPerHour } = found
      return passedPerHour.mean * (tools > 0 ? own(step, station).length / tools : share)
    },
    mostPerHour: Math.max(0, ...study.steps.map(step => step.passedPerHour.mean)),
    stepFacts: step => stepFacts(steps.get(step)),
    fill(store) {
      const place = places.get(store)
      const fill = place?.capacity === undefined ? 0 : place.wip.mean / Math.max(1, place.capacity)
      return Math.min(1, Math.max(0, fill))
    },
    storeFacts(store, capacity) {
      const place = places.get(store)
      if (place === undefined) return [holdsText(capacity)]
      const all =
        place.capacity !== undefined && place.capacity !== capacity
          ? ` in all lanes together, of ${grouped(place.capacity, 0)}`
          : ''
      return [holdsText(capacity), `${figure(place.wip).text} wafers on average${all}`]
    },
  })
}

/** What a store holds, in words. */
export function holdsText(capacity: number | undefined): string {
  return capacity === undefined ? 'holds any number' : `holds ${grouped(capacity, 0)} wafers`
}

function stepFacts(step: StepFigures | undefined): string[] {
  if (step === undefined) return []
  const passed = figure(step.passedPerHour)
  const states = STATE_KEYS.filter(key => step.states[key].mean > 0.0005)
  const tools = `${grouped(step.tools, 0)} ${step.tools === 1 ? 'tool' : 'tools'} in all`
  const range = passed.interval === '' ? '' : ` (${passed.interval})`
  return [
    `${tools}, ${passed.text} wafers/h passed on${range}`,
    ...states.map(key => `${STATE_NAMES[key]}: ${percent(step.states[key]).text} %`),
  ]
}
