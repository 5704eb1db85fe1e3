import { describe, expect, it } from 'vitest'
import { between, lineWith, problemsIn, routeOf, singleWith, stopWith } from './lines.ts'

/** Problems of calendars, crews, fleets and events. Texts as they are shown. */

const day = { from: '06:00', to: '18:00' }
const calendarOf = (shifts: unknown) => lineWith({ calendar: { shifts } })
const print = { step: 'print', cycle: '2 s' }
const jam = { stop: 'jam', every: '2 h', lasts: '5 min' }
const withCrews = (crews: unknown, stop: object, more: object = {}) => ({
  ...stopWith(stop),
  crews,
  ...more,
})
const cassettes = { carriers: 'cassettes', holds: 100, number: 20 }

describe('a calendar', () => {
  it.each<[unknown, string[]]>([
    [calendarOf({ day, night: { from: '18:00', to: '06:00' } }), []],
    [
      lineWith({ calendar: {} }),
      ['calendar → shifts: found nothing, expected an object with a shift for each name'],
    ],
    [
      calendarOf({}),
      [
        'calendar → shifts: found an empty object, expected at least one shift (without shifts, leave the calendar out)',
      ],
    ],
    [
      calendarOf({ day: { from: '6:00', to: '18.00' } }),
      [
        'calendar → shifts → day → from: found "6:00", expected a time of day such as "06:00" (write "06:00")',
        'calendar → shifts → day → to: found "18.00", expected a time of day such as "06:00" (hours and minutes of 24 hours, as in "18:30")',
      ],
    ],
    [
      calendarOf({ day: { ...day, days: ['Mon', 'Tues', 'Mon'] } }),
      [
        'calendar → shifts → day → days[1]: found "Tues", expected "Mon", "Tue", "Wed", "Thu", "Fri", "Sat" or "Sun" (did you mean "Tue"?)',
      ],
    ],
    [
      calendarOf({ day: { ...day, days: ['Mon', 'Mon'] }, off: { ...day, days: [] } }),
      [
        'calendar → shifts "day" → days[1]: found "Mon", expected each day once',
        'calendar → shifts "off" → days: found an empty list, expected at least one day',
      ],
    ],
    [
      calendarOf({ early: { from: '06:00', to: '14:00' }, late: { from: '13:45', to: '22:00' } }),
      [
        'calendar → shifts "late" → from: found a start on Mon 13:45, expected no two shifts at the same time; "early" ends on Mon 14:00',
      ],
    ],
    // Sunday night reaches into Monday.
    [
      calendarOf({
        night: { from: '22:00', to: '06:00', days: ['Sun'] },
        day: { from: '05:00', to: '12:00' },
      }),
      [
        'calendar → shifts "day" → from: found a start on Mon 05:00, expected no two shifts at the same time; "night" ends on Mon 06:00',
      ],
    ],
    [
      calendarOf({
        day: {
          ...day,
          breaks: [
            { at: '17:45', lasts: '30 min' },
            { at: '05:00', lasts: '10 min' },
          ],
        },
      }),
      [
        'calendar → shifts "day" → breaks[0]: found a break of 30 min at "17:45", expected one within the shift, 06:00 to 18:00',
        'calendar → shifts "day" → breaks[1]: found a break of 10 min at "05:00", expected one within the shift, 06:00 to 18:00',
      ],
    ],
    [
      calendarOf({
        night: {
          from: '22:00',
          to: '06:00',
          breaks: [
            { at: '23:50', lasts: '30 min' },
            { at: '00:10', lasts: '30 min' },
          ],
        },
      }),
      [
        'calendar → shifts "night" → breaks[1]: found a break of 30 min at "00:10", expected one apart from breaks[0], at "23:50"',
      ],
    ],
    [
      stopWith({ waits: { until: 'shift change', atMost: '4 h' } }),
      [
        'route[0] "print" → stops[0] "jam" → waits → until: found "shift change", expected "calendar" in the line (without shifts there is no change of them)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('crews', () => {
  it.each<[unknown, string[]]>([
    [withCrews({ operators: { heads: 2 } }, { skill: 'operators', people: 2, priority: 1 }), []],
    [withCrews({ a: { heads: 2, skills: ['screens', 'belts'] } }, { skill: 'belts' }), []],
    [
      withCrews({ operators: { heads: 2 } }, { skill: 'operater' }),
      [
        'route[0] "print" → stops[0] "jam" → skill: found "operater", expected a skill of a crew: "operators" (did you mean "operators"?)',
      ],
    ],
    [
      stopWith({ skill: 'operators' }),
      [
        'route[0] "print" → stops[0] "jam" → skill: found "operators", expected a skill of a crew, but there is none',
      ],
    ],
    // A crew with skills does not have its name as one.
    [
      withCrews({ operators: { heads: 2, skills: ['screens'] } }, { skill: 'operators' }),
      ['route[0] "print" → stops[0] "jam" → skill: found "operators", expected a skill of a crew: "screens"'],
    ],
    [
      withCrews({ a: { heads: 2 } }, { skill: 'vans' }, { fleets: { vans: { number: 2 } } }),
      [
        'route[0] "print" → stops[0] "jam" → skill: found "vans", expected a skill of a crew: "a" ("vans" is a fleet; stops are served by people)',
      ],
    ],
    [
      stopWith({ people: 2, priority: 1 }),
      [
        'route[0] "print" → stops[0] "jam" → people: found 2, expected none without "skill" (without a skill it needs nobody)',
        'route[0] "print" → stops[0] "jam" → priority: found 1, expected none without "skill" (without a skill it needs nobody)',
      ],
    ],
    [
      singleWith({ breakage: { share: '1 %', clearing: { lasts: '2 min', skill: 'smith', people: 2 } } }),
      [
        'route[0] "print" → breakage → clearing → skill: found "smith", expected a skill of a crew, but there is none',
      ],
    ],
    [
      lineWith({
        crews: { a: { heads: { day: 2, nigth: 1 } } },
        calendar: { shifts: { day, night: { from: '18:00', to: '06:00' } } },
      }),
      [
        'crews "a" → heads → "nigth": found an unknown shift, expected a shift of the calendar: "day" or "night" (did you mean "night"?)',
      ],
    ],
    [
      lineWith({ crews: { a: { heads: { day: 2 } }, b: { heads: {} } } }),
      [
        'crews "a" → heads → "day": found an unknown shift, expected a calendar with this shift',
        'crews "b" → heads: found an empty object, expected a number, or one for a shift',
      ],
    ],
    [
      lineWith({
        crews: { a: { heads: 2, skills: [] }, b: { heads: 1, skills: ['x', 'x'] }, c: { heads: 1.5 } },
      }),
      [
        'crews → c → heads: found 1.5, expected a whole number from 0 to 1000',
        'crews "a" → skills: found an empty list, expected at least one skill (without skills, its name is its skill)',
        'crews "b" → skills[1]: found "x", expected each skill once',
      ],
    ],
    // What is wrong with a crew does not take its skill away.
    [
      withCrews({ a: { heads: '2' } }, { skill: 'a' }),
      ['crews → a → heads: found "2", expected a whole number from 0 to 1000 (write it without quotes)'],
    ],
    [
      lineWith({ crews: { ' a': { heads: 1 } } }),
      ['crews: found " a", expected a name without blanks at its ends'],
    ],
    [
      lineWith({ crews: { a: { heads: 1 } }, fleets: { a: { number: 1 } } }),
      ['fleets "a": found "a", expected a name of its own (it is a skill of a crew)'],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('who moves carriers', () => {
  const moved = (by: string) => ({ ...cassettes, moved: { takes: '1 min', by } })
  it.each<[unknown, string[]]>([
    [{ ...between(moved('vans')), fleets: { vans: { number: 2 } } }, []],
    [{ ...between(moved('a')), crews: { a: { heads: 2 } } }, []],
    [
      { ...between(moved('vens')), fleets: { vans: { number: 2 } }, crews: { a: { heads: 2 } } },
      [
        'route[1] "cassettes" → moved → by: found "vens", expected a skill of a crew, or a fleet: "a" or "vans" (did you mean "vans"?)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})

describe('events and caps', () => {
  const event = { event: 'power dip', every: '30 d', lasts: '1 h' }
  const belt = { step: 'fire', belt: { spacing: '1 s', transit: '20 s' } }
  it.each<[unknown, string[]]>([
    [
      lineWith({
        events: [event, { ...event, event: 'water', steps: ['print'] }],
        cap: { wafers: 5, until: 'print' },
      }),
      [],
    ],
    [
      lineWith({
        events: [event, { ...event, steps: ['prnt', 'print', 'print'] }, { ...event, event: 'x', steps: [] }],
      }),
      [
        'events[1] "power dip" → event: found "power dip", expected a name of its own (events[0] has it)',
        'events[1] "power dip" → steps[0]: found "prnt", expected the name of a step (did you mean "print"?)',
        'events[1] "power dip" → steps[2]: found "print", expected each step once',
        'events[2] "x" → steps: found an empty list, expected at least one step; without steps, all are struck',
      ],
    ],
    [
      { ...routeOf(print, { buffer: 'rack', capacity: 5 }, belt), events: [{ ...event, inside: 'restart' }] },
      [
        'events[0] "power dip" → inside: found "restart", expected what "fire" can do too (the wafers on a belt cannot begin anew)',
      ],
    ],
    [
      { ...routeOf(print, { buffer: 'rack', capacity: 5 }, belt), events: [{ ...event, inside: 'run out' }] },
      [
        'events[0] "power dip" → inside: found "run out", expected what "print" can do too (only the wafers on a belt can run out)',
      ],
    ],
    [
      { ...singleWith({ stops: [jam] }), events: [{ ...event, event: 'jam' }] },
      [
        'events[0] "jam" → event: found "jam", expected a name of its own (a stop of "print" has it, and reports show both)',
      ],
    ],
    [
      { ...between({ buffer: 'rack', capacity: 5 }), cap: { wafers: 9, until: 'rack' } },
      ['cap → until: found "rack", expected the name of a step ("rack" is a buffer)'],
    ],
    [
      lineWith({ cap: { wafers: 0, until: 'prin' } }),
      [
        'cap → wafers: found 0, expected a whole number from 1 to 10000000',
        'cap → until: found "prin", expected the name of a step (did you mean "print"?)',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
