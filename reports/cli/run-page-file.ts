import type { RunOptions } from '../../sim/study/options.ts'
import { recordShift } from '../../sim/study/record-shift.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import type { TextFile } from '../csv/run-files.ts'
import { pageHtml } from '../html/page-html.ts'
import { runPage } from '../view/run-page.ts'
import type { DocumentContext } from './document.ts'
import { pageAssets } from './page-assets.ts'
import type { ChosenLine } from './scenario.ts'

/** Name of the page of every command, within the folder of its results. */
export const PAGE_NAME = 'report.html'

/** Makes the page of a run, or stands in for that in a test. */
export type MakePage = (
  chosen: ChosenLine,
  options: RunOptions,
  study: RunStudy,
  context: DocumentContext,
) => Promise<TextFile>

/** The page of a run as a file: simulates one shift of the first replication once more, to record it. */
export const runPageFile: MakePage = async (chosen, options, study, context) => {
  const recording = recordShift(chosen.line, options, study)
  const page = runPage(study, { ...context, line: chosen.line, recording })
  return { name: PAGE_NAME, text: pageHtml(page, await pageAssets()) }
}
