import type { RunStudy, StepFigures, StopFigures, ToolShares } from '../../sim/study/run-study.ts'
import { amount, COUNTED, PARTS, percent, significant } from './format.ts'
import { nearLimit } from './limit.ts'
import type { Section, Series } from './page.ts'
import { STATE_KEYS, STATE_NAMES } from './states.ts'
import { columnsOf, tableOf } from './table.ts'

/** Bars that a chart of stops shows; all stops are in its table. */
const MOST_STOPS = 20
/** Bars that a chart of losses shows. */
const MOST_LOSSES = 30

/** Charts and tables of what steps and their tools do. */
export function stepSections(study: RunStudy): Section[] {
  return [statesOf(study), toolsOf(study), yieldOf(study), stopsOf(study), ratesOf(study)].filter(
    section => section !== undefined,
  )
}

function statesOf(study: RunStudy): Section {
  const present = STATE_KEYS.filter(key => study.steps.some(step => step.states[key].mean > 0))
  const series = present.map(
    (key): Series => ({
      name: STATE_NAMES[key],
      tone: key,
      values: study.steps.map(step => step.states[key].mean * 100),
    }),
  )
  const near = new Set(nearLimit(study))
  const columns = columnsOf<StepFigures>()
  return {
    id: 'states',
    title: 'What the tools of each step do',
    lead: `Share of tool time in each state, mean over the tools of a step. A step that is hardly ever starved or blocked is near the limit of the line${near.size > 0 ? ' (in bold)' : ''}.`,
    chart: {
      kind: 'bars',
      title: 'Share of time in each state, by step',
      names: study.steps.map(step => step.name),
      series,
      axis: { label: 'share of tool time', unit: '%' },
      most: 100,
      marked: study.steps.flatMap((step, index) => (near.has(step.name) ? [index] : [])),
    },
    table: tableOf(
      'Share of time in each state, by step',
      [
        columns.words('step', step => step.name),
        columns.numbers('tools', '', step => step.tools),
        ...present.map(key =>
          columns.shares(STATE_NAMES[key], step => step.states[key], { ...PARTS, most: 2 }),
        ),
        columns.shares('OEE', step => step.oee.oee),
      ],
      study.steps,
    ),
  }
}

/** Each tool by itself: a table only, its picture is the line. */
function toolsOf(study: RunStudy): Section | undefined {
  const tools = study.steps.flatMap(step => step.each)
  const present = STATE_KEYS.filter(key => study.steps.some(step => step.states[key].mean > 0))
  if (tools.length === study.steps.length) return undefined
  const columns = columnsOf<ToolShares>()
  return {
    id: 'tools',
    title: 'Each tool by itself',
    lead: 'The same for every tool, as drawn in the line above: means over the replications; equal tools differ by chance.',
    table: tableOf(
      'Share of time in each state, by tool',
      [
        columns.words('station', tool => tool.station),
        columns.numbers('tool', '', tool => tool.tool),
        ...present.map(key => columns.numbers(STATE_NAMES[key], '%', tool => tool.shares[key] * 100, 3)),
      ],
      tools,
    ),
  }
}

const CAUSES = [
  { key: 'broken', name: 'broken' },
  { key: 'rejected', name: 'rejected' },
  { key: 'setUp', name: 'set-up wafers after stops' },
  { key: 'lost', name: 'lost to stops and waiting' },
] as const

function yieldOf(study: RunStudy): Section {
  const lossy = study.steps
    .filter(step => CAUSES.some(({ key }) => step[key].mean > 0))
    .sort((a, b) => lossOf(b) - lossOf(a))
  const shown = lossy.slice(0, MOST_LOSSES)
  const causes = CAUSES.filter(({ key }) => lossy.some(step => step[key].mean > 0))
  const all = percent(study.yield, { digits: 2, most: 3 })
  const columns = columnsOf<StepFigures>()
  return {
    id: 'yield',
    title: 'Where wafers are lost, and why',
    lead: `Of all wafers that end, ${all.text} % end as good cells${all.interval === '' ? '' : ` (${all.interval})`}. Losses are shares of the wafers started at the step${lossy.length > shown.length ? `; the ${shown.length} largest of ${lossy.length} are drawn` : ''}.${dummySentences(study)}`,
    ...(shown.length > 0 && {
      chart: {
        kind: 'bars' as const,
        title: 'Wafers lost by step and cause',
        names: shown.map(step => step.name),
        series: causes.map(({ key, name }) => ({
          name,
          tone: key,
          values: shown.map(step => step[key].mean * 100),
        })),
        axis: { label: 'lost of wafers started', unit: '%' },
        ends: shown.map(step => `${significant(lossOf(step) * 100, 2)} %`),
      },
    }),
    table: tableOf(
      'Yield and losses by step',
      [
        columns.words('step', step => step.name),
        columns.shares('broken', step => step.broken, { most: 3 }),
        columns.shares('rejected', step => step.rejected, { most: 3 }),
        columns.shares('set-up wafers', step => step.setUp, { most: 3 }),
        columns.shares('lost to stops and waiting', step => step.lost, { most: 3 }),
        columns.shares('sent back', step => step.reworked, { most: 3 }),
        columns.shares('yield', step => step.yield, { most: 3 }),
      ],
      study.steps,
    ),
  }
}

/** Dummy wafers are none of the line's, so they are in no table of it. */
function dummySentences({ steps }: RunStudy): string {
  return steps
    .flatMap(({ name, dummies }) => {
      if (!dummies) return []
      const [places, worn] = [amount(dummies.placesPerDay), amount(dummies.wornOutPerDay)]
      return ` Dummy wafers fill ${places.text} places a day in short loads of ${name}, and ${worn.text} of them a day are worn out.`
    })
    .join('')
}

function lossOf(step: StepFigures): number {
  return step.broken.mean + step.rejected.mean + step.setUp.mean + step.lost.mean
}

const STOP_KINDS = [
  { kind: 'unscheduled', name: 'unscheduled', tone: 'unscheduledDown' },
  { kind: 'scheduled', name: 'scheduled', tone: 'scheduledDown' },
  { kind: 'supply', name: 'supply (change of consumables)', tone: 'supply' },
] as const

interface StopOfStep extends StopFigures {
  readonly step: string
}

function stopsOf(study: RunStudy): Section | undefined {
  const stops = study.steps
    .flatMap(step => step.stops.map((stop): StopOfStep => ({ step: step.name, ...stop })))
    // Closing hours are non-scheduled time, not stops.
    .filter(stop => stop.perDay.mean > 0 && stop.kind !== 'closed')
    .sort((a, b) => b.hoursPerDay.mean - a.hoursPerDay.mean)
  if (stops.length === 0) return undefined
  const total = stops.reduce((sum, stop) => sum + stop.hoursPerDay.mean, 0)
  const shown = stops.slice(0, MOST_STOPS)
  let sum = 0
  const upTo = shown.map(stop => {
    sum += stop.hoursPerDay.mean
    return (100 * sum) / total
  })
  const columns = columnsOf<StopOfStep>()
  return {
    id: 'stops',
    title: 'Stops, the costliest first',
    lead: `Tool-hours that stops take per day; behind each bar the share of all ${significant(total, 3)} tool-hours that it and those above it make up${stops.length > shown.length ? `. The largest ${shown.length} of ${stops.length} kinds of stop are drawn` : ''}. Tool-hours are not output: a stop costs cells only where nothing waits behind it.`,
    chart: {
      kind: 'bars',
      title: 'Tool-hours down per day, by stop',
      names: shown.map(({ step, stop }) => `${stop}, ${step}`),
      series: STOP_KINDS.filter(({ kind }) => shown.some(stop => stop.kind === kind)).map(
        ({ kind, name, tone }) => ({
          name,
          tone,
          values: shown.map(stop => (stop.kind === kind ? stop.hoursPerDay.mean : 0)),
        }),
      ),
      axis: { label: 'tool-hours down per day', unit: 'h' },
      ends: upTo.map(share => `${significant(share, 2)} %`),
    },
    table: tableOf(
      'All stops that happened',
      [
        columns.words('stop', stop => stop.stop),
        columns.words('step', stop => stop.step),
        columns.words('kind', stop => stop.kind),
        columns.amounts('count', 'per day', stop => stop.perDay, COUNTED),
        columns.amounts('down', 'tool-h/day', stop => stop.hoursPerDay, COUNTED),
        columns.numbers('share of all', '%', stop => (100 * stop.hoursPerDay.mean) / total, 3),
        columns.amounts('mean length', 'min', stop => stop.meanMinutes, COUNTED),
        columns.numbers('longest', 'min', stop => stop.longestMinutes, 3),
        ...(stops.some(stop => stop.waitHoursPerDay.mean > 0)
          ? [columns.amounts('of it waiting for crew', 'tool-h/day', stop => stop.waitHoursPerDay, COUNTED)]
          : []),
        columns.amounts('wafers lost', 'per day', stop => stop.lostPerDay, COUNTED),
      ],
      stops,
    ),
  }
}

function ratesOf(study: RunStudy): Section {
  const passed = amount(study.startedPerHour, { digits: 2, most: 1 })
  const columns = columnsOf<StepFigures>()
  return {
    id: 'rates',
    title: 'What each step passes on',
    lead: `${passed.text} wafers start per hour${passed.interval === '' ? '' : ` (${passed.interval})`}. The light bar is what the step could do on paper, net of its own stops and with nobody in its way.`,
    chart: {
      kind: 'bars',
      title: 'Wafers passed on per hour, and what is left to the rate on paper',
      names: study.steps.map(step => step.name),
      series: [
        {
          name: 'passed on',
          tone: 'productive',
          values: study.steps.map(step => step.passedPerHour.mean),
        },
        {
          name: 'left to the rate on paper',
          tone: 'spare',
          values: study.steps.map(step => Math.max(0, step.staticPerHour - step.passedPerHour.mean)),
        },
      ],
      axis: { label: 'wafers per hour', unit: 'wafers/h' },
    },
    table: tableOf(
      'Rates and OEE by step (OEE by ISO 22400-2)',
      [
        columns.words('step', step => step.name),
        columns.words('kind', step => step.kind),
        columns.numbers('tools', '', step => step.tools),
        columns.amounts('started', 'wafers/h', step => step.startsPerHour),
        columns.amounts('passed on', 'wafers/h', step => step.passedPerHour),
        columns.numbers('on paper', 'wafers/h', step => step.staticPerHour),
        columns.shares('availability', step => step.oee.availability),
        columns.shares('performance', step => step.oee.performance),
        columns.shares('quality', step => step.oee.quality),
        columns.shares('OEE', step => step.oee.oee),
      ],
      study.steps,
    ),
  }
}
