import { Trouble } from '../jobs/trouble.ts'

/** How the program ends; the numbers are part of its interface. */
export const EXIT = {
  done: 0,
  failed: 1,
  usage: 2,
  auditFailed: 3,
  incomplete: 4,
  internal: 70,
  interrupted: 130,
} as const

/** An end that is not a fault of the program: told to the user in words, without a stack. */
export class Failure extends Error {
  readonly exitCode: number

  /** `message` may have several lines; it is all the user gets to see. */
  constructor(exitCode: number, message: string) {
    super(message)
    this.name = 'Failure'
    this.exitCode = exitCode
  }
}

/** The scenario is wrong or missing, or the run failed. */
export function failed(message: string): Failure {
  return new Failure(EXIT.failed, message)
}

/** The command line is wrong. */
export function wrongUsage(message: string): Failure {
  return new Failure(EXIT.usage, message)
}

/** Ctrl-C. */
export function interrupted(): Failure {
  return new Failure(EXIT.interrupted, 'interrupted; nothing was kept')
}

/** What to print for anything thrown, and the exit code that goes with it. */
export function explain(
  thrown: unknown,
  env: Readonly<Record<string, string | undefined>>,
): { text: string; exitCode: number } {
  if (thrown instanceof Failure) return { text: thrown.message, exitCode: thrown.exitCode }
  if (thrown instanceof Trouble) return { text: thrown.message, exitCode: EXIT.failed }
  const error = thrown instanceof Error ? thrown : new Error(String(thrown))
  const first = error.message.split('\n')[0] || error.name
  const text =
    `internal error: ${first} (a fault of linewright, not of the scenario: please report it with the scenario ` +
    'and the command; LINEWRIGHT_DEBUG=1 shows where it happened)'
  return { text: env.LINEWRIGHT_DEBUG === '1' ? `${text}\n${error.stack}` : text, exitCode: EXIT.internal }
}
