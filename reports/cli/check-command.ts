import type { CommandModule, Options } from 'yargs'
import { type Arguments, scenarioFile } from './arguments.ts'
import { coloursFor } from './colour.ts'
import { documentText } from './document.ts'
import { Failure, failed } from './failure.ts'
import { type OptionText, word } from './option-values.ts'
import type { Scenario } from './scenario.ts'
import type { Surroundings } from './surroundings.ts'

const CHECK_OPTIONS = {
  variant: { type: 'string', describe: 'Show the capacity of this variant of the line' },
  json: { type: 'boolean', describe: 'Print one JSON document: problems, warnings, capacity' },
} as const satisfies Record<string, Options>

/** `linewright check FILE`: says what is wrong with a scenario and what it can make on paper. */
export function checkCommand(surroundings: Surroundings): CommandModule {
  return {
    command: 'check',
    describe: 'Find what is wrong with a scenario; show its static capacity',
    builder: program =>
      program
        .usage('$0 check FILE [options]\n\nFinds what is wrong with a scenario; shows its static capacity.')
        .options(CHECK_OPTIONS),
    handler: given => check(surroundings, given as Arguments),
  }
}

async function check(surroundings: Surroundings, given: Arguments): Promise<void> {
  const file = scenarioFile('check', CHECK_OPTIONS, given)
  const variant = word('variant', given.variant as OptionText, 'the name of a variant of the scenario')
  if (given.json === true) await checkForMachines(surroundings, file, variant)
  else await checkForPeople(surroundings, file, variant)
}

async function checkForPeople(
  { stdout, stderr, env }: Surroundings,
  file: string,
  variant: string | undefined,
): Promise<void> {
  const [
    { chosenLine, lineOf, readScenario, warningsText },
    { capacityTable, goodOfFeed },
    { capacityText },
  ] = await Promise.all([
    import('./scenario.ts'),
    import('../../sim/line/capacity.ts'),
    import('./capacity-text.ts'),
  ])
  const scenario = await readScenario(file)
  const { line, changes = [] } = chosenLine(lineOf(scenario, file), variant)
  stderr.write(warningsText(scenario))
  const title = variant === undefined ? line.line : `${line.line}, variant "${variant}"`
  const titles = changes.length === 0 ? [title] : [title, `Changed: ${changes.join('; ')}.`]
  stdout.write(capacityText(titles, capacityTable(line), goodOfFeed(line), coloursFor(stdout, env)))
}

async function checkForMachines(
  { stdout, stderr }: Surroundings,
  file: string,
  variant: string | undefined,
): Promise<void> {
  const [{ chosenLine, fingerprint, readScenario }, { capacityTable, goodOfFeed }] = await Promise.all([
    import('./scenario.ts'),
    import('../../sim/line/capacity.ts'),
  ])
  const scenario = await readScenario(file).catch(unloadable(file))
  const chosen = scenario.line === undefined ? undefined : chosenLine(scenario.line, variant)
  for (const note of scenario.notes) stderr.write(`warning: ${note}\n`)
  const sound = chosen && { line: chosen.line.line, fingerprint: fingerprint(chosen.line) }
  const { problems, warnings } = scenario
  const capacity = chosen === undefined ? [] : capacityTable(chosen.line)
  const feedGoodPerHour = chosen && goodOfFeed(chosen.line)
  const fed = feedGoodPerHour === undefined ? {} : { feedGoodPerHour }
  stdout.write(documentText({ file, ...sound, problems, warnings, capacity, ...fed }))
  if (problems.length > 0) throw failed(`${file}: see the problems in the document`)
}

/** A file that cannot even be loaded is a scenario with one problem. */
function unloadable(file: string): (error: unknown) => Scenario {
  return error => {
    if (!(error instanceof Failure)) throw error
    const problem = { path: file, found: error.message, expected: 'a file that can be loaded' }
    return { problems: [problem], warnings: [], notes: [] }
  }
}
