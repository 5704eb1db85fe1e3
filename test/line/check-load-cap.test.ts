import { describe, expect, it } from 'vitest'
import { applyVariant, describeVariant } from '../../sim/line/vary.ts'
import { problemsIn, routeOf, valid } from './lines.ts'

/** Caps on the loads of a batch step. Texts as they are shown. */

const tube = (cap: object, load = 100) => [
  { buffer: 'before tube', capacity: 500 },
  { step: 'tube', batch: { load, time: '1 h', cap } },
  { buffer: 'behind tube', capacity: 500 },
]
const print = { step: 'print', cycle: '2 s' }
const oven = { step: 'oven', batch: { load: 50, least: 40, time: '20 min' } }
const cassettes = { carriers: 'cassettes', holds: 25, number: 40, moved: { takes: '1 min' } }
const where = 'route[1] "tube" → batch → cap'

describe('a cap on loads', () => {
  it.each<[string, object, string[]]>([
    ['is right', routeOf(...tube({ wafers: 100, until: 'print' }), print), []],
    [
      'has two keys',
      routeOf(...tube({ wafers: '100' }), print),
      [
        `${where} → wafers: found "100", expected a whole number from 1 to 10000000 (write it without quotes)`,
        `${where} → until: found nothing, expected a name`,
      ],
    ],
    [
      'ends at a later step',
      routeOf(print, ...tube({ wafers: 900, until: 'print' }), oven),
      [
        'route[2] "tube" → batch → cap → until: found "print", expected a later step that all wafers come to: "oven"',
      ],
    ],
    [
      'does not end at its own',
      routeOf(...tube({ wafers: 900, until: 'tube' }), print),
      [`${where} → until: found "tube", expected a later step that all wafers come to: "print"`],
    ],
    [
      'says what was meant',
      routeOf(...tube({ wafers: 900, until: 'pritn' }), print),
      [
        `${where} → until: found "pritn", expected a later step that all wafers come to: "print" (did you mean "print"?)`,
      ],
    ],
    [
      'needs one',
      routeOf(...tube({ wafers: 900, until: 'print' }).slice(0, 2)),
      [`${where} → until: found "print", expected a later step that all wafers come to, but there is none`],
    ],
    // 100, 24 in a carrier that waits for one more, 39 before the oven.
    [
      'lets loads and carriers come together',
      routeOf(
        ...tube({ wafers: 163, until: 'print' }),
        cassettes,
        { buffer: 'b', capacity: 90 },
        oven,
        { buffer: 'c', capacity: 90 },
        print,
      ),
      [],
    ],
    [
      'does not hold the line for ever',
      routeOf(
        ...tube({ wafers: 162, until: 'print' }),
        cassettes,
        { buffer: 'b', capacity: 90 },
        oven,
        { buffer: 'c', capacity: 90 },
        print,
      ),
      [
        `${where} → wafers: found 162, expected at least 163 (a load here, and what carriers and loads on the way wait for, must fit in together)`,
      ],
    ],
    [
      'has room for a load',
      routeOf(...tube({ wafers: 99, until: 'print' }), print),
      [
        `${where} → wafers: found 99, expected at least 100 (a load here, and what carriers and loads on the way wait for, must fit in together)`,
      ],
    ],
    [
      'ends in equal lanes',
      routeOf(...tube({ wafers: 100, until: 'print' }), { group: 'lanes', lanes: ['A', 'B'], each: [print] }),
      [],
    ],
    [
      'or behind the lanes it stands in',
      routeOf({ group: 'lanes', lanes: ['A', 'B'], each: tube({ wafers: 100, until: 'print' }) }, print),
      [],
    ],
    [
      'does not end in one lane of several',
      routeOf(...tube({ wafers: 100, until: 'print' }), {
        group: 'lanes',
        lanes: { A: [print], B: [{ step: 'other', cycle: '2 s' }] },
      }),
      [`${where} → until: found "print", expected a later step that all wafers come to, but there is none`],
    ],
  ])('%s', (_, line, problems) => {
    expect(problemsIn(line)).toEqual(problems)
  })

  it('is changed by a variant key by key', () => {
    const line = valid({
      ...routeOf(...tube({ wafers: 200, until: 'print' }), print),
      variants: {
        it: { tube: { batch: { cap: { wafers: 300 } } } },
        none: { tube: { batch: { cap: null } } },
      },
    })
    expect(applyVariant(line, 'it').route[1]).toMatchObject({
      batch: { cap: { wafers: 300, until: 'print' } },
    })
    expect(describeVariant(line, 'it')).toEqual(['tube: batch cap wafers 200 -> 300'])
    expect(applyVariant(line, 'none').route[1]).toEqual({ step: 'tube', batch: { load: 100, time: '1 h' } })
  })
})
