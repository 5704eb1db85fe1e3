import type { Estimate } from '../../sim/stats/estimate.ts'
import type { BinFigures, PlaceFigures, RunStudy, StayClass } from '../../sim/study/run-study.ts'
import { amount, grouped, significant } from './format.ts'
import type { ColumnsChart, Section, Series } from './page.ts'
import { binRows } from './rows.ts'
import { columnsOf, tableOf } from './table.ts'

/** Places drawn by themselves; the others are summed. */
const MOST_PLACES = 7
/** Points of a course over time: more than this are averaged in groups. */
const MOST_POINTS = 240

/** Charts and tables of the whole line: output and wafers over time, throughput time, bins. */
export function courseSections(study: RunStudy): Section[] {
  return [outputOf(study), wipOf(study), placesOf(study), stayOf(study), binsOf(study)].filter(
    section => section !== undefined,
  )
}

/** The series of the results in equal groups of whole blocks, an hour long at least. */
function grouping(study: RunStudy): { readonly size: number; readonly hours: readonly number[] } {
  const { hours } = study.series
  const block = hours[0] ?? 1
  const runHours = hours[hours.length - 1] ?? 1
  const wanted = Math.max(Math.min(1, runHours / 50), runHours / MOST_POINTS)
  const sizes = [1, 2, 4, 5, 10, 20].filter(size => hours.length % size === 0 || hours.length < 20)
  const size = sizes.find(s => s * block >= wanted * 0.9) ?? sizes[sizes.length - 1] ?? 1
  return { size, hours: hours.filter((_, index) => index % size === size - 1) }
}

function meansOf(values: readonly number[], size: number): number[] {
  const groups = Math.floor(values.length / size)
  return Array.from({ length: groups }, (_, g) => {
    const part = values.slice(g * size, (g + 1) * size)
    return part.reduce((sum, value) => sum + value, 0) / size
  })
}

function lastsOf(values: readonly number[], size: number): number[] {
  return values.filter((_, index) => index % size === size - 1)
}

/** A length of time in the unit that reads best. */
function span(hours: number): string {
  return hours >= 0.999 ? `${significant(hours, 3)} h` : `${significant(hours * 60, 3)} min`
}

function shadedOf(study: RunStudy) {
  const { cutHours } = study.warmUp
  return cutHours > 0 ? { shaded: { to: cutHours, label: 'warm-up, cut' } } : {}
}

function outputOf(study: RunStudy): Section {
  const { size, hours } = grouping(study)
  const values = meansOf(study.series.goodPerHour, size)
  const long = span(hours[0] ?? 1)
  const mean = amount(study.goodOutput.perHour, { digits: 2 })
  const { targetPerHour } = study.goodOutput
  const rows = hours.map((end, index) => ({ end, value: values[index] ?? 0 }))
  const columns = columnsOf<(typeof rows)[number]>()
  return {
    id: 'output',
    title: 'Output by hour',
    lead: `Good cells per hour in each ${long} of the run, mean of ${study.replications} ${study.replications === 1 ? 'replication' : 'replications'}. ${study.warmUp.cutHours > 0 ? `The shaded ${significant(study.warmUp.cutHours, 3)} h are warm-up and count for nothing.` : 'No warm-up was cut.'}`,
    chart: {
      kind: 'course',
      form: 'lines',
      title: 'Good output over the run, warm-up shaded',
      x: { label: 'time from the start of the run', unit: 'h', values: hours },
      y: { label: 'good output', unit: 'cells/h' },
      series: [{ name: 'good output', tone: 'productive', values }],
      ...shadedOf(study),
      levels: [
        { value: study.goodOutput.perHour.mean, label: `mean ${mean.text}` },
        ...(targetPerHour === undefined
          ? []
          : [{ value: targetPerHour, label: `target ${grouped(targetPerHour, 0)}` }]),
      ],
    },
    table: tableOf(
      `Good output in each ${long}, mean over replications`,
      [
        columns.numbers('until', 'h', row => row.end),
        columns.numbers('good output', 'cells/h', row => row.value, 4),
        columns.words('counts', row => (row.end > study.warmUp.cutHours + 1e-9 ? 'measured' : 'warm-up')),
      ],
      rows,
    ),
  }
}

function wipOf(study: RunStudy): Section {
  const { size, hours } = grouping(study)
  const ranked = study.places
    .map((place, index) => ({ name: place.name, wip: place.wip.mean, index }))
    .sort((a, b) => b.wip - a.wip)
  const own = ranked.slice(0, MOST_PLACES).sort((a, b) => a.index - b.index)
  const rest = ranked.slice(MOST_PLACES)
  const course = (index: number) => lastsOf(study.series.placeWip[index] ?? [], size)
  const series: Series[] = own.map(({ name, index }, at) => ({
    name,
    tone: `series${at + 1}`,
    values: course(index),
  }))
  if (rest.length > 0) {
    const courses = rest.map(({ index }) => course(index))
    const values = hours.map((_, at) => courses.reduce((sum, one) => sum + (one[at] ?? 0), 0))
    series.push({ name: `${rest.length} other places`, tone: 'spare', values })
  }
  const rows = hours.map((end, at) => ({ end, at }))
  const mean = amount(study.wip, { digits: 2 })
  const columns = columnsOf<(typeof rows)[number]>()
  return {
    id: 'wip',
    title: 'Work in progress over time',
    lead: `Wafers in the line by the place where they are, stacked, mean over replications. On average ${mean.text} wafers${mean.interval === '' ? '' : ` (${mean.interval})`} after the warm-up.`,
    chart: {
      kind: 'course',
      form: 'areas',
      title: 'Wafers in the line over the run, by place',
      x: { label: 'time from the start of the run', unit: 'h', values: hours },
      y: { label: 'wafers in the line', unit: 'wafers' },
      series,
      ...shadedOf(study),
    },
    table: tableOf(
      'Wafers in the line by place, mean over replications',
      [
        columns.numbers('at', 'h', row => row.end),
        ...series.map(({ name, values }) => columns.numbers(name, 'wafers', row => values[row.at], 4)),
        columns.numbers('in all', 'wafers', ({ at }) =>
          series.reduce((sum, one) => sum + (one.values[at] ?? 0), 0),
        ),
      ],
      rows,
    ),
  }
}

/** A figure that a place does not have. */
const UNSAID: Estimate = { mean: 0, n: 0 }

function placesOf(study: RunStudy): Section {
  const columns = columnsOf<PlaceFigures>()
  return {
    id: 'places',
    title: 'Where wafers wait',
    lead: 'Every place that holds wafers: how many there are on average, and how long one stays (Little’s law).',
    table: tableOf(
      'Wafers and stay by place',
      [
        columns.words('place', place => place.name),
        columns.words('kind', place => place.kind),
        columns.numbers('capacity', 'wafers', place => place.capacity),
        columns.amounts('wafers', 'mean', place => place.wip),
        columns.amounts('stay', 'min', place => place.stayHours, { scale: 60 }),
        ...(study.places.some(({ wear }) => wear)
          ? [
              columns.amounts('cleaned', 'per day', place => place.wear?.cleanedPerDay ?? UNSAID),
              columns.amounts('replaced', 'per day', place => place.wear?.replacedPerDay ?? UNSAID),
            ]
          : []),
      ],
      study.places,
    ),
  }
}

function stayOf(study: RunStudy): Section | undefined {
  const classes = study.throughputClasses
  const [first] = classes
  if (first === undefined) return undefined
  const { mean, median, p95 } = study.throughputHours
  const inMinutes = mean.mean < 1
  const [unit, scale] = inMinutes ? ['min', 60] : ['h', 1]
  const width = (first.to - first.from) * scale
  const edge = (hours: number) => significant(hours * scale, 4)
  const chart: ColumnsChart = {
    kind: 'columns',
    title: 'Throughput time of good cells',
    x: { label: 'time from entering the line to leaving it', unit },
    names: classes.map(({ from, to }) => `${edge(from)} to ${edge(to)}`),
    edges: [first.from * scale, ...classes.map(({ to }) => to * scale)],
    y: { label: 'share of good cells', unit: '%' },
    values: classes.map(({ share }) => share.mean * 100),
    marks: [
      { at: median.mean * scale, label: 'median' },
      { at: p95.mean * scale, label: '95 % within' },
    ],
  }
  const text = (value: typeof mean) => `${amount(value, { digits: 2, scale, most: 2 }).text}\u00a0${unit}`
  const columns = columnsOf<StayClass>()
  return {
    id: 'throughput-time',
    title: 'Throughput time',
    lead: `How long good cells were in the line, in classes of ${significant(width, 3)} ${unit}: on average ${text(mean)}, half of them within ${text(median)}, 95 % within ${text(p95)}.`,
    chart,
    table: tableOf(
      'Throughput time of good cells',
      [
        columns.numbers('from', unit, one => one.from * scale),
        columns.numbers('to', unit, one => one.to * scale),
        columns.shares('share of good cells', one => one.share),
      ],
      classes,
    ),
  }
}

function binsOf(study: RunStudy): Section | undefined {
  if (study.bins.length === 0) return undefined
  const rows = binRows(study)
  const { efficiency } = study.goodOutput
  const mean = efficiency && amount(efficiency, { scale: 100, digits: 2, most: 3 }).text
  const columns = columnsOf<BinFigures>()
  const colours = (study.bins.at(-1)?.colours ?? []).map(({ colour }) => colour)
  return {
    id: 'bins',
    title: 'Bins',
    lead: `Cells by efficiency bin${mean === undefined ? '' : `; mean efficiency of good cells ${mean} %`}. Whiskers are the interval of each share.${boxesSentence(study)}`,
    chart: {
      kind: 'columns',
      title: 'Share of cells in each efficiency bin',
      x: { label: 'efficiency bin, lower edge', unit: '%' },
      names: study.bins.map(({ from }) => (from === undefined ? 'below' : significant(from * 100, 5))),
      y: { label: 'share of cells', unit: '%' },
      values: study.bins.map(({ share }) => share.mean * 100),
      low: study.bins.map(({ share }) => (share.low === undefined ? undefined : share.low * 100)),
      high: study.bins.map(({ share }) => (share.high === undefined ? undefined : share.high * 100)),
    },
    table: tableOf(
      'Bins',
      [
        columns.words('bin', bin => rows[bin.bin]?.bin ?? String(bin.bin)),
        columns.words('efficiency', bin => rows[bin.bin]?.range ?? ''),
        columns.shares('share of cells', bin => bin.share),
        ...colours.map((colour, index) =>
          columns.shares(colour, (bin: BinFigures) => bin.colours?.[index].share ?? { mean: 0, n: 0 }),
        ),
      ],
      study.bins,
    ),
  }
}

function boxesSentence({ boxes }: RunStudy): string {
  if (!boxes) return ''
  const held = amount(boxes.heldHoursPerDay)
  return ` Each sorter has ${boxes.outputs} outputs; ${amount(boxes.swapsPerDay).text} full boxes are swapped a day, and their tools are held for ${held.text} tool-h a day since an output has no other.`
}
