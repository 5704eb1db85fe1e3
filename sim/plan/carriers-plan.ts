import type { Carriers } from '../line/types.ts'
import { share, ticks, timeLaw } from './laws.ts'
import { callPlan } from './people.ts'
import type { CarriersPlan, PeoplePlan } from './plan.ts'

type Own = Exclude<keyof CarriersPlan, 'kind' | 'name' | 'step' | 'place' | 'inputs' | 'outputs'>

export function carriersPlan(item: Carriers, people: PeoplePlan): Pick<CarriersPlan, Own> {
  const { takes, by, perTrip, returns, priority } = item.moved
  const { cleaning, breakage } = item
  const call = callPlan({ ...(by !== undefined && { skill: by }), priority: priority ?? 0 }, people)
  return {
    holds: item.holds,
    number: item.number,
    fullAtMost: item.fullAtMost ?? item.number,
    longestWait: item.longestWait === undefined ? Infinity : ticks(item.longestWait),
    takes: timeLaw(takes),
    ...(call && { call }),
    perTrip: perTrip ?? 1,
    returns: returns === undefined ? 0 : ticks(returns),
    back: item.back === undefined ? 0 : ticks(item.back),
    ...(cleaning && { cleaning: { every: cleaning.every, lasts: timeLaw(cleaning.lasts) } }),
    ...(breakage && {
      breakage: { share: share(breakage.share), replacedAfter: timeLaw(breakage.replacedAfter) },
    }),
  }
}
