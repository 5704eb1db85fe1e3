import type { Runner } from '../../sim/study/jobs.ts'
import { commandText } from './document.ts'
import { type OutFolder, openOutFolder } from './out-folder.ts'
import { StudyDesk, type StudyRequest } from './study-desk.ts'
import type { Surroundings } from './surroundings.ts'
import { figureWords } from './work-options.ts'

/** A study that is done, with what its command needs to report it. */
export interface Performed<Result> {
  readonly result: Result
  /** The command that makes these figures, to be typed again; how and where it worked left out. */
  readonly command: string
  /** Wall time [s]; undefined when finished runs were there already, for then it tells nothing. */
  readonly seconds: number | undefined
  /** Where results go; undefined without --out. */
  readonly folder: OutFolder | undefined
  /** Nothing shall be left, not even the finished runs: the figures must not be used. */
  discard(): void
}

/**
 * Carries out a study that asks a runner for its runs: on all cores, with a bar, kept in a
 * journal when there is a folder, a share of it, or joined from journals by `merge`. What
 * a command adds is to read its options before, and to print and write the result after.
 *
 * Throws a `Failure`: Ctrl-C, a folder that cannot be written, a journal of another study,
 * and also (exit code 0) the end of a share.
 */
export async function performStudy<Result>(
  surroundings: Surroundings,
  request: StudyRequest,
  study: (runner: Runner) => Promise<Result>,
): Promise<Performed<Result>> {
  const { work } = request
  const folder = work.out === undefined ? undefined : openOutFolder(work.out)
  const words = figureWords(surroundings.args)
  const desk = new StudyDesk(surroundings, request)
  const started = surroundings.seconds()
  const tooLateToStop = surroundings.heedInterrupts()
  try {
    const result = await study(await desk.runner(words))
    await surroundings.breathe()
    desk.refuseResultOfShare()
    return {
      result,
      command: commandText(words),
      seconds: desk.reused() ? undefined : surroundings.seconds() - started,
      folder,
      discard: () => {
        desk.discard()
        folder?.abandon()
      },
    }
  } catch (error) {
    // Another share may be about to use the folder.
    if (work.shard === undefined) folder?.abandon()
    throw desk.inWords(error)
  } finally {
    tooLateToStop()
    await desk.close()
  }
}
