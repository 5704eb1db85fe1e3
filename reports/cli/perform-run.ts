import path from 'node:path'
import type { Line } from '../../sim/line/types.ts'
import type { Runner } from '../../sim/study/jobs.ts'
import type { RunOptions } from '../../sim/study/options.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { runFiles, type TextFile } from '../csv/run-files.ts'
import { auditBlock, summary } from '../terminal/summary.ts'
import { type RunView, runView } from '../view/run-view.ts'
import { coloursFor } from './colour.ts'
import { type DocumentContext, keptDocument, runDocument } from './document.ts'
import { EXIT, Failure } from './failure.ts'
import type { OutFolder } from './out-folder.ts'
import { performStudy } from './perform-study.ts'
import { replacedText } from './replaced.ts'
import { type MakePage, PAGE_NAME, runPageFile } from './run-page-file.ts'
import type { RunRequest } from './run-request.ts'
import { type ChosenLine, fingerprint } from './scenario.ts'
import type { Surroundings } from './surroundings.ts'

/** Runs a study of a line: `runStudy` of the simulator, or a stand-in in a test. */
export type Simulate = (line: Line, options: RunOptions, runner: Runner) => Promise<RunStudy>

/** The study of `run`, its replications asked of a runner. */
export const simulateRun: Simulate = (line, options, runner) => runStudy(line, options, {}, runner)

/**
 * Simulates a line and reports. Throws a `Failure` when Ctrl-C was pressed, when the
 * folder cannot be written, or when the audit failed; no result is written then.
 */
export async function performRun(
  surroundings: Surroundings,
  chosen: ChosenLine,
  request: RunRequest,
  options: RunOptions,
  simulate: Simulate = simulateRun,
  makePage: MakePage = runPageFile,
): Promise<void> {
  const { work } = request
  const { line, scenario, ...names } = chosen
  const { result, command, seconds, folder, discard } = await performStudy(
    surroundings,
    { work, scenario, seed: options.seed },
    runner => simulate(line, options, runner),
  )
  const context: DocumentContext = {
    ...names,
    fingerprint: fingerprint(line),
    command,
    ...(seconds !== undefined && { seconds }),
    ...(work.out !== undefined && { files: { page: path.join(work.out, PAGE_NAME) } }),
  }
  const view = runView(result, context)
  const document = runDocument(result, context)
  if (!result.audit.passed) {
    discard()
    if (request.output === 'document') surroundings.stdout.write(document)
    throw auditFailure(surroundings, view)
  }
  if (folder !== undefined) {
    const page = await makePage(chosen, options, result, context)
    const json = { name: 'run.json', text: keptDocument(result, context) }
    const files = [...runFiles(result), json, page]
    surroundings.stderr.write(replacedText(work.out ?? '', 'run', files))
    writeFiles(surroundings, files, folder)
    if (request.open === 'opened') surroundings.open(path.join(work.out ?? '', page.name))
  }
  print(surroundings, request, view, document)
}

function auditFailure({ stderr, env }: Surroundings, view: RunView): Failure {
  const block = auditBlock(view, coloursFor(stderr, env))
  return new Failure(
    EXIT.auditFailed,
    `${block}This is a fault of linewright: please report it with the scenario.`,
  )
}

function writeFiles({ stderr }: Surroundings, files: readonly TextFile[], folder: OutFolder): void {
  const written = folder.write(files)
  for (const file of written) stderr.write(`wrote ${file}\n`)
}

function print(surroundings: Surroundings, request: RunRequest, view: RunView, document: string): void {
  const { stdout, stderr, env } = surroundings
  const forPeople = request.output === 'document' ? stderr : stdout
  if (request.audit === 'shown') forPeople.write(`${auditBlock(view, coloursFor(forPeople, env))}\n`)
  stdout.write(request.output === 'document' ? document : summary(view, coloursFor(stdout, env)))
}
