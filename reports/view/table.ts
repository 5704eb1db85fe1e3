import type { Estimate } from '../../sim/stats/estimate.ts'
import { type Figure, figure, grouped, NOTHING, percent, type Show, significant } from './format.ts'
import type { Cell, Table, TableColumn } from './page.ts'

/** A column and what it says of an item. */
export interface ColumnOf<Item> extends TableColumn {
  readonly cell: (item: Item) => Cell
}

/** A table of items, one row each. */
export function tableOf<Item>(
  caption: string,
  columns: readonly ColumnOf<Item>[],
  items: readonly Item[],
): Table {
  return {
    caption,
    columns: columns.map(({ head, unit, kind }) => ({ head, kind, ...(unit !== undefined && { unit }) })),
    rows: items.map(item => columns.map(({ cell }) => cell(item))),
  }
}

/** Makers of the columns of a table of such items. */
export interface Columns<Item> {
  /** Words. */
  words(head: string, of: (item: Item) => string): ColumnOf<Item>
  /** Plain numbers, to so many digits; undefined shows as nothing. */
  numbers(head: string, unit: string, of: (item: Item) => number | undefined, digits?: number): ColumnOf<Item>
  /** Estimates, each with its interval. */
  estimates(head: string, unit: string, of: (item: Item) => Estimate, show?: Show): ColumnOf<Item>
  /** Estimates of what cannot be below zero. */
  amounts(head: string, unit: string, of: (item: Item) => Estimate, show?: Show): ColumnOf<Item>
  /** Estimated shares, in per cent. */
  shares(head: string, of: (item: Item) => Estimate, show?: Show): ColumnOf<Item>
}

/** The makers of columns, for one kind of item. */
export function columnsOf<Item>(): Columns<Item> {
  return { words, numbers, estimates, amounts, shares }
}

function words<Item>(head: string, of: (item: Item) => string): ColumnOf<Item> {
  return { head, kind: 'text', cell: item => ({ text: of(item) }) }
}

function numbers<Item>(
  head: string,
  unit: string,
  of: (item: Item) => number | undefined,
  digits = 4,
): ColumnOf<Item> {
  const cell = (item: Item): Cell => {
    const value = of(item)
    if (value === undefined || !Number.isFinite(value)) return { text: NOTHING }
    return { text: Number.isInteger(value) ? grouped(value, 0) : significant(value, digits), value }
  }
  return { head, unit, kind: 'number', cell }
}

function estimates<Item>(
  head: string,
  unit: string,
  of: (item: Item) => Estimate,
  show: Show = {},
): ColumnOf<Item> {
  return { head, unit, kind: 'number', cell: item => estimateCell(of(item), figure(of(item), show), show) }
}

function amounts<Item>(
  head: string,
  unit: string,
  of: (item: Item) => Estimate,
  show: Show = {},
): ColumnOf<Item> {
  return estimates(head, unit, of, { least: 0, ...show })
}

function shares<Item>(head: string, of: (item: Item) => Estimate, show: Show = { most: 2 }): ColumnOf<Item> {
  const scaled = { ...show, scale: 100 }
  return {
    head,
    unit: '%',
    kind: 'number',
    cell: item => estimateCell(of(item), percent(of(item), show), scaled),
  }
}

function estimateCell(estimate: Estimate, shown: Figure, { scale = 1 }: Show): Cell {
  if (estimate.n === 0) return { text: shown.text }
  const { mean, low, high } = estimate
  return {
    text: shown.text,
    value: mean * scale,
    ...(shown.interval !== '' && { interval: shown.interval }),
    ...(low !== undefined && { low: low * scale }),
    ...(high !== undefined && { high: high * scale }),
  }
}
