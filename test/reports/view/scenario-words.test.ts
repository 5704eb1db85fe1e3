import { describe, expect, it } from 'vitest'
import { assumptionsOf, sourcesOf } from '../../../reports/view/scenario-words.ts'
import type { Line } from '../../../sim/line/types.ts'

const line: Line = {
  line: 'words',
  target: '1500 wafers/h',
  route: [
    {
      step: 'print',
      tools: 2,
      cycle: { lognormal: '2.4 s', cv: 0.1 },
      stops: [
        {
          stop: 'jam',
          every: { exponential: '3 h' },
          lasts: { uniform: ['1 min', '3 min'] },
          inside: { lose: [1, 3] },
          from: 'a log book',
        },
      ],
      from: 'invented',
    },
    {
      group: 'lanes',
      lanes: ['A', 'B'],
      each: [{ step: 'test', cycle: '1.3 s', test: { rejectBelow: '22 %' } }],
    },
  ],
}

describe('a scenario in words', () => {
  const said = assumptionsOf(line)

  it('says what is assumed of each item, stops and lanes among them', () => {
    expect(said).toEqual([
      { item: 'target', kind: 'line', says: ['1500 wafers/h'], from: '' },
      {
        item: 'print',
        kind: 'step',
        says: ['tools 2', 'time per wafer 2.4 s on average (lognormal, coefficient of variation 0.1)'],
        from: 'invented',
      },
      {
        item: 'print: jam',
        kind: 'stop',
        says: ['every 3 h on average (exponential)', 'lasts 1 min to 3 min (uniform)', 'inside lose 1, 3'],
        from: 'a log book',
      },
      { item: 'lanes', kind: 'group', says: ['side by side A, B'], from: '' },
      { item: 'test', kind: 'step', says: ['time per wafer 1.3 s', 'test reject below 22 %'], from: '' },
    ])
  })

  it('counts where it comes from, what says nothing too', () => {
    expect(sourcesOf(said)).toEqual([
      { from: 'no source of its own', times: 3 },
      { from: 'invented', times: 1 },
      { from: 'a log book', times: 1 },
    ])
  })

  it('says when shifts begin and end', () => {
    const shifts = { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } } as const
    const [, calendar] = assumptionsOf({ ...line, calendar: { shifts, from: 'a plan' } })
    expect(calendar).toEqual({
      item: 'calendar',
      kind: 'line',
      says: ['shifts day from 06:00, to 18:00, night from 18:00, to 06:00'],
      from: 'a plan',
    })
  })
})

it('of a log of stops the mean is told, of a few values all', () => {
  const lasts = (...observed: `${number} min`[]) => {
    const route = [
      { step: 'print', cycle: '2 s', stops: [{ stop: 'jam', every: '1 h', lasts: { observed } }] },
    ]
    return assumptionsOf({ line: 'log', route } as Line).at(-1)?.says[1]
  }
  expect(lasts('20 min', '22 min', '24 min', '26 min', '28 min', '30 min')).toBe(
    'lasts 25 min on average (6 observed values)',
  )
  expect(lasts('1 min', '2 min')).toBe('lasts 1 min, 2 min (observed)')
})
