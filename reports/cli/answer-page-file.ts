import type { TextFile } from '../csv/run-files.ts'
import { pageHtml } from '../html/page-html.ts'
import {
  type AnswerPageContext,
  type AnswerWords,
  answerPage,
  type PageParts,
} from '../view/answer-pages/answer-page.ts'
import { pageAssets } from './page-assets.ts'
import { PAGE_NAME } from './run-page-file.ts'

/** The page of a study as a file. */
export async function answerPageFile(
  view: AnswerWords,
  parts: PageParts,
  context: AnswerPageContext,
): Promise<TextFile> {
  return { name: PAGE_NAME, text: pageHtml(answerPage(view, parts, context), await pageAssets()) }
}
