import path from 'node:path'
import type { CommandModule, Options } from 'yargs'
import { AS_IT_IS } from '../../sim/line/reserved-names.ts'
import type { Line } from '../../sim/line/types.ts'
import type { Design, DesignOptions } from '../../sim/study/designs/designs.ts'
import { ANSWER_OPTIONS, type AnswerRequest, designOptions, readAnswerRequest } from './answer-request.ts'
import { type Arguments, refuseUnknown } from './arguments.ts'
import { wrongUsage } from './failure.ts'
import type { Surroundings } from './surroundings.ts'

const COMPARE_OPTIONS = {
  variant: {
    type: 'string',
    describe: 'With one file: compare the line with this variant; may be given again (default: all)',
  },
  ...ANSWER_OPTIONS,
} as const satisfies Record<string, Options>

const DESCRIBE = 'Layouts side by side, with what differs and what that brings'

/** `linewright compare A B [C ...]`: scenario files, or the variants of one. */
export function compareCommand(surroundings: Surroundings): CommandModule {
  return {
    command: 'compare',
    describe: DESCRIBE,
    builder: program =>
      program
        .usage(`$0 compare FILE FILE... [options]\n$0 compare FILE [options]\n\n${DESCRIBE}.`)
        .options(COMPARE_OPTIONS),
    handler: given => compare(surroundings, given as Arguments),
  }
}

async function compare(surroundings: Surroundings, given: Arguments): Promise<void> {
  refuseUnknown('compare', COMPARE_OPTIONS, given)
  const files = given._.slice(1).map(String)
  if (files.length === 0)
    throw wrongUsage(
      'compare: name the scenario files: linewright compare FILE FILE\nsee linewright compare --help',
    )
  const request = readAnswerRequest(surroundings, given)
  const variants = ([] as string[]).concat((given.variant as string | string[] | undefined) ?? [])
  if (files.length > 1 && variants.length > 0)
    throw wrongUsage('--variant: compares variants of one file, found several files')
  const twice = variants.find((name, at) => variants.indexOf(name) < at)
  if (twice !== undefined) throw wrongUsage(`--variant: ${JSON.stringify(twice)} is named twice`)
  const [{ performAnswer }, { compareDesigns }, { compareView }, { compareFiles }, { compareParts }] =
    await Promise.all([
      import('./perform-answer.ts'),
      import('../../sim/study/compare/compare.ts'),
      import('../view/answers/compare-view.ts'),
      import('../csv/answers/answer-files.ts'),
      import('../view/answer-pages/compare-page.ts'),
    ])
  const lines = await linesOf(surroundings, files, request)
  const designs = lines.length === 1 ? await withVariants(lines[0], variants) : named(lines, files)
  const options = designOptions(request, lines[0].run)
  await performAnswer(surroundings, request, {
    ...{ name: 'compare', line: designs[0].line, scenario: lines[0], seed: options.seed },
    ...(files.length > 1 && { beside: Object.fromEntries(files.map((file, k) => [file, lines[k]])) }),
    study: runner => compareDesigns(designs, options, { runner }),
    view: compareView,
    parts: compareParts,
    files: compareFiles,
  })
}

async function linesOf(
  surroundings: Surroundings,
  files: readonly string[],
  request: AnswerRequest,
): Promise<Line[]> {
  const { firstWarningsText, lineOf, readScenario, warnedOfRuns } = await import('./scenario.ts')
  const lines: Line[] = []
  for (const file of files) {
    const scenario = await readScenario(file, surroundings)
    const line = lineOf(scenario, file)
    lines.push(line)
    // All are run as the first one says.
    const options = designOptions(request, lines[0].run)
    const warned = warnedOfRuns(scenario, line, options)
    surroundings.stderr.write(firstWarningsText(warned, file, files.length > 1))
    surroundings.stderr.write(unusedRun(designOptions(request, line.run), options, file, files[0]))
  }
  return lines
}

/** What a later file says of its runs, would be followed if it came first, and is not; nothing where it makes no difference. */
function unusedRun(own: DesignOptions, used: DesignOptions, file: string, first: string): string {
  const keys = (['days', 'replications', 'seed'] as const).filter(key => own[key] !== used[key])
  if (keys.length === 0) return ''
  const said = keys.map(key => `${key} ${JSON.stringify(own[key])}`).join(', ')
  return `warning: ${file}: run: ${said}: not used, all are run as ${first} says\n`
}

/** The line as it is, then its variants: those named, or all. */
async function withVariants(line: Line, names: readonly string[]): Promise<Design[]> {
  const { chosenLine } = await import('./scenario.ts')
  const all = names.length > 0 ? names : Object.keys(line.variants ?? {})
  if (all.length === 0) throw wrongUsage('compare: name a second file; this scenario has no variants')
  const { variants: _variants, ...base } = line
  return [{ name: AS_IT_IS, line: base }, ...all.map(name => ({ name, line: chosenLine(line, name).line }))]
}

/** Files by the names of their lines, or by their own where two lines are called the same. */
function named(lines: readonly Line[], files: readonly string[]): Design[] {
  const names = lines.map(({ line }) => line)
  const distinct = new Set(names).size === names.length
  const own = files.map(file => path.basename(file).replace(/\.\w+$/, ''))
  const unique = new Set(own).size === own.length ? own : files
  return lines.map((line, i) => ({ name: distinct ? names[i] : unique[i], line }))
}
