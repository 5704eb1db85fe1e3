import type { Options } from 'yargs'
import { nearest } from '../../sim/base/nearest.ts'
import { wrongUsage } from './failure.ts'

/** What yargs hands to a command. */
export type Arguments = Readonly<Record<string, unknown>> & { readonly _: readonly (string | number)[] }

/** Options that every command has. */
const COMMON = ['help', 'h', 'version']
/** Fields that are no options: the words, the program's name. */
const WORDS = ['_', '$0']

/** The scenario file of a command. Refuses unknown options, with the nearest spelling, and words too many. */
export function scenarioFile(
  command: string,
  options: Readonly<Record<string, Options>>,
  given: Arguments,
): string {
  refuseUnknown(command, options, given)
  const [, file, ...more] = given._.map(String)
  if (file === undefined || file === '') {
    throw wrongUsage(`${command}: name the scenario file: linewright ${command} FILE${seeHelp(command)}`)
  }
  if (more.length > 0) {
    throw wrongUsage(
      `${command}: takes one scenario file, found also "${more.join('" "')}"${seeHelp(command)}`,
    )
  }
  return file
}

/** Refuses options that a command does not have, with the nearest spelling. */
export function refuseUnknown(
  command: string,
  options: Readonly<Record<string, Options>>,
  given: Arguments,
): void {
  const known = [...Object.keys(options), ...COMMON]
  for (const name of Object.keys(given)) {
    if (WORDS.includes(name) || known.includes(name)) continue
    throw wrongUsage(
      `${command}: unknown option ${dashed(name)}${suggestion(name, known)}${seeHelp(command)}`,
    )
  }
}

/** The answer to a command that does not exist. */
export function unknownCommand(name: string, commands: readonly string[]) {
  const near = nearest(name, commands)
  const hint = near === undefined ? `; commands are ${commands.join(', ')}` : `; did you mean ${near}?`
  return wrongUsage(`unknown command "${name}"${hint}\nsee linewright --help`)
}

function suggestion(name: string, known: readonly string[]): string {
  if (/^\d/.test(name)) return '; a value that begins with - is written with an equals sign, as in --from=-2'
  const near = nearest(name, known)
  return near === undefined ? '' : `; did you mean ${dashed(near)}?`
}

function dashed(name: string): string {
  return name.length === 1 ? `-${name}` : `--${name}`
}

function seeHelp(command: string): string {
  return `\nsee linewright ${command} --help`
}
