import { element, found, say } from './elements.ts'

/** Makes every table of the page sortable, and lets the reader copy it. */
export function startTables(root: ParentNode): void {
  for (const table of root.querySelectorAll('table')) makeSortable(table)
  for (const details of root.querySelectorAll<HTMLDetailsElement>('details.numbers')) addCopy(details)
}

function addCopy(details: HTMLDetailsElement): void {
  const button = element('button', { type: 'button', class: 'copy' }, 'Copy as CSV')
  found(details, '.tools').append(button)
  button.addEventListener('click', async () => {
    const table = found<HTMLTableElement>(details, 'table')
    const done = await copied(csvOf(table))
    button.textContent = done ? 'Copied' : 'Copying is not allowed here'
    say(done ? `${table.rows.length - 1} rows copied` : 'The browser does not allow copying')
    setTimeout(() => {
      button.textContent = 'Copy as CSV'
    }, 2000)
  })
}

/** A page opened from disk may lack the clipboard of secure pages: then the old way. */
async function copied(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text)
    return true
  } catch {
    const area = element('textarea', { class: 'unseen', 'aria-hidden': 'true' })
    area.value = text
    document.body.append(area)
    area.select()
    const done = document.execCommand('copy')
    area.remove()
    return done
  }
}

/**
 * The table as comma separated values (RFC 4180): numbers with all their digits, an
 * estimate as mean, low and high. Text that a spreadsheet would take for a formula gets
 * a leading apostrophe.
 */
export function csvOf(table: HTMLTableElement): string {
  const heads = [...table.querySelectorAll<HTMLTableCellElement>('thead th')]
  const body = [...table.querySelectorAll<HTMLTableRowElement>('tbody tr')]
  const ranged = heads.map((_, at) => body.some(row => row.cells[at]?.dataset.low !== undefined))
  const head = heads.flatMap(({ dataset }, at) => {
    const unit = dataset.unit ? ` [${dataset.unit}]` : ''
    const name = dataset.head ?? ''
    return ranged[at] ? [`${name}${unit}`, `${name} low${unit}`, `${name} high${unit}`] : [`${name}${unit}`]
  })
  const rows = body.map(row =>
    [...row.cells].flatMap((cell, at) => {
      const { value, low, high } = cell.dataset
      const own = cell.classList.contains('number') ? (value ?? '') : harmless(cell.textContent ?? '')
      return ranged[at] ? [own, low ?? '', high ?? ''] : [own]
    }),
  )
  return `${[head.map(harmless), ...rows].map(row => row.map(quoted).join(',')).join('\r\n')}\r\n`
}

function harmless(text: string): string {
  return /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

/** Puts a button into each head: it sorts by that column, then the other way, then not. */
export function makeSortable(table: HTMLTableElement): void {
  const heads = [...table.querySelectorAll<HTMLTableCellElement>('thead th')]
  const body = found<HTMLTableSectionElement>(table, 'tbody')
  const original = [...body.rows]
  heads.forEach((head, at) => {
    const button = element('button', { type: 'button' }, ...head.childNodes)
    head.replaceChildren(button)
    button.addEventListener('click', () => {
      const before = head.getAttribute('aria-sort')
      const numeric = head.classList.contains('number')
      const next = nextOrder(before, numeric ? 'descending' : 'ascending')
      for (const other of heads) other.removeAttribute('aria-sort')
      if (next) head.setAttribute('aria-sort', next)
      body.replaceChildren(...(next ? sorted(original, at, next) : original))
    })
  })
}

type Order = 'ascending' | 'descending'

/** First the order that a reader wants most, then the other, then that of the table. */
function nextOrder(before: string | null, first: Order): Order | undefined {
  if (before === null) return first
  const other = first === 'ascending' ? 'descending' : 'ascending'
  return before === first ? other : undefined
}

function sorted(rows: readonly HTMLTableRowElement[], at: number, order: Order): HTMLTableRowElement[] {
  const sign = order === 'ascending' ? 1 : -1
  const known = rows.filter(row => keyOf(row, at) !== '')
  const unknown = rows.filter(row => keyOf(row, at) === '')
  const compare = (a: string | number, b: string | number) =>
    typeof a === 'number' && typeof b === 'number' ? a - b : String(a).localeCompare(String(b))
  known.sort((a, b) => sign * compare(keyOf(a, at), keyOf(b, at)))
  // What is not known comes last in either order.
  return [...known, ...unknown]
}

function keyOf(row: HTMLTableRowElement, at: number): string | number {
  const cell = row.cells[at]
  if (cell === undefined) return ''
  const { value } = cell.dataset
  if (value !== undefined) return Number(value)
  return cell.classList.contains('number') ? '' : (cell.textContent ?? '')
}
