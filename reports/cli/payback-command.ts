import type { Line } from '../../sim/line/types.ts'
import type { PricedLine } from '../../sim/study/payback/payback.ts'
import type { AnswerCommand } from './answer-command.ts'
import { failed } from './failure.ts'

/** `linewright payback FILE`: what each change of a line pays. */
export const paybackCommand: AnswerCommand = {
  name: 'payback',
  describe: 'What one more tool, lane, buffer place, head or a shorter repair pays',
  options: {},
  needs(line) {
    priced(line, 'payback')
  },
  async ask({ surroundings, request, chosen, options }) {
    const line = priced(chosen.line, 'payback')
    const [{ performAnswer }, { paybackStudy }, { paybackView }, { paybackFiles }, { paybackParts }] =
      await Promise.all([
        import('./perform-answer.ts'),
        import('../../sim/study/payback/payback.ts'),
        import('../view/answers/payback-view.ts'),
        import('../csv/answers/answer-files.ts'),
        import('../view/answer-pages/payback-page.ts'),
      ])
    await performAnswer(surroundings, request, {
      ...{ name: 'payback', ...chosen, seed: options.seed },
      study: runner => paybackStudy(line, options, { runner }),
      view: (study, context) => paybackView(study, context, line),
      parts: paybackParts,
      files: paybackFiles,
    })
  },
}

/** A line with money. Throws a `Failure` when the scenario says nothing of it. */
export function priced(line: Line, command: string): PricedLine {
  if (line.money) return line as PricedLine
  throw failed(
    `${command} needs to know what the line earns and costs: give it a block "money" (see scenarios/README.md)`,
  )
}
