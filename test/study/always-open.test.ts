import { describe, expect, it } from 'vitest'
import { closedSpans, headsIn, openTime, weekOf } from '../../sim/line/calendar.ts'
import { WEEK } from '../../sim/line/clock.ts'
import type { Line } from '../../sim/line/types.ts'
import { alwaysOpen } from '../../sim/study/losses/always-open.ts'
import { checked } from './lines.ts'

/** Expected values: counted by hand. */

function lineWith(calendar: object, heads: object | number): Line {
  const stops = [{ stop: 'jam', every: '2 h', lasts: '1 min', skill: 'operators' }]
  return checked({
    calendar,
    crews: { operators: { heads } },
    route: [{ step: 'print', cycle: '2 s', stops }],
  })
}

const WORKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri']

describe('a line without closed hours', () => {
  it('is open all week, and keeps its shifts', () => {
    const day = { from: '06:00', to: '18:00', days: WORKDAYS }
    const line = lineWith({ shifts: { day }, runDown: '1 h' }, { day: 3 })
    const open = alwaysOpen(line)
    checked(open)
    expect(closedSpans(open.calendar)).toEqual([])
    expect(openTime(open.calendar)).toBe(WEEK)
    expect(open.calendar?.shifts.day).toEqual(day)
    expect(open.calendar?.runDown).toBeUndefined()
  })

  it('has every crew in its full strength at all hours', () => {
    const shifts = {
      early: { from: '06:00', to: '14:00', days: WORKDAYS },
      late: { from: '14:00', to: '22:00', days: WORKDAYS },
    }
    const open = alwaysOpen(lineWith({ shifts }, { early: 3, late: 2 }))
    const crew = open.crews?.operators
    if (crew === undefined) throw new Error('the crew is gone')
    const heads = new Map(weekOf(open.calendar).map(({ shift }) => [shift, headsIn(crew, shift)]))
    expect(heads.get('early')).toBe(3)
    expect(heads.get('late')).toBe(2)
    for (const [shift, n] of heads) if (shift !== 'early' && shift !== 'late') expect(n, shift).toBe(3)
  })

  it('gives its new shifts names of their own', () => {
    const shifts = { 'closed hours 1': { from: '06:00', to: '18:00' } }
    expect(Object.keys(alwaysOpen(lineWith({ shifts }, 1)).calendar?.shifts ?? {})).toHaveLength(3)
  })

  it('is the same when it never closes', () => {
    const line = checked({ route: [{ step: 'print', cycle: '2 s' }] })
    expect(alwaysOpen(line)).toBe(line)
  })
})
