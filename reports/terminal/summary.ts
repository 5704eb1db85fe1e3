import type pc from 'picocolors'
import type { RunView } from '../view/run-view.ts'
import { wrapped } from '../view/width.ts'
import { type Column, tableLines } from './table.ts'

/** Colours, or none: decided once per stream by the caller. */
export type Colours = ReturnType<typeof pc.createColors>

/** Columns of a terminal that everybody has. */
const WIDTH = 80
/** Stops shown; the rest is in the files. */
const MOST_STOPS = 6

/** The result of a run as text of at most 80 columns: the answer first, the speed last. */
export function summary(view: RunView, colours: Colours): string {
  const paragraphs = [
    headline(view, colours),
    [...wrapped(view.title, WIDTH), ...view.basis.flatMap(sentence => wrapped(sentence, WIDTH))].map(line =>
      colours.dim(line),
    ),
    steps(view, colours),
    stops(view, colours),
    people(view, colours),
    late(view, colours),
    hidden(view, colours),
    dummies(view, colours),
    carriers(view, colours),
    facts(view),
    view.warnings.flatMap(({ text, hint }) => warning(text, hint, colours)),
    wrapped(view.caution, WIDTH).map(line => colours.dim(line)),
    wrapped(view.speed, WIDTH),
  ]
  return `${paragraphs
    .filter(lines => lines.length > 0)
    .map(lines => lines.join('\n'))
    .join('\n\n')}\n`
}

/** The audit of a run as text of at most 80 columns. */
export function auditBlock(view: RunView, colours: Colours): string {
  const { passed, lines, faults } = view.audit
  const verdict = passed ? 'Audit passed.' : colours.red('Audit failed: do not use these figures.')
  const rest = [...lines, ...faults.map(fault => `Fault: ${fault}`)].flatMap(line => wrapped(line, WIDTH))
  return `${[verdict, ...rest].join('\n')}\n`
}

function headline(view: RunView, colours: Colours): string[] {
  const [output, ...rest] = view.headline
  return [
    ...wrapped(output, WIDTH).map(line => colours.bold(line)),
    ...rest.flatMap(sentence => wrapped(sentence, WIDTH)),
  ]
}

function steps(view: RunView, colours: Colours): string[] {
  const columns: Column[] = [
    { head: 'step (shares in %)', align: 'left' },
    { head: 'passed/h', align: 'right' },
    { head: 'productive', align: 'right' },
    { head: 'starved', align: 'right' },
    { head: 'blocked', align: 'right' },
    { head: 'down', align: 'right' },
  ]
  // Hours outside the shifts are worth a column only where there are any.
  const off = view.steps.some(step => /[1-9]/.test(step.states.nonScheduled.text))
  if (off) columns.push({ head: 'off', align: 'right' })
  columns.push({ head: 'lost', align: 'right' })
  const rows = view.steps.map(step => {
    const { productive, starved, blocked, nonScheduled } = step.states
    const cells = [step.name, step.passed.text, productive.text, starved.text, blocked.text, step.down]
    return [...cells, ...(off ? [nonScheduled.text] : []), step.lost]
  })
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function stops(view: RunView, colours: Colours): string[] {
  if (view.stops.length === 0) return []
  const columns: Column[] = [
    { head: 'biggest stops', align: 'left' },
    { head: 'step', align: 'left' },
    { head: 'per day', align: 'right' },
    { head: 'tool-h/day', align: 'right' },
    { head: 'down min', align: 'right' },
    { head: 'lost/day', align: 'right' },
  ]
  const rows = view.stops
    .slice(0, MOST_STOPS)
    .map(stop => [
      stop.stop,
      stop.step,
      stop.perDay.text,
      stop.hoursPerDay.text,
      stop.meanMinutes.text,
      stop.lostPerDay.text,
    ])
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function people(view: RunView, colours: Colours): string[] {
  if (view.crews.length === 0) return []
  const columns: Column[] = [
    { head: 'people and vehicles', align: 'left' },
    { head: 'busy %', align: 'right' },
    { head: 'calls/day', align: 'right' },
    { head: 'wait min', align: 'right' },
    { head: '95 % within', align: 'right' },
  ]
  const rows = view.crews.map(crew => [
    crew.name,
    crew.utilisation.text,
    crew.callsPerDay.text,
    crew.waitMinutes.text,
    crew.waitMinutesP95.text,
  ])
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function late(view: RunView, colours: Colours): string[] {
  const limits = view.timeLimits.filter(limit => /[1-9]/.test(limit.latePerDay.text))
  if (limits.length === 0) return []
  const columns: Column[] = [
    { head: 'too late at', align: 'left' },
    { head: 'after', align: 'left' },
    { head: 'limit', align: 'right' },
    { head: 'late/day', align: 'right' },
    { head: 'scrapped', align: 'right' },
    { head: 'back', align: 'right' },
  ]
  const rows = limits.map(limit => [
    limit.step,
    limit.after,
    limit.limit,
    limit.latePerDay.text,
    limit.scrappedPerDay.text,
    limit.sentBackPerDay.text,
  ])
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function hidden(view: RunView, colours: Colours): string[] {
  if (view.hiddenDefects.length === 0) return []
  const columns: Column[] = [
    { head: 'rejects of the tests, made at', align: 'left' },
    { head: 'per day', align: 'right' },
  ]
  const rows = view.hiddenDefects.map(({ made, rejectedPerDay }) => [made, rejectedPerDay.text])
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function dummies(view: RunView, colours: Colours): string[] {
  if (view.dummies.length === 0) return []
  const columns: Column[] = [
    { head: 'dummy wafers in short loads of', align: 'left' },
    { head: 'places/day', align: 'right' },
    { head: 'worn out/day', align: 'right' },
  ]
  const rows = view.dummies.map(({ step, places, wornOut }) => [step, places.text, wornOut.text])
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function carriers(view: RunView, colours: Colours): string[] {
  if (view.carriers.length === 0) return []
  const columns: Column[] = [
    { head: 'carriers', align: 'left' },
    { head: 'cleaned/day', align: 'right' },
    { head: 'replaced/day', align: 'right' },
  ]
  const rows = view.carriers.map(({ name, cleaned, replaced }) => [name, cleaned.text, replaced.text])
  return withHead(tableLines(WIDTH, columns, rows), colours)
}

function facts(view: RunView): string[] {
  const columns: Column[] = [
    { head: '', align: 'left' },
    { head: '', align: 'right' },
    { head: '', align: 'left' },
    { head: '', align: 'left' },
  ]
  const rows = view.facts.map(({ label, figure, unit }) => {
    const interval = figure.interval === '' ? '' : `(${figure.interval})`
    return [label, figure.text, unit, interval]
  })
  return tableLines(WIDTH, columns, rows).slice(1)
}

/** A warning and what helps, as lines of at most 80 columns. */
export function warning(text: string, hint: string, colours: Colours): string[] {
  return wrapped(`Warning: ${text} ${hint}`, WIDTH).map(line => colours.yellow(line))
}

function withHead(lines: readonly string[], colours: Colours): string[] {
  const [head = '', ...rest] = lines
  return [colours.dim(head), ...rest]
}
