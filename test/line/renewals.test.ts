import { describe, expect, it } from 'vitest'
import { capacityTable } from '../../sim/line/capacity.ts'
import type { Stop } from '../../sim/line/types.ts'
import { checked } from '../study/lines.ts'
import { warningsIn } from './lines.ts'

/**
 * Paper availability of a tool whose stops renew one another, against closed forms: by age worked =
 * E min(X, T), by block M(T) failures for T worked (Barlow & Proschan 1965, Mathematical Theory of Reliability,
 * chapters 3 and 4; Cox 1962, Renewal Theory, chapter 4; both from memory).
 */
const SERVICE = { stop: 'service', lasts: '1 h', kind: 'scheduled', renews: ['failure'] } as const
const up = (worked: number, ...down: number[]) => worked / (worked + down.reduce((a, b) => a + b, 0))

const availabilityOf = (...stops: (Partial<Stop> & { readonly stop: string })[]) =>
  capacityTable(checked({ route: [{ step: 'print', cycle: '36 s', stops }] }))[0].availability

const failure = (every: object | string | number, more: Partial<Stop> = {}) => ({
  ...{ stop: 'failure', every: every as NonNullable<Stop['every']>, lasts: '3 h' as const },
  ...more,
})
const ERLANG2 = { gamma: '20 h', cv: Math.SQRT1_2 }
const UNIFORM = { uniform: ['0 h', '40 h'] }

describe('availability on paper', () => {
  it.each([
    // By block: M(T) of two exponential phases, and of a uniform law.
    ['Erlang', failure(ERLANG2), '10 h', up(10, 1, 3 * (0.5 - 0.25 + Math.exp(-2) / 4))],
    ['uniform', failure(UNIFORM), '30 h', up(30, 1, 3 * Math.expm1(0.75))],
    // What has no memory fails as often as without.
    ['exponential', failure({ exponential: '20 h' }), '15 h', up(15, 1, 3 * 0.75)],
    // By age: worked T - T^2 / 80.
    [
      'uniform, by age',
      failure(UNIFORM, { renews: ['service'] }),
      '15 h',
      up(15 - 225 / 80, 3 * 0.375, 0.625),
    ],
    // Never due.
    ['fixed', failure('20 h'), '15 h', up(15, 1)],
    // Once between two services.
    ['fixed, once', failure('20 h'), '35 h', up(35, 1, 3)],
    // 100 wafers of 36 s are an hour.
    ['by wafers', failure(1500, { counts: 'wafers' }), '35 h', up(35, 1, 6)],
  ])('with lives that are %s', (_, fails, every, expected) => {
    expect(availabilityOf(fails, { ...SERVICE, every: every as '1 h' })).toBeCloseTo(expected, 3)
  })

  it('with service by the calendar and by the clock', () => {
    // Of 36 h of the calendar the service takes 1; a life of 20 h comes once in the rest, which its repair shortens to 32 h of work.
    const daily = { ...SERVICE, counts: 'calendar time', every: '35 h' } as const
    expect(availabilityOf(failure('20 h'), daily)).toBeCloseTo(32 / 36, 3)
    // Of 168 h: 167 between, 7 lives of 20 h with their repairs are 161 h, the eighth is not over.
    const weekly = { ...SERVICE, at: ['Mon 06:00'] } as const
    expect(availabilityOf(failure('20 h'), weekly)).toBeCloseTo((168 - 1 - 21) / 168, 3)
  })

  it('with service by the clock at uneven times', () => {
    // Service 6 to 7 and 8 to 9; the failure comes after 15 h of work, at 24, and lasts until 3.
    const twice = { ...SERVICE, at: ['06:00', '08:00'] } as const
    expect(availabilityOf(failure('15 h'), twice)).toBeCloseTo(19 / 24, 3)
  })

  it('with stops of two sizes, of which the larger is the smaller as well', () => {
    // Service after 10, 20, 30 h, overhaul after 35: no life of 12 h is ever over.
    const small = { ...SERVICE, every: '10 h' } as const
    const large = { ...SERVICE, stop: 'overhaul', every: '35 h', lasts: '5 h' } as const
    expect(availabilityOf(failure('12 h'), small, { ...large, renews: ['failure', 'service'] })).toBeCloseTo(
      up(35, 3, 5),
      6,
    )
  })

  it('with all else down beside it', () => {
    const jam = { stop: 'jam', every: '4 h', lasts: '1 h' } as const
    expect(availabilityOf(failure('20 h'), { ...SERVICE, every: '35 h' }, jam)).toBeCloseTo(
      up(35, 1, 3, 35 / 4),
      6,
    )
  })
})

describe('warnings of runs', () => {
  const warned = (days: number, more: Partial<Stop> = {}) =>
    warningsIn({
      line: 'x',
      route: [
        {
          ...{ step: 'print', cycle: '36 s' },
          stops: [failure(UNIFORM), { ...SERVICE, every: '35 h', ...more }],
        },
      ],
      run: { days, replications: 40 },
    })

  it('say that in a short run even what is renewed comes too seldom', () => {
    // From new, 12 h of work have exp(0.3) - 1 = 0.35 failures; for ever it is exp(0.875) - 1 = 1.4 in 35 h of work.
    const spread = { counts: 'calendar time', first: 'at random' } as const
    expect(warned(0.5, spread)).toEqual([
      expect.stringMatching(
        /"failure" → every: found .*each tool has about 0\.3\d of them in a run, where it will have 0\.4\d/,
      ),
    ])
    expect(warned(40)).toEqual([])
  })

  const told = (...stops: object[]) =>
    warningsIn({
      ...{ line: 'x', run: { days: 400, replications: 10 } },
      route: [{ step: 'print', cycle: '36 s', stops }],
    })

  it('tell what never comes, and not that longer runs would show it', () => {
    expect(told(failure('20 h'), { ...SERVICE, every: '15 h' })).toEqual([
      'route[0] "print" → stops[0] "failure" → every: found an interval that is never over, expected a shorter one, or nothing that renews it so often (what renews it always comes before it is due)',
    ])
  })

  it.each([
    [{ exponential: '20 h' }, 'what has no memory comes as often as without'],
    [{ weibull: '20 h', shape: 0.7 }, 'what fails early comes more often when it is renewed'],
    [{ gamma: '20 h', cv: 1.2 }, 'what fails early comes more often when it is renewed'],
  ])('tell that renewing %o wins nothing', (every, text) => {
    const [warning, ...others] = told(failure(every), { ...SERVICE, every: '15 h' })
    expect(warning).toContain(`stops[1] "service" → renews[0]: found "failure", expected a stop that wears`)
    expect(warning).toContain(text)
    expect(others).toEqual([])
  })

  it('tell that a stop by the clock comes all the same, and that levels are not named in full', () => {
    const daily = { stop: 'check', at: ['06:00'], lasts: '10 min' }
    expect(told(daily, { ...SERVICE, every: '15 h', renews: ['check'] }).join()).toContain(
      'found "check", expected a stop with "every" (it comes at its times by the clock all the same)',
    )
    const yearly = { ...SERVICE, stop: 'overhaul', every: '90 h', renews: ['service'] }
    expect(told(failure(UNIFORM), { ...SERVICE, every: '15 h' }, yearly)).toEqual([
      'route[0] "print" → stops[2] "overhaul" → renews: found "service" without "failure", expected both ("service" renews it, but what is renewed renews nothing in turn)',
    ])
  })
})
