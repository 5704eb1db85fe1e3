import { shortened, widthOf } from '../view/width.ts'

/** A column: its head, and on which side its cells line up. */
export interface Column {
  readonly head: string
  readonly align: 'left' | 'right'
}

const GAP = '  '

/**
 * A table without rules, heads first, at most `width` columns wide however long or
 * wide-charactered the cells are: when it does not fit, left-aligned columns (names)
 * are shortened with …, the widest first.
 */
export function tableLines(
  width: number,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
): string[] {
  const widths = columns.map((column, index) =>
    Math.max(widthOf(column.head), ...rows.map(row => widthOf(row[index] ?? ''))),
  )
  narrow(widths, columns, width)
  const line = (cells: readonly string[]) =>
    columns
      .map((column, index) => cell(cells[index] ?? '', widths[index] ?? 0, column.align))
      .join(GAP)
      .trimEnd()
  return [line(columns.map(column => column.head)), ...rows.map(line)]
}

/** Takes columns away from the widest left-aligned column until the table fits. */
function narrow(widths: number[], columns: readonly Column[], width: number): void {
  const shrinkable = columns.flatMap((column, index) => (column.align === 'left' ? [index] : []))
  const total = () => widths.reduce((sum, one) => sum + one, GAP.length * (widths.length - 1))
  while (total() > width) {
    const widest = shrinkable.reduce((best, index) =>
      (widths[index] ?? 0) > (widths[best] ?? 0) ? index : best,
    )
    const now = widths[widest] ?? 0
    if (now <= 1) return
    widths[widest] = now - 1
  }
}

function cell(text: string, width: number, align: Column['align']): string {
  const shown = shortened(text, width)
  const blanks = ' '.repeat(Math.max(0, width - widthOf(shown)))
  return align === 'left' ? shown + blanks : blanks + shown
}
