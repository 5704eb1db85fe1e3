import type { CommandModule } from 'yargs'
import { type Arguments, scenarioFile } from './arguments.ts'
import { RUN_OPTIONS, readRunRequest, runOptions } from './run-request.ts'
import type { Surroundings } from './surroundings.ts'
import { programVersion } from './version.ts'

/** `linewright run FILE`: simulates a line and says what it makes. */
export function runCommand(surroundings: Surroundings): CommandModule {
  return {
    command: 'run',
    describe: 'Simulate a line and say what it makes',
    builder: program =>
      program.usage('$0 run FILE [options]\n\nSimulates a line and says what it makes.').options(RUN_OPTIONS),
    handler: given => run(surroundings, given as Arguments),
  }
}

async function run(surroundings: Surroundings, given: Arguments): Promise<void> {
  const file = scenarioFile('run', RUN_OPTIONS, given)
  const request = readRunRequest(surroundings, given)
  // Loaded only now: help and wrong usage need neither the bundler nor the simulator.
  const [{ chosenLine, firstWarningsText, lineOf, readScenario, warnedOfRuns }, { performRun }] =
    await Promise.all([import('./scenario.ts'), import('./perform-run.ts')])
  const scenario = await readScenario(file, surroundings)
  const chosen = chosenLine(lineOf(scenario, file), request.variant)
  const options = runOptions(request, chosen.line.run, programVersion())
  surroundings.stderr.write(firstWarningsText(warnedOfRuns(scenario, chosen.line, options), file))
  await performRun(surroundings, chosen, request, options)
}
