import type { Cell, Table, TableColumn } from '../view/page.ts'
import { html, type Markup } from './markup.ts'

/**
 * A table that a script can sort and copy: each cell carries its number with all digits,
 * and its interval. Without a script it is a plain table.
 */
export function tableHtml(table: Table, id: string): Markup {
  return html`
<div class="table" tabindex="0" role="region" aria-label="${table.caption}, table">
<table id="${id}">
<caption>${table.caption}</caption>
<thead><tr>${table.columns.map(head)}</tr></thead>
<tbody>
${table.rows.map(row => html`<tr>${row.map((cell, at) => cellHtml(cell, at, table.columns[at]))}</tr>\n`)}</tbody>
</table>
</div>`
}

function head({ head: name, unit, kind }: TableColumn): Markup {
  const shown = unit === undefined || unit === '' ? undefined : html` <span class="unit">${unit}</span>`
  return html`<th scope="col" class="${kind}" data-head="${name}" data-unit="${unit ?? ''}">${name}${shown}</th>`
}

function cellHtml(cell: Cell, at: number, column: TableColumn | undefined): Markup {
  const interval = cell.interval === undefined ? undefined : html` <small>${cell.interval}</small>`
  if (at === 0 && column?.kind === 'text') return html`<th scope="row">${cell.text}</th>`
  return html`<td class="${column?.kind}"${values(cell)}>${cell.text}${interval}</td>`
}

/** Of a number behind a cell; more would only make the page larger. */
const DIGITS = 8

function values({ value, low, high }: Cell): Markup {
  const attribute = (name: string, number: number | undefined) =>
    number === undefined ? undefined : html` data-${name}="${Number(number.toPrecision(DIGITS))}"`
  return html`${attribute('value', value)}${attribute('low', low)}${attribute('high', high)}`
}
