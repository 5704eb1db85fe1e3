import type { Line } from '../../sim/line/types.ts'
import type { RunOptions, StudyHooks } from '../../sim/study/options.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { runFiles } from '../csv/run-files.ts'
import { auditBlock, summary } from '../terminal/summary.ts'
import { type RunView, runView } from '../view/run-view.ts'
import { coloursFor } from './colour.ts'
import { commandText, type DocumentContext, runDocument } from './document.ts'
import { EXIT, Failure } from './failure.ts'
import { type OutFolder, openOutFolder } from './out-folder.ts'
import { progressOn } from './progress.ts'
import type { RunRequest } from './run-request.ts'
import { type ChosenLine, fingerprint } from './scenario.ts'
import type { Surroundings } from './surroundings.ts'

/** Runs a study of a line: `runStudy` of the simulator, or a stand-in in a test. */
export type Simulate = (line: Line, options: RunOptions, hooks: StudyHooks) => Promise<RunStudy>

/**
 * Simulates a line and reports. Throws a `Failure` when Ctrl-C was pressed, when the
 * folder cannot be written, or when the audit failed; nothing is written then.
 */
export async function performRun(
  surroundings: Surroundings,
  chosen: ChosenLine,
  request: RunRequest,
  options: RunOptions,
  simulate: Simulate,
): Promise<void> {
  const folder = request.out === undefined ? undefined : openOutFolder(request.out)
  const started = surroundings.seconds()
  const study = await simulated(surroundings, chosen.line, options, simulate, folder)
  const { line, ...names } = chosen
  const context: DocumentContext = {
    ...names,
    fingerprint: fingerprint(line),
    command: commandText(surroundings.args),
    seconds: surroundings.seconds() - started,
  }
  const view = runView(study, context)
  const document = runDocument(study, context)
  if (!study.audit.passed) {
    folder?.abandon()
    if (request.output === 'document') surroundings.stdout.write(document)
    throw auditFailure(surroundings, view)
  }
  if (folder !== undefined) writeFiles(surroundings, study, document, folder)
  print(surroundings, request, view, document)
}

async function simulated(
  surroundings: Surroundings,
  line: Line,
  options: RunOptions,
  simulate: Simulate,
  folder: OutFolder | undefined,
): Promise<RunStudy> {
  const progress = progressOn(surroundings)
  const tooLateToStop = surroundings.heedInterrupts()
  const hooks = { progress: progress.update, pause: () => surroundings.breathe() }
  try {
    const study = await simulate(line, options, hooks)
    await surroundings.breathe()
    return study
  } catch (error) {
    folder?.abandon()
    throw error
  } finally {
    tooLateToStop()
    progress.end()
  }
}

function auditFailure({ stderr, env }: Surroundings, view: RunView): Failure {
  const block = auditBlock(view, coloursFor(stderr, env))
  return new Failure(
    EXIT.auditFailed,
    `${block}This is a fault of linewright: please report it with the scenario.`,
  )
}

function writeFiles({ stderr }: Surroundings, study: RunStudy, document: string, folder: OutFolder): void {
  const written = folder.write([...runFiles(study), { name: 'run.json', text: document }])
  for (const file of written) stderr.write(`wrote ${file}\n`)
}

function print(surroundings: Surroundings, request: RunRequest, view: RunView, document: string): void {
  const { stdout, stderr, env } = surroundings
  const forPeople = request.output === 'document' ? stderr : stdout
  if (request.audit === 'shown') forPeople.write(`${auditBlock(view, coloursFor(forPeople, env))}\n`)
  stdout.write(request.output === 'document' ? document : summary(view, coloursFor(stdout, env)))
}
