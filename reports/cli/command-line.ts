import yargs from 'yargs'
import { answerCommand } from './answer-command.ts'
import { unknownCommand } from './arguments.ts'
import { checkCommand } from './check-command.ts'
import { compareCommand } from './compare-command.ts'
import { constraintCommand } from './constraint-command.ts'
import { EXIT, explain, wrongUsage } from './failure.ts'
import { lossesCommand } from './losses-command.ts'
import { mergeCommand } from './merge-command.ts'
import { paybackCommand } from './payback-command.ts'
import { runCommand } from './run-command.ts'
import { sizeCommand } from './size-command.ts'
import type { Surroundings } from './surroundings.ts'
import { programVersion } from './version.ts'

const COMMANDS = ['run', 'check', 'constraint', 'losses', 'payback', 'size', 'compare', 'merge']

const EXIT_CODES = `Exit codes:
    0  done
    1  the scenario is wrong or missing, or the run failed
    2  wrong usage of the command line
    3  the audit of the run failed: its figures must not be used
    4  merge: runs are missing
   70  internal error
  130  interrupted by Ctrl-C`

const HELP_WIDTH = 80

/**
 * Runs the program with the given arguments. Results go to standard output, all else
 * to standard error.
 *
 * @returns the exit code; never rejects
 */
export async function commandLine(surroundings: Surroundings): Promise<number> {
  const { stdout, stderr, env } = surroundings
  try {
    await parse(surroundings, text => stdout.write(`${text}\n`))
    return EXIT.done
  } catch (thrown) {
    const { text, exitCode } = explain(thrown, env)
    stderr.write(`${text}\n`)
    return exitCode
  }
}

async function parse(surroundings: Surroundings, say: (text: string) => void): Promise<void> {
  const program = yargs()
    .scriptName('linewright')
    .locale('en')
    .usage('$0 COMMAND FILE [options]\n\nSimulates a solar-cell line wafer by wafer.')
    .command(runCommand(surroundings))
    .command(checkCommand(surroundings))
    .command(answerCommand(surroundings, constraintCommand))
    .command(answerCommand(surroundings, lossesCommand))
    .command(answerCommand(surroundings, paybackCommand))
    .command(answerCommand(surroundings, sizeCommand))
    .command(compareCommand(surroundings))
    .command(mergeCommand(surroundings, again => parse(again, say)))
    .command('$0', false, {}, async given => {
      const [name] = given._
      if (name !== undefined) throw unknownCommand(String(name), COMMANDS)
      throw wrongUsage(await program.getHelp())
    })
    .example('$0 check line.ts', 'problems, and static capacity')
    .example('$0 run line.ts --out results', 'simulate it, write the tables')
    .example('$0 run line.ts --precision 0.5%', 'replicate until it is that sure')
    .epilogue(EXIT_CODES)
    .version(programVersion())
    .help()
    .alias('help', 'h')
    .wrap(HELP_WIDTH)
    .parserConfiguration({
      'camel-case-expansion': false,
      'dot-notation': false,
      'boolean-negation': false,
      'parse-numbers': false,
      'parse-positional-numbers': false,
    })
    .exitProcess(false)
    .showHelpOnFail(false)
    .fail((message, error) => {
      throw error ?? wrongUsage(`${message}\nsee linewright --help`)
    })
  await program.parseAsync([...surroundings.args], {}, (_error: unknown, _given: unknown, output: string) => {
    if (output !== '') say(output)
  })
}
