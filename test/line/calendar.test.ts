import { describe, expect, it } from 'vitest'
import {
  breakSpans,
  closedSpans,
  headsAt,
  meanHeads,
  openings,
  opensFrom,
  openTime,
  shiftChanges,
  weekOf,
} from '../../sim/line/calendar.ts'
import { clockTimes, parseClock, parseDayTime } from '../../sim/line/clock.ts'
import type { Calendar } from '../../sim/line/types.ts'

/** Weeks written down with a pencil, in hours from Monday 00:00. */

const HOUR = 3600
const inHours = (spans: readonly { from: number; to: number }[]) =>
  spans.map(({ from, to }) => [from / HOUR, to / HOUR])

const threeShifts: Calendar = {
  shifts: {
    early: { from: '06:00', to: '14:00', breaks: [{ at: '10:00', lasts: '30 min', relief: '50 %' }] },
    late: { from: '14:00', to: '22:00' },
    night: { from: '22:00', to: '06:00', breaks: [{ at: '02:00', lasts: '45 min' }] },
  },
}
/** Day shifts on working days, nights from Sunday to Thursday: closed from Friday 18:00 to Sunday 22:00. */
const workWeek: Calendar = {
  shifts: {
    day: { from: '06:00', to: '18:00', days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'] },
    night: { from: '18:00', to: '06:00', days: ['Mon', 'Tue', 'Wed', 'Thu'] },
    start: { from: '22:00', to: '06:00', days: ['Sun'] },
  },
}
/** 2-2-3: two days on, two off, three on. */
const twoTwoThree: Calendar = {
  shifts: {
    A: { from: '06:00', to: '18:00', days: ['Mon', 'Tue', 'Fri', 'Sat', 'Sun'] },
    B: { from: '06:00', to: '18:00', days: ['Wed', 'Thu'] },
    C: { from: '18:00', to: '06:00', days: ['Mon', 'Tue', 'Fri', 'Sat', 'Sun'] },
    D: { from: '18:00', to: '06:00', days: ['Wed', 'Thu'] },
  },
}

describe('times by the clock', () => {
  it('are seconds of the day', () => {
    expect(parseDayTime('06:00')).toBe(21_600)
    expect(parseDayTime('23:59')).toBe(86_340)
    expect(parseDayTime('00:00')).toBe(0)
  })

  it.each([
    ['6:00', 'write "06:00"'],
    ['24:00', 'midnight is "00:00"'],
    ['25:00', 'a day ends at "23:59"'],
    ['12:60', 'a day ends at "23:59"'],
    ['6 pm', 'hours and minutes of 24 hours, as in "18:30"'],
    ['0600', 'hours and minutes of 24 hours, as in "18:30"'],
    ['noon', ''],
  ])('%s is none', (text, hint) => {
    expect(parseDayTime(text)).toBe(hint)
  })

  it.each([
    ['Monday 06:00', 'did you mean "Mon 06:00"?'],
    ['mon 06:00', 'did you mean "Mon 06:00"?'],
    ['Xyz 06:00', 'days are Mon, Tue, Wed, Thu, Fri, Sat, Sun'],
    ['Mon  06:00', 'write the day, one blank, and the time'],
    ['Mon 6:00', 'write "Mon 06:00"'],
    ['Monday 6:00', 'did you mean "Mon 06:00"?'],
  ])('nor is %s', (text, hint) => {
    expect(parseClock(text)).toBe(hint)
  })

  it('strike in the order of the week, each once', () => {
    expect(clockTimes(['Wed 14:00', 'Mon 06:30']).map(at => at / HOUR)).toEqual([6.5, 62])
    expect(clockTimes(['Tue 18:00', '18:00', '06:00']).map(at => at / HOUR)).toEqual([
      6, 18, 30, 42, 54, 66, 78, 90, 102, 114, 126, 138, 150, 162,
    ])
  })
})

describe('the week', () => {
  it('is open all the time without a calendar', () => {
    expect(weekOf(undefined)).toEqual([{ from: 0, to: 168 * HOUR }])
    expect(closedSpans(undefined)).toEqual([])
    expect(shiftChanges(undefined)).toEqual([])
    expect(openings(undefined)).toEqual([])
  })

  it('of three shifts has 22 spans: the night of Sunday is cut at midnight', () => {
    const week = weekOf(threeShifts)
    expect(week).toHaveLength(22)
    expect(week[0]).toEqual({ from: 0, to: 6 * HOUR, shift: 'night' })
    expect(week[1]).toEqual({ from: 6 * HOUR, to: 14 * HOUR, shift: 'early' })
    expect(week[21]).toEqual({ from: 166 * HOUR, to: 168 * HOUR, shift: 'night' })
    expect(closedSpans(threeShifts)).toEqual([])
    expect(openTime(threeShifts)).toBe(168 * HOUR)
    // Midnight of Sunday is no change of shift.
    expect(shiftChanges(threeShifts).slice(0, 4)).toEqual([6, 14, 22, 30].map(hour => hour * HOUR))
    expect(shiftChanges(threeShifts)).toHaveLength(21)
  })

  it('that starts on Sunday night', () => {
    expect(inHours(weekOf(workWeek))).toEqual([
      [0, 6],
      [6, 18],
      [18, 30],
      [30, 42],
      [42, 54],
      [54, 66],
      [66, 78],
      [78, 90],
      [90, 102],
      [102, 114],
      [166, 168],
    ])
    expect(inHours(closedSpans(workWeek))).toEqual([[114, 166]])
    expect(openTime(workWeek)).toBe(116 * HOUR)
    expect(openings(workWeek)).toEqual([166 * HOUR])
    expect(shiftChanges(workWeek).at(-1)).toBe(166 * HOUR)
  })

  it('that is closed over the midnight of Sunday opens once', () => {
    const days: Calendar = { shifts: { day: { from: '08:00', to: '16:00', days: ['Mon', 'Wed'] } } }
    expect(inHours(closedSpans(days))).toEqual([
      [0, 8],
      [16, 56],
      [64, 168],
    ])
    expect(openings(days)).toEqual([8 * HOUR, 56 * HOUR])
  })

  it('that opens at the midnight of Sunday', () => {
    const days: Calendar = { shifts: { day: { from: '00:00', to: '12:00' } } }
    expect(openings(days).map(at => at / HOUR)).toEqual([0, 24, 48, 72, 96, 120, 144])
  })

  it('of a 2-2-3 pattern has exactly one of four crews at any time', () => {
    const week = weekOf(twoTwoThree)
    expect(closedSpans(twoTwoThree)).toEqual([])
    expect(week.map(({ from, to }) => to - from).reduce((a, b) => a + b)).toBe(168 * HOUR)
    expect(week.map(({ shift }) => shift).join('')).toBe('CACACBDBDACACAC')
  })

  it('of a shift around the clock', () => {
    const always: Calendar = { shifts: { all: { from: '06:00', to: '06:00' } } }
    expect(openTime(always)).toBe(168 * HOUR)
    expect(shiftChanges(always)).toHaveLength(7)
  })
})

describe('heads', () => {
  const day = (calendar: Calendar, crew: Parameters<typeof headsAt>[0]) =>
    headsAt(crew, calendar)
      .filter(({ at }) => at < 24 * HOUR)
      .map(({ at, heads }) => [at / HOUR, heads])

  it('are always there without a calendar', () => {
    expect(headsAt({ heads: 3 }, undefined)).toEqual([{ at: 0, heads: 3 }])
    expect(meanHeads({ heads: 3 }, undefined)).toBe(3)
  })

  it('leave for a break: 50 % relief of 3 is 1, none stays without relief', () => {
    expect(day(threeShifts, { heads: 3 })).toEqual([
      [0, 3],
      [2, 0],
      [2.75, 3],
      [10, 1],
      [10.5, 3],
    ])
  })

  it('differ by shift; a shift that is not named has none', () => {
    const crew = { heads: { early: 4, night: 2 } }
    expect(day(threeShifts, crew)).toEqual([
      [0, 2],
      [2, 0],
      [2.75, 2],
      [6, 4],
      [10, 2],
      [10.5, 4],
      [14, 0],
      [22, 2],
    ])
    // (8 h x 4 - 0.5 h x 2 + 8 h x 2 - 0.75 h x 2) / 24 h.
    expect(meanHeads(crew, threeShifts)).toBeCloseTo((32 - 1 + 16 - 1.5) / 24, 12)
  })

  it('are none while the line is closed, but for those that are there always', () => {
    const closed = (heads: Parameters<typeof headsAt>[0]['heads']) =>
      headsAt({ heads }, workWeek).filter(({ at }) => at >= 100 * HOUR)
    expect(closed({ day: 2, night: 2, start: 2 })).toEqual([
      { at: 114 * HOUR, heads: 0 },
      { at: 166 * HOUR, heads: 2 },
    ])
    expect(closed(2)).toEqual([])
  })

  it('of a break at the end of Sunday night, which lies in the next week', () => {
    expect(inHours(breakSpans(threeShifts)).slice(0, 2)).toEqual([
      [2, 2.75],
      [10, 10.5],
    ])
    const late: Calendar = {
      shifts: {
        night: { from: '22:00', to: '06:00', days: ['Sun'], breaks: [{ at: '23:45', lasts: '30 min' }] },
      },
    }
    expect(inHours(breakSpans(late))).toEqual([
      [0, 0.25],
      [167.75, 168],
    ])
  })
})

it('the line opens from a moment on when the hours that are closed then end', () => {
  const twoDays = { shifts: { day: { from: '06:00', to: '18:00', days: ['Mon', 'Sat'] } } } as const
  const opens = (hour: number) => opensFrom(twoDays, hour * HOUR) / HOUR
  expect([0, 6, 17.5, 18, 126, 140, 168 + 7].map(opens)).toEqual([6, 6, 17.5, 126, 126, 168 + 6, 168 + 7])
  expect(opensFrom(undefined, 5)).toBe(5)
})
