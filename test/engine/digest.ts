import { Desk } from '../../sim/engine/desk.ts'
import type { Run } from '../../sim/engine/run.ts'

const ROWS = [
  'countRows',
  'areaRows',
  'counterRows',
  'stateRows',
  'stopRows',
  'binRows',
  'lateRows',
  'originRows',
  'longest',
  'stays',
] as const

/** First difference between the books of two runs of one plan, in words; undefined when they agree to the last bit. */
export function difference(a: Run, b: Run): string | undefined {
  for (const [s, left] of a.works.stations.entries())
    for (const rows of ROWS) {
      const [x, y] = [left.meter[rows], b.works.stations[s].meter[rows]]
      for (let i = 0; i < x.length; i++)
        if (!Object.is(x[i], y[i])) return `${left.name}: ${rows}[${i}] is ${x[i]} against ${y[i]}`
    }
  return peopleDiffer(deskOf(a), deskOf(b))
}

const PEOPLE = ['work', 'calls', 'waited', 'waits'] as const

function deskOf(run: Run): Desk | undefined {
  return run.works.stations.find(station => station instanceof Desk)
}

function peopleDiffer(a: Desk | undefined, b: Desk | undefined): string | undefined {
  if (!a || !b) return a === b ? undefined : 'people in one run only'
  for (const column of PEOPLE)
    for (let i = 0; i < a.book[column].length; i++)
      if (!Object.is(a.book[column][i], b.book[column][i]))
        return `people: ${column}[${i}] is ${a.book[column][i]} against ${b.book[column][i]}`
  return undefined
}
