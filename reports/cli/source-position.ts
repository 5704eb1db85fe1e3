import { readFileSync } from 'node:fs'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Message } from 'esbuild'
import { widthOf } from '../view/width.ts'

/** A place in a source file; line and column count from 1, in characters. */
interface Position {
  readonly file: string
  readonly line: number
  readonly column: number
}

/** A message of the bundler as `file:line:col: text`, the line and a caret. */
export function messageText(message: Message): string {
  const { location, text } = message
  if (location === null) return text
  const before = Buffer.from(location.lineText).subarray(0, location.column).toString()
  const position = { file: path.resolve(location.file), line: location.line, column: before.length + 1 }
  return pointed(position, text, location.lineText)
}

/**
 * An error thrown by a scenario, placed by the first frame of its stack that lies in
 * one of the scenario's own files.
 */
export function thrownText(thrown: unknown, file: string, ownFiles: readonly string[]): string {
  const what =
    thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : `threw ${JSON.stringify(thrown)}`
  const position = thrown instanceof Error ? findFrame(thrown.stack ?? '', ownFiles) : undefined
  if (position === undefined) return `${shownPath(file)}: ${what}`
  return pointed(position, what, lineOf(position))
}

/** The path as a person would type it from here: relative below this folder, absolute elsewhere. */
export function shownPath(file: string): string {
  const relative = path.relative(process.cwd(), file)
  return relative === '' || relative.startsWith('..') || path.isAbsolute(relative) ? file : relative
}

function pointed({ file, line, column }: Position, text: string, lineText: string | undefined): string {
  const head = `${shownPath(file)}:${line}:${column}: ${text}`
  if (lineText === undefined) return head
  // Tabs stay tabs, so that the caret lands below its character whatever their width.
  const indent = lineText.slice(0, column - 1).replace(/[^\t]+/g, part => ' '.repeat(widthOf(part)))
  return `${head}\n  ${lineText}\n  ${indent}^`
}

function findFrame(stack: string, ownFiles: readonly string[]): Position | undefined {
  for (const frame of stack.split('\n')) {
    for (const file of ownFiles) {
      for (const name of [file, pathToFileURL(file).href]) {
        const at = frame.indexOf(`${name}:`)
        const [, line, column] = /^(\d+):(\d+)/.exec(at < 0 ? '' : frame.slice(at + name.length + 1)) ?? []
        if (line !== undefined && column !== undefined)
          return { file, line: Number(line), column: Number(column) }
      }
    }
  }
  return undefined
}

function lineOf({ file, line }: Position): string | undefined {
  try {
    return readFileSync(file, 'utf8').split(/\r?\n/)[line - 1]
  } catch {
    return undefined
  }
}
