import { quantity } from '../../sim/base/quantity.ts'
import type { Line } from '../../sim/line/types.ts'
import { hoursPerYear } from '../../sim/line/year.ts'
import { cellWatts } from '../../sim/money/watts.ts'
import type { AnswerCommand } from './answer-command.ts'
import type { Arguments } from './arguments.ts'
import { failed, wrongUsage } from './failure.ts'
import { type OptionText, share, wholeNumber, word } from './option-values.ts'
import { priced } from './payback-command.ts'

/** Frugal by default: many designs are run, each for a short time. Yet a day of two runs knows the output of a line with rare stops to some per cent only. */
const DAYS = 2
/** Where one day is not like another. */
const WHOLE_WEEKS = 7
const REPLICATIONS = 4
const TOLERANCE = 0.01
const DESIGNS = 60

/** `linewright size FILE`: the cheapest design that reaches a target. */
export const sizeCommand: AnswerCommand = {
  name: 'size',
  describe: 'The cheapest numbers of tools, buffer places and heads that reach a target',
  options: {
    target: {
      type: 'string',
      describe: '"7000 cells/h" or "400 MW/yr" (default: the target of the scenario)',
    },
    tolerance: {
      type: 'string',
      describe: 'Part of the target that need not be told apart (default "1 %")',
    },
    designs: { type: 'string', describe: `Designs that the search may run (default ${DESIGNS})` },
    days: {
      type: 'string',
      describe: `Simulated days per replication (default ${DAYS}; ${WHOLE_WEEKS} where one is not like another), more while the line fills`,
    },
    replications: {
      type: 'string',
      describe: `Replications of each design in the search (default ${REPLICATIONS})`,
    },
  },
  runs: { days: DAYS, replications: REPLICATIONS, wholeWeeks: WHOLE_WEEKS },
  check(given) {
    if (given.target !== undefined) readTarget(given)
    readTolerance(given)
    readDesigns(given)
  },
  async needs(line) {
    const { missingForSizing } = await import('../../sim/study/size/size.ts')
    const missing = missingForSizing(priced(line, 'size'))
    if (missing.length > 0) throw failed(`size cannot go on:\n  ${missing.join('\n  ')}`)
  },
  async ask({ surroundings, given, request, chosen, options }) {
    const line = priced(chosen.line, 'size')
    const [{ performAnswer }, { sizeStudy }, { sizeView }, { sizeFiles }, { sizeParts }] = await Promise.all([
      import('./perform-answer.ts'),
      import('../../sim/study/size/size.ts'),
      import('../view/answers/size-view.ts'),
      import('../csv/answers/answer-files.ts'),
      import('../view/answer-pages/size-page.ts'),
    ])
    const targetPerHour = targetOf(line, given)
    const goal = { targetPerHour, tolerance: readTolerance(given) * targetPerHour, most: readDesigns(given) }
    await performAnswer(surroundings, request, {
      ...{ name: 'size', ...chosen, seed: options.seed },
      study: runner => sizeStudy(line, goal, options, { runner }),
      view: sizeView,
      parts: sizeParts,
      files: sizeFiles,
    })
  },
}

function readTolerance(given: Arguments): number {
  const limits = { least: 0, most: 0.5, example: '0.5 %' }
  return share('tolerance', given.tolerance as OptionText, limits) ?? TOLERANCE
}

function readDesigns(given: Arguments): number {
  return wholeNumber('designs', given.designs as OptionText, { least: 1, most: 100_000 }) ?? DESIGNS
}

interface Target {
  readonly value: number
  readonly unit: 'cells/h' | 'MW/yr'
}

function readTarget(given: Arguments): Target {
  const text = word('target', given.target as OptionText, 'a target such as "7000 cells/h"') ?? ''
  const found = /^(\d+(?:\.\d+)?) ?(cells\/h|wafers\/h|MW\/yr)$/.exec(text)
  if (!found || !(Number(found[1]) > 0))
    throw wrongUsage(`--target: found "${text}"; allowed is "7000 cells/h" or "400 MW/yr"`)
  return { value: Number(found[1]), unit: found[2] === 'MW/yr' ? 'MW/yr' : 'cells/h' }
}

/** Good cells an hour. Megawatts are turned into cells at the mean efficiency of the scenario. */
function targetOf(line: Line, given: Arguments): number {
  if (given.target === undefined) {
    if (line.target !== undefined) return quantity('rate', line.target) * 3600
    throw wrongUsage('size: name a target: --target "7000 cells/h", or give the scenario one')
  }
  const { value, unit } = readTarget(given)
  if (unit === 'cells/h') return value
  if (!line.wafer) throw wrongUsage('--target: a target in MW/yr needs a wafer with area and efficiency')
  const { area, efficiency } = line.wafer
  const watts = cellWatts(quantity('area', area), quantity('share', efficiency.mean))
  return (value * 1e6) / (watts * hoursPerYear(line))
}
