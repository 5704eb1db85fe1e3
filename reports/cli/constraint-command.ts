import type { AnswerCommand } from './answer-command.ts'

/** `linewright constraint FILE`: which step holds the line. */
export const constraintCommand: AnswerCommand = {
  name: 'constraint',
  describe: 'Which step holds the line, and what it would bring to make it faster',
  options: {},
  async ask({ surroundings, request, chosen, options }) {
    const [
      { performAnswer },
      { constraintStudy },
      { constraintView },
      { constraintFiles },
      { constraintParts },
    ] = await Promise.all([
      import('./perform-answer.ts'),
      import('../../sim/study/constraint/constraint.ts'),
      import('../view/answers/constraint-view.ts'),
      import('../csv/answers/answer-files.ts'),
      import('../view/answer-pages/constraint-page.ts'),
    ])
    await performAnswer(surroundings, request, {
      ...{ name: 'constraint', ...chosen, seed: options.seed },
      study: runner => constraintStudy(chosen.line, options, { runner }),
      view: constraintView,
      parts: constraintParts,
      files: constraintFiles,
    })
  },
}
