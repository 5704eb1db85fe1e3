import path from 'node:path'
import type { Line } from '../../sim/line/types.ts'
import { AuditFailed } from '../../sim/study/designs/designs.ts'
import type { Runner } from '../../sim/study/jobs.ts'
import type { TextFile } from '../csv/run-files.ts'
import { answerText } from '../terminal/answer.ts'
import type { PageParts } from '../view/answer-pages/answer-page.ts'
import type { AnswerContext, AnswerView } from '../view/answers/answer.ts'
import { answerPageFile } from './answer-page-file.ts'
import type { AnswerRequest } from './answer-request.ts'
import { coloursFor } from './colour.ts'
import { documentText } from './document.ts'
import { EXIT, Failure } from './failure.ts'
import { performStudy } from './perform-study.ts'
import { replacedText } from './replaced.ts'
import { PAGE_NAME } from './run-page-file.ts'
import { fingerprint } from './scenario.ts'
import type { Surroundings } from './surroundings.ts'
import { programVersion } from './version.ts'

/** A question about a line: how it is studied, and how its answer is put. */
export interface Question<Result extends object> {
  /** Name of the command and of its document. */
  readonly name: string
  /** The line that is asked about, its variant applied, and the name of the variant. */
  readonly line: Line
  readonly variant?: string | undefined
  /** The line of the scenario file, all its variants inside. */
  readonly scenario: Line
  /** The lines of further scenario files, by their names on the command line. */
  readonly beside?: Readonly<Record<string, Line>>
  readonly seed: string
  study(runner: Runner): Promise<Result>
  view(result: Result, context: AnswerContext): AnswerView
  /** Its figures, charts and tables for the page. */
  parts(result: Result, line: Line): PageParts
  files(result: Result): readonly TextFile[]
}

/** Studies a question and reports the answer. Throws a `Failure` as `performStudy` does, and when an audit failed. */
export async function performAnswer<Result extends object>(
  surroundings: Surroundings,
  request: AnswerRequest,
  question: Question<Result>,
): Promise<void> {
  const { work, output } = request
  const { scenario, beside, seed, line, variant } = question
  const { result, command, seconds, folder } = await performStudy(
    surroundings,
    { work, scenario, ...(beside && { beside }), seed },
    runner => question.study(runner).catch(auditFailure),
  )
  const context = { fingerprint: fingerprint(line), ...(seconds !== undefined && { seconds }) }
  const names = variant === undefined ? {} : { variant }
  const view = question.view(result, context)
  const page = work.out === undefined ? undefined : path.join(work.out, PAGE_NAME)
  const files = page === undefined ? {} : { files: { page } }
  const document = documentText({ ...result, ...names, ...context, command, ...files })
  if (folder !== undefined) {
    const kept = { files: { page: PAGE_NAME } }
    // Without the wall time: the file is the same however often the study was interrupted.
    const { seconds: _wall, ...lasting } = context
    const json = documentText({ ...result, ...names, ...lasting, command, ...kept })
    const others = Object.values(beside ?? {})
      .slice(1)
      .map(other => ({ line: other, fingerprint: fingerprint(other) }))
    const made = { ...names, others, name: question.name, line, seed, command, version: programVersion() }
    const html = await answerPageFile(view, question.parts(result, line), { ...made, ...context })
    const written = [...question.files(result), { name: `${question.name}.json`, text: json }, html]
    surroundings.stderr.write(replacedText(work.out ?? '', question.name, written))
    for (const file of folder.write(written)) surroundings.stderr.write(`wrote ${file}\n`)
    if (request.open === 'opened' && page !== undefined) surroundings.open(page)
  }
  const { stdout, env } = surroundings
  const words = () => answerText(view, coloursFor(stdout, env))
  stdout.write(output === 'document' ? document : words())
}

function auditFailure(error: unknown): never {
  if (!(error instanceof AuditFailed)) throw error
  throw new Failure(
    EXIT.auditFailed,
    `Audit failed: ${error.message}\nThis is a fault of linewright: please report it with the scenario.`,
  )
}
