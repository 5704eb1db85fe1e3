import type { AnswerItem, AnswerTable, AnswerView } from '../view/answers/answer.ts'
import { wrapped } from '../view/width.ts'
import { type Colours, warning } from './summary.ts'
import { tableLines } from './table.ts'

/** Columns of a terminal that everybody has. */
const WIDTH = 80
const INDENT = '  '

/** The answer of a study as text of at most 80 columns: the answer first, then the figures. */
export function answerText(view: AnswerView, colours: Colours): string {
  const [first = '', ...rest] = view.headline
  const paragraphs = [
    [
      ...wrapped(first, WIDTH).map(line => colours.bold(line)),
      ...rest.flatMap(sentence => wrapped(sentence, WIDTH)),
    ],
    view.warnings.flatMap(({ text, hint }) => warning(text, hint, colours)),
    view.basis.flatMap(sentence => wrapped(sentence, WIDTH)).map(line => colours.dim(line)),
    ...view.tables.map(table => tableText(table, colours)),
    ...view.items.map(item => itemText(item, colours)),
    view.notes.flatMap(sentence => wrapped(sentence, WIDTH)),
    wrapped(view.caution, WIDTH).map(line => colours.dim(line)),
  ]
  return `${paragraphs
    .filter(lines => lines.length > 0)
    .map(lines => lines.join('\n'))
    .join('\n\n')}\n`
}

function tableText({ title, columns, rows }: AnswerTable, colours: Colours): string[] {
  const [head = '', ...lines] = tableLines(WIDTH, columns, rows)
  return [...(title === '' ? [] : wrapped(title, WIDTH)), colours.dim(head), ...lines]
}

function itemText({ name, verdict, lines }: AnswerItem, colours: Colours): string[] {
  const head = wrapped(`${name}: ${verdict}`, WIDTH).map(line => colours.bold(line))
  const below = lines.flatMap(line => wrapped(line, WIDTH - INDENT.length)).map(line => `${INDENT}${line}`)
  return [...head, ...below]
}
