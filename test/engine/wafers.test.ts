import { expect, it } from 'vitest'
import { Wafers } from '../../sim/engine/wafers.ts'
import { checkLine } from '../../sim/line/check.ts'
import { compile } from '../../sim/plan/compile.ts'

/** Two steps that send wafers back to themselves: two loops. */
function table(): Wafers {
  const { line } = checkLine({
    line: 'two loops',
    route: [
      { step: 'print', cycle: '1 s', rework: { share: '10 %', to: 'print', atMost: 2 } },
      { step: 'test', cycle: '1 s', rework: { share: '10 %', to: 'test', atMost: 2 } },
    ],
  })
  if (!line) throw new Error('not a line')
  return new Wafers(compile(line), 'wafers', 0)
}

it('a wafer begins without passes, whatever the wafer before it in its row has been through', () => {
  const wafers = table()
  const first = wafers.make()
  const other = wafers.make()
  wafers.countPass(first, 1)
  wafers.countPass(first, 1)
  wafers.countPass(other, 0)
  expect([wafers.passesOf(first, 0), wafers.passesOf(first, 1)]).toEqual([0, 2])
  wafers.release(first)
  // Rows are given out in turn, round the table.
  let row = wafers.make()
  for (; row !== first; row = wafers.make()) wafers.release(row)
  expect([wafers.passesOf(first, 0), wafers.passesOf(first, 1)]).toEqual([0, 0])
  expect([wafers.passesOf(other, 0), wafers.passesOf(other, 1)]).toEqual([1, 0])
})

it('rows keep what they hold when the table grows', () => {
  const wafers = table()
  const rows = Array.from({ length: 3000 }, () => wafers.make())
  expect(new Set(rows).size).toBe(3000)
  for (const row of rows.slice(0, 600)) wafers.countPass(row, 0)
  for (let more = 0; more < 3000; more++) wafers.make()
  expect(rows.filter(row => wafers.passesOf(row, 0) === 1)).toEqual(rows.slice(0, 600))
  expect(rows.every(row => wafers.passesOf(row, 1) === 0)).toBe(true)
})
