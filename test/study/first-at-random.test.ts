import { describe, expect, it } from 'vitest'
import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Stop } from '../../sim/line/types.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

/**
 * Short runs of a tool of 360 wafers/h that wears, against its rate in the long run by renewal theory,
 * 360 x up / (up + down) (Cox 1962, Renewal Theory, section 7.2, from memory).
 */
const WORN: readonly (readonly [string, number, Partial<Stop>, number])[] = [
  ['wafers', 2, { counts: 'wafers', every: 10_000 }, (360 * 27.78) / (27.78 + 4)],
  ['running time', 4, { every: '50 h' }, (360 * 50) / 54],
  ['running time that scatters', 4, { every: { weibull: '60 h', shape: 4 } }, (360 * 60) / 64],
  ['calendar time', 4, { counts: 'calendar time', every: { uniform: ['50 h', '70 h'] } }, (360 * 60) / 64],
]

const lineWith = (stop: Partial<Stop>) =>
  checked({ route: [{ step: 'print', cycle: '10 s', stops: [{ stop: 'overhaul', lasts: '4 h', ...stop }] }] })

async function made(stop: Partial<Stop>, days: number) {
  const options = { ...optionsOf({ days, replications: 200 }), cap: 200 }
  return (await runStudy(lineWith(stop), options)).goodOutput.perHour
}

describe('a tool that wears, in short runs', () => {
  it.each(WORN)(
    'that begin within an interval of %s makes what it makes for ever',
    async (_, days, stop, rate) => {
      const { mean, low = 0, high = 0 } = await made({ ...stop, first: 'at random' }, days)
      // A tool that is down when the run begins is not known: the run begins with one that is up, up to half a stop of 4 h too little.
      expect(mean / rate).toBeGreaterThan(0.99)
      expect(mean / rate).toBeLessThan(1 + 2 / (24 * days))
      expect(high - low).toBeGreaterThan(0.5)
    },
  )

  it('that begin with all of it new makes too much', async () => {
    const [, days, stop, rate] = WORN[0]
    expect((await made(stop, days)).mean / rate).toBeGreaterThan(1.04)
  })
})

describe('a tool whose service renews what fails, in runs of 12 h', () => {
  /**
   * A uniform life of 0 to 40 h, and service after 30 h of work. By block exp(30 / 40) - 1 failures come between two;
   * by age 3 of 4 pieces fail, having worked 18.75 h on average (Cox 1962, Renewal Theory, from memory). All new, 12 h have exp(12 / 40) - 1.
   */
  const failure = {
    ...{ stop: 'failure', every: { uniform: ['0 h', '40 h'] }, lasts: '1 min', first: 'at random' },
  }
  const service = { stop: 'service', every: '30 h', lasts: '1 min', kind: 'scheduled', renews: ['failure'] }
  const random = { ...service, first: 'at random' }
  const staggered = { counts: 'calendar time', every: '30 h', first: { from: '0 h', to: '30 h' } }

  it.each([
    ['by block', failure, random, Math.expm1(0.75) / 30, 1 / 30],
    ['by age', { ...failure, renews: ['service'] }, random, 0.75 / 18.75, 0.25 / 18.75],
    ['by block, service staggered', failure, { ...service, ...staggered }, Math.expm1(0.75) / 30, 1 / 30],
    // A walk of a fixed length must not decide where in its interval the service begins.
    [
      'longer lives than the interval',
      { ...failure, every: { uniform: ['0 h', '80 h'] } },
      random,
      Math.expm1(30 / 80) / 30,
      1 / 30,
    ],
    [
      'by the calendar, down half of the time',
      failure,
      { ...random, counts: 'calendar time' },
      Math.expm1(15 / 40) / 15,
      1 / 15,
    ],
  ])(
    'that begin at random each stop comes as often as for ever: %s',
    async (_, one, other, fails, serves) => {
      const half = serves > 0.05 ? [{ stop: 'jam', every: '1 h', lasts: '1 h', first: 'at random' }] : []
      const line = checked({
        route: [{ step: 'print', tools: 10, cycle: '60 s', stops: [one, other, ...half] }],
      })
      const options = { ...optionsOf({ days: 0.5, replications: 400 }), cap: 400 }
      const { stops, states } = (await runStudy(line, options)).steps[0]
      const perHour = stops.map(({ perDay }) => perDay.mean / 24 / 10 / states.productive.mean)
      // Some 1,800 failures, known to 2 %.
      expect(perHour[0] / fails).toBeGreaterThan(0.93)
      expect(perHour[0] / fails).toBeLessThan(1.07)
      expect(perHour[1] / serves).toBeGreaterThan(0.9)
      expect(perHour[1] / serves).toBeLessThan(1.1)
    },
  )
})

it('a long interval begins anywhere, beside a short one and beside what is renewed by the clock', async () => {
  const wipe = { stop: 'wipe', counts: 'wafers', every: 2, lasts: '1 s', first: 'at random' }
  const check = { stop: 'check', at: ['Mon 06:00'], lasts: '1 min', renews: ['nozzle'] }
  const nozzle = { stop: 'nozzle', every: { weibull: '60 h', shape: 3 }, lasts: '1 min', first: 'at random' }
  const long = { every: '480 h', lasts: '1 min', kind: 'scheduled', first: 'at random' }
  const stops = [
    ...[wipe, check, nozzle],
    { stop: 'overhaul', ...long, renews: ['wipe'] },
    { stop: 'pump', every: { weibull: '800 h', shape: 4 }, lasts: '1 min', first: 'at random' },
    { stop: 'pump service', ...long, renews: ['pump'] },
  ]
  const line = checked({ route: [{ step: 'print', tools: 10, cycle: '10 min', stops }] })
  const options = { ...optionsOf({ days: 2, replications: 200 }), cap: 200 }
  const study = await runStudy(line, options)
  // One tenth of the 2,000 tools has each in its 48 h, known to 7 %.
  for (const s of [3, 5]) {
    expect(study.steps[0].stops[s].perDay.mean).toBeGreaterThan(0.8 * 0.5)
    expect(study.steps[0].stops[s].perDay.mean).toBeLessThan(1.2 * 0.5)
  }
})

it.each([
  ['beside at', { at: ['06:00'], first: 'at random' }, 'found "at random", expected none beside at'],
  [
    'beside afterIdle',
    { afterIdle: '2 h', first: 'at random' },
    'found "at random", expected none beside afterIdle',
  ],
  [
    'by wafers a time',
    { counts: 'wafers', every: 99, first: '2 h' },
    'expected "at random", or counts: "calendar time"',
  ],
  ['misspelt', { every: '2 h', first: 'random' }, 'found "random", expected "at random"'],
])('%s it is refused', (_, stop, text) => {
  const route = [{ step: 'print', cycle: '10 s', stops: [{ stop: 's', lasts: '4 h', ...stop }] }]
  expect(checkLine({ line: 'x', route }).problems.map(problemText).join()).toContain(text)
})
