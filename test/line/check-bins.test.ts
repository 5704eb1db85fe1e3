import { describe, expect, it } from 'vitest'
import { applyVariant, describeVariant } from '../../sim/line/vary.ts'
import { lineWith, problemsIn, valid, wafer, warningsIn } from './lines.ts'

/** Colours and boxes of the bins. Texts as they are shown. */

const edges = { first: '22 %', width: '0.1 %', count: 20 }
const test = { step: 'test', cycle: '2 s', test: {} }
const swap = { lasts: '20 s' }
const sortingInto = (bins: object, more: object = {}) =>
  lineWith({ wafer, bins: { ...edges, ...bins }, route: [test], ...more })
const boxesOf = (boxes: object, more: object = {}) =>
  sortingInto({ boxes: { holds: 100, swap, ...boxes } }, more)
const sort = { step: 'sort', cycle: '1 s' }
const pack = { step: 'pack', cycle: '1 s' }
const store = { buffer: 'store', capacity: 9 }
const belted = { step: 'test', belt: { spacing: '1 s', transit: '9 s', whenFull: 'stop' }, test: {} }
const lanesOf = (each: object[]) => [{ group: 'g', lanes: ['a', 'b'], each }]
const operators = (heads: number) => ({ crews: { operators: { heads } } })

describe('colours', () => {
  it.each<[object, string[]]>([
    [{ colours: { light: '30 %', dark: '70 %' } }, []],
    // In doubles 0.1 + 0.2 + 0.7 is not 1.
    [{ colours: { light: '10 %', medium: '20 %', dark: '70 %' } }, []],
    [{ colours: {} }, ['bins → colours: found an empty object, expected at least one colour']],
    [
      { colours: { light: '30 %', dark: '60 %' } },
      [
        'bins → colours: found 90 % in all, expected shares that add up to 100 % (a cell has one of the colours)',
      ],
    ],
    [
      { colours: { light: '30', dark: '60 %' } },
      [
        'bins → colours → light: found "30", expected a share such as "0.5 %" (units: %, ppm) (its unit is missing)',
      ],
    ],
    [
      { colours: 3 },
      [
        'bins → colours: found 3, expected an object with the share of each colour, such as { light: "40 %", dark: "60 %" }',
      ],
    ],
  ])('%j', (bins, problems) => {
    expect(problemsIn(sortingInto(bins))).toEqual(problems)
  })
})

describe('boxes', () => {
  it.each<[object, string[]]>([
    [boxesOf({}), []],
    [boxesOf({ perOutput: 3, ownBins: [5, 15] }), []],
    [boxesOf({ swap: { ...swap, skill: 'operators' } }, operators(1)), []],
    [
      boxesOf({ ownBins: '5' }),
      [
        'bins → boxes → ownBins: found "5", expected the first and the last bin with outputs of their own, as in [5, 15]',
      ],
    ],
    [boxesOf({ ownBins: [5, 21] }), ['bins → boxes → ownBins: found [5,21], expected bins from 1 to 20']],
    [
      boxesOf({ ownBins: [9, 5] }),
      [
        'bins → boxes → ownBins: found [9,5], expected the first and the last bin with outputs of their own, as in [5, 15]',
      ],
    ],
    [
      boxesOf({ holds: 0, swap: undefined }),
      [
        'bins → boxes → holds: found 0, expected a whole number from 1 to 10000000',
        'bins → boxes → swap: found nothing, expected an object such as { lasts: "20 s", skill: "operators" }',
      ],
    ],
    [
      boxesOf({ swap: { ...swap, people: 2 } }),
      [
        'bins → boxes → swap → people: found 2, expected none without "skill" (without a skill it needs nobody)',
      ],
    ],
    [
      boxesOf({ swap: { ...swap, skill: 'operatrs' } }, operators(1)),
      [
        'bins → boxes → swap → skill: found "operatrs", expected a skill of a crew: "operators" (did you mean "operators"?)',
      ],
    ],
    [
      boxesOf({}, { route: [{ step: 'test', belt: { spacing: '1 s', transit: '9 s' }, test: {} }] }),
      [
        'bins → boxes: found boxes behind "test", a belt, expected a last test with cycle or cycles (a full box holds the one cell that the tool has in work)',
      ],
    ],
    [boxesOf({ at: 'sort' }, { route: [belted, sort] }), []],
    [boxesOf({ at: 'sort' }, { route: [...lanesOf([store, test]), sort] }), []],
    [
      boxesOf({ at: 'srt' }, { route: [test, sort, pack] }),
      [
        'bins → boxes → at: found "srt", expected a step behind the last test: "sort" or "pack" (did you mean "sort"?)',
      ],
    ],
    [
      boxesOf({ at: 'test' }, { route: [sort, test] }),
      [
        'bins → boxes → at: found "test", expected a step behind the last test, but there is none that all tested cells come to',
      ],
    ],
    // In one of two lanes that differ: behind them there are cells that nobody has tested.
    [
      boxesOf(
        { at: 'sort' },
        { route: [{ group: 'g', lanes: { a: [store, test], b: [{ ...store, buffer: 'b' }, pack] } }, sort] },
      ),
      [
        'bins → boxes → at: found "sort", expected a step behind the last test, but there is none that all tested cells come to',
      ],
    ],
    [
      boxesOf({ at: 'oven' }, { route: [test, store, { step: 'oven', batch: { load: 2, time: '1 s' } }] }),
      [
        'bins → boxes → at: found boxes behind "oven", a batch tool, expected a step with cycle or cycles (a full box holds the one cell that the tool has in work)',
      ],
    ],
    [boxesOf({ at: 3 }, { route: [test, sort] }), ['bins → boxes → at: found 3, expected a name']],
  ])('%#', (line, problems) => {
    expect(problemsIn(line)).toEqual(problems)
  })

  it('warn of people who are never there, or who have too much to do', () => {
    expect(warningsIn(boxesOf({ swap: { ...swap, skill: 'operators', people: 2 } }, operators(1)))).toEqual([
      'bins → boxes → swap → people: found 2, expected at most 1, as many as a crew for "operators" ever has (full boxes stay for ever)',
    ])
    // A cell every 2 s: a box of 10 in 20 s, each 30 s of work.
    expect(
      warningsIn(boxesOf({ holds: 10, swap: { lasts: '30 s', skill: 'operators' } }, operators(1))),
    ).toEqual([
      'crews "operators" → heads: found 1 on average, expected at least 2 (what is asked of them would take 150 % of their time, so tools must wait for them)',
    ])
  })

  it('are changed by a variant key by key', () => {
    const line = valid(
      boxesOf(
        { swap: { ...swap, skill: 'operators' } },
        {
          ...operators(1),
          variants: { it: { line: { bins: { boxes: { perOutput: 1, swap: { lasts: '40 s' } } } } } },
        },
      ),
    )
    expect(applyVariant(line, 'it').bins).toEqual({
      ...edges,
      boxes: { holds: 100, perOutput: 1, swap: { lasts: '40 s', skill: 'operators' } },
    })
    expect(describeVariant(line, 'it')).toEqual([
      'line: bins boxes swap lasts 20 s -> 40 s',
      'line: bins boxes perOutput 2 -> 1',
    ])
  })
})
