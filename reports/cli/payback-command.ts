import type { Line } from '../../sim/line/types.ts'
import type { PricedLine } from '../../sim/study/payback/payback.ts'
import { wrapped } from '../view/width.ts'
import type { AnswerCommand } from './answer-command.ts'
import type { Arguments } from './arguments.ts'
import { failed, wrongUsage } from './failure.ts'
import { type OptionText, words } from './option-values.ts'

/** `linewright payback FILE`: what each change of a line pays. */
export const paybackCommand: AnswerCommand = {
  name: 'payback',
  describe: 'What one more tool, lane, buffer place, head or a shorter repair pays',
  options: {
    only: {
      type: 'string',
      describe:
        'Try only changes of this name or with this in their name, such as "print: tools", "stop jam: lasts"; may be given again',
    },
  },
  check: readOnly,
  needs(line) {
    priced(line, 'payback')
  },
  async ask({ surroundings, given, request, chosen, options }) {
    const line = priced(chosen.line, 'payback')
    const only = readOnly(given)
    await refuseUnnamed(line, only)
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
      study: runner => paybackStudy(line, options, { runner }, only),
      view: (study, context) => paybackView(study, context, line),
      parts: paybackParts,
      files: paybackFiles,
    })
  },
}

function readOnly(given: Arguments): readonly string[] {
  return words('only', given.only as OptionText, 'what to try, such as "print: tools"')
}

/** Columns of a terminal that everybody has, less those by which a list is set in. */
const LIST_WIDTH = 78

async function refuseUnnamed(line: PricedLine, only: readonly string[]): Promise<void> {
  const { unnamedOf } = await import('../../sim/study/payback/only.ts')
  const unnamed = unnamedOf(line, line.money, only)
  if (unnamed === undefined) return
  const { text, near, known } = unnamed
  const hint = near === undefined ? '' : `; did you mean "${near}"?`
  const list = known.flatMap(unbrokenList)
  throw wrongUsage(
    [`--only: found "${text}"${hint}`, 'what can be tried, by such a name or a part of it:']
      .concat(list.map(names => `  ${names}`))
      .join('\n'),
  )
}

/** Names in quotes, as lines; none is broken in two, so that it can be copied. */
function unbrokenList(names: readonly string[]): string[] {
  const unbroken = names.map(name => `"${name.replaceAll(' ', '\u00a0')}"`)
  return wrapped(unbroken.join(', '), LIST_WIDTH).map(line => line.replaceAll('\u00a0', ' '))
}

/** A line with money. Throws a `Failure` when the scenario says nothing of it. */
export function priced(line: Line, command: string): PricedLine {
  if (line.money) return line as PricedLine
  throw failed(
    `${command} needs to know what the line earns and costs: give it a block "money" (see scenarios/README.md)`,
  )
}
