import type { CommandModule, Options } from 'yargs'
import type { Line, RunDefaults } from '../../sim/line/types.ts'
import type { DesignOptions } from '../../sim/study/designs/designs.ts'
import {
  ANSWER_OPTIONS,
  type AnswerRequest,
  designOptions,
  readAnswerRequest,
  VARIANT_OPTION,
} from './answer-request.ts'
import { type Arguments, scenarioFile } from './arguments.ts'
import { type OptionText, word } from './option-values.ts'
import type { ChosenLine } from './scenario.ts'
import type { Surroundings } from './surroundings.ts'

/** What a command about one line is given. */
export interface Asked {
  readonly surroundings: Surroundings
  readonly given: Arguments
  readonly request: AnswerRequest
  readonly chosen: ChosenLine
  readonly options: DesignOptions
}

/** A command that asks one question about one line. */
export interface AnswerCommand {
  readonly name: string
  readonly describe: string
  /** Options besides those that all studies have. */
  readonly options: Readonly<Record<string, Options>>
  /** Length and number of its runs, where they are not those of the scenario; the days where one is not like another. */
  readonly runs?: Required<Pick<RunDefaults, 'days' | 'replications'>> & { readonly wholeWeeks: number }
  /** Checks the options of its own before the scenario is read. */
  readonly check?: (given: Arguments) => void
  /** Throws a `Failure` when the line lacks what the question asks for: then there is nothing to warn of. */
  readonly needs?: (line: Line) => void | Promise<void>
  readonly ask: (asked: Asked) => Promise<void>
}

/** `linewright NAME FILE [options]`. */
export function answerCommand(surroundings: Surroundings, command: AnswerCommand): CommandModule {
  const { name, describe } = command
  const options = { ...VARIANT_OPTION, ...ANSWER_OPTIONS, ...command.options }
  return {
    command: name,
    describe,
    builder: program => program.usage(`$0 ${name} FILE [options]\n\n${describe}.`).options(options),
    handler: given => ask(surroundings, command, options, given as Arguments),
  }
}

async function ask(
  surroundings: Surroundings,
  { name, check, needs, ask, runs }: AnswerCommand,
  options: Readonly<Record<string, Options>>,
  given: Arguments,
): Promise<void> {
  const file = scenarioFile(name, options, given)
  const request = readAnswerRequest(surroundings, given)
  const variant = word('variant', given.variant as OptionText, 'the name of a variant of the scenario')
  check?.(given)
  // Loaded only now: help and wrong usage need neither the bundler nor the simulator.
  const { chosenLine, firstWarningsText, lineOf, readScenario, warnedOfRuns } = await import('./scenario.ts')
  const scenario = await readScenario(file, surroundings)
  const chosen = chosenLine(lineOf(scenario, file), variant)
  await needs?.(chosen.line)
  const designed = designOptions(request, {
    ...chosen.line.run,
    ...(runs && (await runsOf(chosen.line, runs))),
  })
  surroundings.stderr.write(firstWarningsText(warnedOfRuns(scenario, chosen.line, designed), file))
  await ask({ surroundings, given, request, chosen, options: designed })
}

async function runsOf(
  line: Line,
  { days, replications, wholeWeeks }: NonNullable<AnswerCommand['runs']>,
): Promise<Pick<RunDefaults, 'days' | 'replications'>> {
  const [{ patternOf }, { outlineOf }] = await Promise.all([
    import('../../sim/line/pattern.ts'),
    import('../../sim/line/outline.ts'),
  ])
  const byWeek = patternOf(line, outlineOf(line.route))?.repeats === 'week'
  return { days: byWeek ? wholeWeeks : days, replications }
}
