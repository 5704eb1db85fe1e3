import type { Line } from '../../sim/line/types.ts'
import type { ReadJournal } from '../jobs/journal.ts'

/** A stream to write to; the fields that a terminal has are missing on a pipe. */
export interface Output {
  write(text: string): unknown
  readonly isTTY?: boolean | undefined
}

/** Where a repeated command finds what it needs. */
export interface Merging {
  readonly scenario: Line
  /** Further scenario files of the command, by their names in it. */
  readonly beside?: Readonly<Record<string, Line>> | undefined
  readonly journals: readonly ReadJournal[]
}

/** The world around a command, so that commands can be tested whole. */
export interface Surroundings {
  readonly stdout: Output
  readonly stderr: NodeJS.WritableStream & Output
  readonly env: Readonly<Record<string, string | undefined>>
  /** Arguments as typed, without the program's name. */
  readonly args: readonly string[]
  /** Opens a file with the program that the system has for it. */
  open(file: string): void
  /** Runs that this machine simulates well at the same time. */
  readonly cores: number
  /** Set while `merge` repeats a command: its scenario and its runs come from journals. */
  readonly merging?: Merging | undefined
  /** A clock [s]. */
  seconds(): number
  /** From now on Ctrl-C makes the next `breathe` reject; call the result when it is too late to stop. */
  heedInterrupts(): () => void
  /** Lets signals be heard. Rejects after Ctrl-C. */
  breathe(): Promise<void>
}
