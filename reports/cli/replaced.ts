import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { wordList } from '../../sim/base/problems.ts'
import type { TextFile } from '../csv/run-files.ts'
import { PAGE_NAME } from './run-page-file.ts'

/** On every page, the command that made it. */
const MADE = /<p class="made"><b>Linewright<\/b> (\w+)<\/p>/

/**
 * Says which files in the folder are of another command and will be replaced; nothing where
 * there are none. The same command again is a study made anew, and replaces its own.
 */
export function replacedText(folder: string, command: string, files: readonly TextFile[]): string {
  const page = textOf(path.join(folder, PAGE_NAME))
  const other = page === undefined ? undefined : MADE.exec(page)?.[1]
  const csv = files.filter(({ name }) => name.endsWith('.csv'))
  // A command may answer two questions, each with tables of its own (a curve instead of a list of losses).
  const again = other === command && csv.some(({ name }) => existsSync(path.join(folder, name)))
  if (other === undefined || again) return ''
  const tables = csv
    .filter(({ name, text }) => isOther(textOf(path.join(folder, name)), text))
    .map(({ name }) => name)
  const names = wordList([...tables, `${PAGE_NAME} (${other})`], 'and')
  const are = tables.length === 0 ? 'is' : 'are'
  return `warning: --out: ${names} of another study ${are} replaced; give each study a folder of its own\n`
}

/** Tables of one name that two commands write have other columns. */
function isOther(there: string | undefined, text: string): boolean {
  return there !== undefined && firstLine(there) !== firstLine(text)
}

function firstLine(text: string): string {
  return text.slice(0, text.indexOf('\n'))
}

/** What cannot be read is told of when it cannot be written. */
function textOf(file: string): string | undefined {
  try {
    return existsSync(file) ? readFileSync(file, 'utf8') : undefined
  } catch {
    return undefined
  }
}
