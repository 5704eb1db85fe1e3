import { rmSync } from 'node:fs'
import path from 'node:path'
import type { Line } from '../../sim/line/types.ts'
import type { Job, Runner } from '../../sim/study/jobs.ts'
import { type Carrier, carrierHere, type Watch } from '../jobs/carrier.ts'
import { type Journal, journalName, openJournal, othersOf, removeJournals } from '../jobs/journal.ts'
import { type RoundCount, studyRunner } from '../jobs/runner.ts'
import { ShareDone } from '../jobs/trouble.ts'
import { shortened } from '../view/width.ts'
import { EXIT, Failure } from './failure.ts'
import { type Progress, progressOn, timeLeft } from './progress.ts'
import type { Surroundings } from './surroundings.ts'
import { programVersion } from './version.ts'
import type { WorkRequest } from './work-options.ts'

/** Columns for what is simulated, beside the bar in 80 columns. */
const LABEL_WIDTH = 15

/** What is studied, and how the work is to be done. */
export interface StudyRequest {
  readonly work: WorkRequest
  /** The line of the scenario file, all its variants inside. */
  readonly scenario: Line
  /** The lines of further scenario files, by their names on the command line. */
  readonly beside?: Readonly<Record<string, Line>>
  readonly seed: string
}

/** What a study works with: workers, journal, bar; and what the user is told of them. */
export class StudyDesk {
  private readonly surroundings: Surroundings
  private readonly request: StudyRequest
  private journal: Journal | undefined
  private carrier: Carrier | undefined
  private bar: Progress | undefined
  /** The round at work. */
  private round: RoundCount | undefined
  /** Runs that were there when the study began. */
  private before = 0
  /** Runs simulated here in the rounds before this one, and when the first one began [s]. */
  private simulated = 0
  private started: number | undefined

  constructor(surroundings: Surroundings, request: StudyRequest) {
    this.surroundings = surroundings
    this.request = request
  }

  /**
   * The runner for the study. Throws a `Trouble` when the journal in the folder is of something else.
   *
   * @param command the words that make the figures
   */
  async runner(command: readonly string[]): Promise<Runner> {
    const { merging } = this.surroundings
    const round = (count: RoundCount) => this.begin(count)
    if (merging !== undefined) return studyRunner({ others: merging.journals, round })
    const { work, scenario, beside, seed } = this.request
    const shard = work.shard?.shard
    if (work.out !== undefined) {
      if (work.kept === 'thrown away') throwAway(work)
      const study = { line: scenario, beside, seed, version: programVersion(), command }
      this.journal = openJournal(work.out, study, shard)
      if (this.journal.damaged > 0) this.note(damageText(this.journal))
    }
    this.carrier = await this.hands(work.workers)
    return studyRunner({
      carrier: this.carrier,
      ...(this.journal && { journal: this.journal, others: othersOf(this.journal) }),
      ...(shard && { shard }),
      round,
    })
  }

  /** True when runs were there already. */
  reused(): boolean {
    return this.before > 0
  }

  discard(): void {
    this.journal?.remove()
  }

  async close(): Promise<void> {
    this.clearBar()
    this.journal?.close()
    await this.carrier?.end()
  }

  /** A share reports nothing, though it may be the last one and could. */
  refuseResultOfShare(): void {
    const { shard, out } = this.request.work
    if (shard === undefined || this.surroundings.merging !== undefined) return
    throw new Failure(EXIT.done, `all shares are there: linewright merge ${out}`)
  }

  /** What ends a study, as it is told to the user. */
  inWords(error: unknown): unknown {
    if (error instanceof ShareDone) return new Failure(EXIT.done, this.shareText(error))
    const kept = this.journal?.size() ?? 0
    if (!(error instanceof Failure) || error.exitCode !== EXIT.interrupted || kept === 0) return error
    const text = `interrupted; ${runs(kept)} kept in ${this.journal?.file}, the same command goes on from there`
    return new Failure(EXIT.interrupted, text)
  }

  private shareText({ known, there, made }: ShareDone): string {
    const { shard, out } = this.request.work
    const share = `share ${shard?.shard.index}/${shard?.shard.count}`
    if (made === 0)
      return (
        `${share} must wait: ${known - there} of ${runs(known)} known so far are of other shares and not in ${out}. ` +
        'Give this command again when they are there; shares of such a study need one --out folder together.'
      )
    return (
      `${share} is done: ${there} of ${runs(known)} known so far are in ${out}. When those of all shares are: ` +
      `linewright merge ${out}, which joins them, or names the shares to give again if the study needs further runs.`
    )
  }

  private async hands(workers: number): Promise<Carrier> {
    const watch: Watch = {
      breathe: () => this.surroundings.breathe(),
      progress: (done, job) => this.show(done, job),
      note: text => this.note(text),
    }
    if (workers === 1) return carrierHere(watch)
    const { carrierWorkers } = await import('../jobs/workers.ts')
    return carrierWorkers(workers, watch)
  }

  private begin(count: RoundCount): void {
    if (this.round === undefined) this.open(count)
    this.simulated += this.round?.toDo ?? 0
    this.round = count
  }

  /** What is said before the first round. */
  private open({ known, there, toDo, ahead }: RoundCount): void {
    this.before = there
    // A study in rounds knows only those of the first one yet.
    const round = ahead === 0 ? '' : ' of the first round'
    const { shard } = this.request.work
    const { journal } = this
    if (shard !== undefined && this.surroundings.merging === undefined) {
      const { index, count } = shard.shard
      this.note(
        `share ${index}/${count} (${shard.from}): ${toDo} of ${runs(known)}${round} to simulate, ${there} there`,
      )
    } else if (journal !== undefined && there === known) {
      this.note(`${journal.file}: all ${runs(known)}${round} are there already; --fresh simulates them anew`)
    } else if (journal !== undefined && there > 0) {
      this.note(`${journal.file}: ${there} of ${runs(known)}${round} are there already`)
    }
  }

  private show(done: number, { label }: Job): void {
    const { there, toDo, ahead } = this.round as RoundCount
    const now = this.surroundings.seconds()
    this.started ??= now
    this.bar ??= progressOn(this.surroundings)
    const what = shortened(label, LABEL_WIDTH)
    if (ahead === 'unknown') {
      // How many runs are still to come shows only as they are done.
      this.bar.update(done / toDo, `this round, ${runs(Math.floor(there + done))} so far, ${what}`, '')
      return
    }
    // The other shares have theirs done elsewhere.
    const later = this.request.work.shard === undefined ? ahead : 0
    const total = there + toDo + later
    const here = this.simulated + done
    const left = timeLeft(now - this.started, here / (here + toDo - done + later))
    this.bar.update((there + done) / total, `${Math.floor(there + done)} of ${runs(total)}, ${what}`, left)
  }

  private note(text: string): void {
    this.clearBar()
    this.surroundings.stderr.write(`${text}\n`)
  }

  private clearBar(): void {
    this.bar?.end()
    this.bar = undefined
  }
}

function throwAway({ out = '', shard }: WorkRequest): void {
  // Other shares may be at work in the same folder.
  if (shard === undefined) removeJournals(out)
  else rmSync(path.join(out, journalName(shard.shard)), { force: true })
}

function damageText({ file, damaged }: Journal): string {
  const lines = damaged === 1 ? '1 line is' : `${damaged} lines are`
  return `warning: ${file}: ${lines} damaged; what they kept is simulated again`
}

function runs(count: number): string {
  return count === 1 ? '1 run' : `${count} runs`
}
