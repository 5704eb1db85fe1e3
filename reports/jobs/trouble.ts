import type { Job } from '../../sim/study/jobs.ts'

/** An end of the work that is no fault of the program: `message` tells it to the user, lines and all. */
export class Trouble extends Error {
  constructor(message: string) {
    super(message)
    this.name = 'Trouble'
  }
}

/** The runs of this share are done as far as they are known, those of other shares are not there yet. */
export class ShareDone extends Error {
  /** Runs of the study known so far, those of them that are there, and those of these that were made just now. */
  readonly known: number
  readonly there: number
  readonly made: number

  constructor(known: number, there: number, made: number) {
    super('the runs of other shares are not there yet')
    this.name = 'ShareDone'
    this.known = known
    this.there = there
    this.made = made
  }
}

/** Runs of a study that can only be read are missing. */
export class RunsMissing extends Error {
  /** Numbers of the missing runs within the study, from 0, in ascending order. */
  readonly missing: readonly number[]
  readonly known: number

  constructor(missing: readonly number[], known: number) {
    super('runs are missing')
    this.name = 'RunsMissing'
    this.missing = missing
    this.known = known
  }
}

/** A run in words: what is simulated, which replication. */
export function jobText({ label, replication, seed }: Job): string {
  return `"${label}", replication ${replication + 1}, seed "${seed}"`
}

/** Why a file could not be written, in words. */
export function diskReason(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException
  if (code === 'EACCES' || code === 'EPERM') return 'not allowed'
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'a file is in the way'
  if (code === 'ENOSPC') return 'no space left'
  if (code === 'EDQUOT') return 'the quota is used up'
  if (code === 'EISDIR') return 'a folder is in the way'
  if (code === 'ENOENT') return 'there is no such folder, and none can be made there'
  if (code === 'EROFS') return 'the disk is read-only'
  return message
}
