import { stringify } from 'csv-stringify/sync'
import type { Estimate } from '../../sim/stats/estimate.ts'

/** A cell of a table for machines; undefined stays empty. */
export type Cell = string | number | undefined

/** A column: its head, with the unit in brackets, and what it says of an item. */
export interface Column<Item> {
  readonly head: string
  readonly of: (item: Item) => Cell
}

/** A plain column. */
export function column<Item>(head: string, of: (item: Item) => Cell): Column<Item> {
  return { head, of }
}

/** Three columns of an estimate: mean and both ends of its interval, empty where there is none, and where the item has no such figure. */
export function estimateColumns<Item>(
  name: string,
  unit: string,
  of: (item: Item) => Estimate | undefined,
): readonly Column<Item>[] {
  return [
    column(`${name} [${unit}]`, item => meanOf(of(item))),
    column(`${name} low [${unit}]`, item => of(item)?.low),
    column(`${name} high [${unit}]`, item => of(item)?.high),
  ]
}

/** The mean; nothing when no replication could say it (the mean length of a stop that never happened). */
export function meanOf(estimate: Estimate | undefined): Cell {
  return estimate === undefined || estimate.n === 0 ? undefined : estimate.mean
}

/**
 * Of a number: more than any figure has, and fewer than a sum of decimals keeps right, so that
 * 0.22 + 4 x 0.001 is 0.224 and not 0.22399999999999998.
 */
const DIGITS = 12

/**
 * The items as comma separated values (RFC 4180, but lines end in a single line
 * feed), heads first, numbers to twelve digits. Text that a spreadsheet would take for a
 * formula is made harmless by a leading apostrophe; what is no finite number is left empty.
 */
export function csvText<Item>(columns: readonly Column<Item>[], items: readonly Item[]): string {
  const rows = items.map(item => columns.map(({ of }) => cellOf(of(item))))
  return stringify([columns.map(({ head }) => head), ...rows], { escape_formulas: true })
}

function cellOf(value: Cell): string | number {
  if (typeof value !== 'number') return value ?? ''
  return Number.isFinite(value) ? Number(value.toPrecision(DIGITS)) : ''
}
