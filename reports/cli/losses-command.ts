import { problemText } from '../../sim/base/problems.ts'
import type { Line } from '../../sim/line/types.ts'
import type { AnswerCommand, Asked } from './answer-command.ts'
import type { Arguments } from './arguments.ts'
import { wrongUsage } from './failure.ts'
import { type OptionText, wholeNumber, word } from './option-values.ts'

/** Points of a curve unless told otherwise; stops tried one by one. */
const POINTS = 6
const STOPS = 12

/** `linewright losses FILE`: what each loss costs, or the curve of one of them. */
export const lossesCommand: AnswerCommand = {
  name: 'losses',
  describe: 'What each stop, breakage, reject, late wafer and wait costs in good cells and money',
  options: {
    stops: { type: 'string', describe: `Stops tried one by one, the worst first (default ${STOPS})` },
    vary: {
      type: 'string',
      describe:
        'Output over one quantity instead: "stop NAME: lasts", "stop NAME: every", "crew NAME: heads", "STEP: tools", "STEP: speed" or "all steps: speed" (in % of now), "BUFFER: capacity", "CARRIERS: number", "fleet NAME: number", "GROUP: lanes", "cap: wafers"',
    },
    from: { type: 'string', describe: 'Start of that curve, such as "2 min", or a number' },
    to: { type: 'string', describe: 'End of that curve' },
    points: { type: 'string', describe: `Points of that curve (default ${POINTS})` },
  },
  check: checkOptions,
  ask: asked => (asked.given.vary === undefined ? askLosses(asked) : askCurve(asked)),
}

function checkOptions(given: Arguments): void {
  const vary = word('vary', given.vary as OptionText, 'what to vary, such as "stop jam: lasts"')
  for (const end of ['from', 'to', 'points'] as const) {
    if (vary === undefined && given[end] !== undefined)
      throw wrongUsage(`--${end}: is an end of what --vary names`)
    if (vary !== undefined && end !== 'points' && given[end] === undefined)
      throw wrongUsage(`--vary: needs --from and --to, such as --from "2 min" --to "20 min"`)
  }
}

async function askLosses({ surroundings, given, request, chosen, options }: Asked): Promise<void> {
  const most = wholeNumber('stops', given.stops as OptionText, { least: 0, most: 1000 }) ?? STOPS
  const [{ performAnswer }, { lossesStudy }, { lossesView }, { lossesFiles }, { lossesParts }] =
    await Promise.all([
      import('./perform-answer.ts'),
      import('../../sim/study/losses/losses.ts'),
      import('../view/answers/losses-view.ts'),
      import('../csv/answers/answer-files.ts'),
      import('../view/answer-pages/losses-page.ts'),
    ])
  await performAnswer(surroundings, request, {
    ...{ name: 'losses', ...chosen, seed: options.seed },
    study: runner => lossesStudy(chosen.line, options, { runner }, most),
    view: lossesView,
    parts: lossesParts,
    files: lossesFiles,
  })
}

async function askCurve(asked: Asked): Promise<void> {
  const { surroundings, request, chosen, options } = asked
  const [{ performAnswer }, { curveStudy }, { curveView }, { curveFiles }, { curveParts }] =
    await Promise.all([
      import('./perform-answer.ts'),
      import('../../sim/study/losses/curve.ts'),
      import('../view/answers/losses-view.ts'),
      import('../csv/answers/answer-files.ts'),
      import('../view/answer-pages/curve-page.ts'),
    ])
  const { varied, values } = await curveOf(asked.given, chosen.line)
  await performAnswer(surroundings, request, {
    ...{ name: 'losses', ...chosen, seed: options.seed },
    study: runner => curveStudy(chosen.line, varied, values, options, { runner }),
    view: curveView,
    parts: curveParts,
    files: curveFiles,
  })
}

async function curveOf(given: Arguments, line: Line) {
  const [{ readValue, spacedValues }, { variedOf }, { checkLine }] = await Promise.all([
    import('../../sim/study/losses/curve.ts'),
    import('../../sim/study/losses/varied.ts'),
    import('../../sim/line/check.ts'),
  ])
  const what = given.vary as string
  const varied = variedOf(line, what)
  if (typeof varied === 'string') throw wrongUsage(`--vary: found "${what}"; allowed is ${varied}`)
  const written = (option: 'from' | 'to') =>
    word(option, given[option] as OptionText, 'an end of the curve') ?? ''
  const end = (option: 'from' | 'to') => {
    const text = written(option)
    const value = readValue(varied, text)
    const wanted =
      varied.unit === 's'
        ? 'a time such as "2 min"'
        : `a whole number${varied.unit === '% of now' ? ', in % of now' : ` of ${varied.unit}`}`
    if (value === undefined) throw wrongUsage(`--${option}: found "${text}"; allowed is ${wanted}`)
    return value
  }
  const points = wholeNumber('points', given.points as OptionText, { least: 2, most: 100 }) ?? POINTS
  const unit = (option: 'from' | 'to') => written(option).split(' ').at(-1)
  const like = unit('from') === unit('to') && { like: written('from') }
  const values = spacedValues(varied, end('from'), end('to'), points)
  for (const value of values) {
    const [problem] = checkLine(varied.at(value)).problems
    if (problem) throw wrongUsage(`--vary: with ${value} ${varied.unit} ${problemText(problem)}`)
  }
  return { varied: { ...varied, ...like }, values }
}
