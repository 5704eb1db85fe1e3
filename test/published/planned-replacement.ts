import cdf from '@stdlib/stats-base-dists-normal-cdf'
import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import type { Line, Stop } from '../../sim/line/types.ts'
import { type Check, checksOf, type Figure } from './check.ts'
import { share, within } from './figures.ts'
import { erlang, exponential, minutes } from './lines.ts'

/**
 * A tool that is renewed by planned work after every `planned` minutes of working, and by repair when it
 * fails before. By age: a failure, too, starts the planned interval anew; on average a cycle has
 * worked E min(X, T) when it ends, by failure with probability F(T). By block: planned work comes after T
 * of working whatever has failed; M(T) failures come in each block, M being the renewal function.
 */
const BARLOW_PROSCHAN =
  'Barlow & Proschan 1965, Mathematical Theory of Reliability, chapters 3 and 4 (value from the closed form, citation from memory)'
const COX = 'Cox 1962, Renewal Theory, Methuen, chapter 4 (value from the closed form, citation from memory)'

const check = checksOf('unreliable lines')

const REPAIR = 3
const SERVICE = 1

/** Long against the time up: what the tool makes does not matter here. */
const CYCLE = minutes(200)

function tool(id: string, every: Spread<Time>, planned: number, byAge: boolean): Line {
  const stops: Stop[] = [
    {
      stop: 'failure',
      every,
      lasts: exponential(REPAIR),
      ...(byAge && { renews: ['service'] }),
    },
    {
      stop: 'service',
      every: minutes(planned),
      lasts: minutes(SERVICE),
      kind: 'scheduled',
      renews: ['failure'],
    },
  ]
  return { line: id, route: [{ step: 'tool', cycle: CYCLE, stops }] }
}

/** Shares of time at work, failed and in planned work, from what a cycle has of each. */
function figures(works: number, failures: number, services: number): Figure[] {
  const cycle = works + failures * REPAIR + services * SERVICE
  return [
    share('tool', 'productive', works / cycle),
    ...within(0.03, [
      share('tool', 'unscheduledDown', (failures * REPAIR) / cycle),
      share('tool', 'scheduledDown', (services * SERVICE) / cycle),
    ]),
  ]
}

const MINUTES = 1e6

function byAge(
  id: string,
  law: string,
  every: Spread<Time>,
  planned: number,
  { meanShorter, fails }: { readonly meanShorter: number; readonly fails: number },
): Check {
  return check(
    id,
    `planned replacement by age after ${planned} min, lives ${law}: repair 3 min, planned work 1 min`,
    BARLOW_PROSCHAN,
    tool(id, every, planned, true),
    MINUTES,
    figures(meanShorter, fails, 1 - fails),
  )
}

function byBlock(id: string, law: string, every: Spread<Time>, planned: number, number: number): Check {
  return check(
    id,
    `planned replacement by block after ${planned} min, lives ${law}: repair 3 min, planned work 1 min`,
    COX,
    tool(id, every, planned, false),
    MINUTES,
    figures(planned, number, 1),
  )
}

/** Weibull of shape 2 with this mean: E min(X, T) is the integral of exp(-(x / scale)^2). */
function rayleigh(mean: number, planned: number) {
  const scale = (2 * mean) / Math.sqrt(Math.PI)
  return {
    meanShorter: mean * (2 * cdf(planned / scale, 0, Math.SQRT1_2) - 1),
    fails: -Math.expm1(-((planned / scale) ** 2)),
  }
}

function uniform(most: number, planned: number) {
  return { meanShorter: planned - planned ** 2 / (2 * most), fails: planned / most }
}

/** Two exponential phases: M(t) = t / m - 1/4 + exp(-4 t / m) / 4. */
function erlang2Number(mean: number, planned: number): number {
  return planned / mean - 0.25 + Math.exp((-4 * planned) / mean) / 4
}

const UNIFORM = { uniform: ['0 min', '40 min'] } as const

export const PLANNED_REPLACEMENT: readonly Check[] = [
  byAge('U-11a', 'Weibull of shape 2, mean 20', { weibull: minutes(20), shape: 2 }, 10, rayleigh(20, 10)),
  byAge('U-11b', 'Weibull of shape 2, mean 20', { weibull: minutes(20), shape: 2 }, 25, rayleigh(20, 25)),
  byAge('U-11c', 'uniform from 0 to 40', UNIFORM, 15, uniform(40, 15)),
  byBlock('U-12a', 'Erlang of 2 phases, mean 20', erlang(2, 20), 10, erlang2Number(20, 10)),
  byBlock('U-12b', 'Erlang of 2 phases, mean 20', erlang(2, 20), 60, erlang2Number(20, 60)),
  byBlock('U-12c', 'uniform from 0 to 40', UNIFORM, 30, Math.expm1(30 / 40)),
  // What has no memory is not helped: as many failures as without.
  byBlock('U-12d', 'exponential, mean 20', exponential(20), 15, 15 / 20),
]
