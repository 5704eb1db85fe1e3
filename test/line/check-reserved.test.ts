import { describe, expect, it } from 'vitest'
import { wipCsv } from '../../reports/csv/places.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { lineWith, problemsIn, routeOf, singleWith, valid } from './lines.ts'

/** Names that the results give themselves. */

const OTHER = 'expected another name (the results call something else so)'
const wafer = { area: '330 cm2', efficiency: { mean: '23 %' } }
const stop = (name: string) => ({ stop: name, every: '2 h', lasts: '5 min' })

/** A line that makes the program give every name it has. */
const everything = {
  line: 'all that has a name',
  wafer,
  calendar: { shifts: { day: { from: '00:00', to: '01:00' }, late: { from: '01:30', to: '00:00' } } },
  feed: { rate: '900 wafers/h' },
  route: [
    { step: 'etch', cycle: '2 s', breakage: { share: '1 %', clearing: { lasts: '1 min' } } },
    { step: 'rinse', belt: { spacing: '2 s', transit: '4 s' }, warmUp: { after: '1 min', lasts: '1 min' } },
    { buffer: 'cassettes', capacity: 100 },
    {
      step: 'coat',
      batch: {
        load: 50,
        time: '2 min',
        boats: { perTool: 2, cleaning: { every: 2, lasts: '1 min', coating: '1 min' } },
      },
      timeLimits: [{ after: 'etch', atMost: '1 h', late: { to: 'etch', atMost: 1 } }],
    },
    { buffer: 'magazine', capacity: 100 },
    { step: 'test', cycle: '2 s', rework: { share: '2 %', to: 'etch', atMost: 1 } },
  ],
}
const given = ['etch', 'rinse', 'cassettes', 'coat', 'magazine', 'test']

async function resultsOf(line: object): Promise<RunStudy> {
  const options = { days: 0.1, replications: 1, seed: '1', drive: 'eager', cap: 1, level: 0.95 } as const
  return runStudy(valid(line), { ...options, version: 'test' })
}

describe('names that results give themselves', () => {
  it('are known, and refused as names of stops, of events and of items', async () => {
    const study = await resultsOf(everything)
    const stops = [...new Set(study.steps.flatMap(step => step.stops.map(({ stop }) => stop)))]
    expect(stops.sort()).toEqual([
      'clearing of shards',
      'closed',
      'coating of a boat',
      'warm-up after a long stop',
    ])
    for (const name of stops) {
      expect(problemsIn(singleWith({ stops: [stop(name)] }))).toEqual([
        `route[0] "print" → stops[0] "${name}" → stop: found "${name}", ${OTHER}`,
      ])
      expect(problemsIn(lineWith({ events: [{ event: name, every: '9 d', lasts: '1 h' }] }))).toEqual([
        `events[0] "${name}" → event: found "${name}", ${OTHER}`,
      ])
    }
    const columns = wipCsv(study).split('\n')[0].split(',')
    const places = columns.flatMap(head => (head.endsWith(' [wafers]') ? [head.slice(0, -9)] : []))
    const own = places.filter(name => !given.includes(name))
    expect(own.sort()).toEqual(['hand-over', 'in the line', 'late for coat', 'rework of test'])
    for (const name of own) {
      const route = everything.route.map(item => (item.buffer ? { ...item, buffer: `${name}` } : item))
      const problems = problemsIn({ ...everything, route: route.filter((_, i) => i !== 4) })
      expect(problems).toContain(`route[2] "${name}" → buffer: found "${name}", ${OTHER}`)
    }
  })

  it('of a way back are free where there is no such step', () => {
    const buffer = { buffer: 'rework of tests', capacity: 5 }
    expect(
      problemsIn(routeOf({ step: 'test', cycle: '2 s' }, buffer, { step: 'pack', cycle: '2 s' })),
    ).toEqual([])
  })

  it('are refused as names of variants', () => {
    expect(problemsIn(lineWith({ variants: { 'as it is': {} } }))).toEqual([
      `variants "as it is": found "as it is", ${OTHER}`,
    ])
  })
})

describe('steps in lanes', () => {
  const print = (step: string) => ({ step, cycle: '2 s' })
  const lanes = (names: readonly string[], ...each: unknown[]) => ({
    group: names.join(),
    lanes: names,
    each,
  })

  it('have names of their own with that of the lane', () => {
    expect(problemsIn(routeOf(lanes(['A', 'B'], print('print')), print('B print')))).toEqual([
      'route[1] "B print" → step: found "B print", expected another name (with its lane it is "B print", as another step is)',
    ])
    expect(problemsIn(routeOf(lanes(['A'], print('B print')), lanes(['A B'], print('print'))))).toEqual([
      'route[1] "A B" → each[0] "print" → step: found "print", expected another name (with its lane it is "A B print", as another step is)',
    ])
    expect(problemsIn(routeOf(lanes(['A', 'B'], print('print')), print('C print')))).toEqual([])
  })

  it('have them in lanes within lanes', () => {
    const inner = lanes(['left', 'right'], print('print'))
    expect(problemsIn(routeOf(print('A left print'), lanes(['A', 'B'], inner)))).toHaveLength(1)
    expect(problemsIn(routeOf(print('A print'), lanes(['A', 'B'], inner)))).toEqual([])
  })
})
