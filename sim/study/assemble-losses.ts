import { crewWindow } from '../measure/people.ts'
import type { Rows } from '../measure/rows.ts'
import type { WindowFigures } from '../measure/window.ts'
import { type Plan, TICKS_PER_HOUR } from '../plan/plan.ts'
import { estimateOf } from './assemble.ts'
import type { CrewFigures, HiddenDefectFigures, TimeLimitFigures } from './run-study.ts'

/** The people and vehicles; none when nobody is called. @param cut first coarse block of the window */
export function crewFigures(plan: Plan, rows: readonly Rows[], cut: number, level: number): CrewFigures[] {
  const people = plan.stations.find(station => station.kind === 'desk')?.people
  if (!people) return []
  return people.crews.map(({ name, kind }, crew) => {
    const windows = rows.flatMap(r => (r.people ? [crewWindow(people, r.people, crew, r.blocks, cut)] : []))
    const of = (figure: (window: (typeof windows)[number]) => number | undefined) =>
      estimateOf(windows.map(figure), level)
    return {
      name,
      kind,
      utilisation: of(w => w.utilisation),
      byShift: people.shifts.map((shift, s) => ({
        shift,
        heads: windows[0]?.byShift[s].heads ?? 0,
        utilisation: of(w => w.byShift[s].utilisation),
      })),
      callsPerDay: of(w => w.callsPerDay),
      waitMinutes: of(w => w.waitMinutes),
      waitMinutesP95: of(w => w.waitMinutesP95),
    }
  })
}

export function timeLimitFigures(
  plan: Plan,
  windows: readonly WindowFigures[],
  level: number,
): TimeLimitFigures[] {
  return plan.steps.flatMap((step, index) => {
    const station = plan.stations.find(s => s.step === index && 'timeLimits' in s)
    if (!station || !('timeLimits' in station)) return []
    return station.timeLimits.map(({ after, atMost }, l) => {
      const of = (figure: (late: WindowFigures['steps'][number]['late'][number]) => number) =>
        estimateOf(
          windows.map(w => figure(w.steps[index].late[l])),
          level,
        )
      return {
        step,
        after: plan.steps[after],
        limitMinutes: atMost / (TICKS_PER_HOUR / 60),
        latePerDay: of(late => late.late),
        share: estimateOf(
          windows.map(w => shareOf(w.steps[index], l)),
          level,
        ),
        scrappedPerDay: of(late => late.scrapped),
        sentBackPerDay: of(late => late.sentBack),
      }
    })
  })
}

/** Late wafers as a share of those that came to the step: those started there, and those that a limit kept from it. */
function shareOf({ late, startsPerHour }: WindowFigures['steps'][number], l: number): number | undefined {
  const gone = late.reduce((sum, { scrapped, sentBack }) => sum + scrapped + sentBack, 0)
  const all = startsPerHour * 24 + gone
  return all > 0 ? late[l].late / all : undefined
}

export function hiddenDefectFigures(
  plan: Plan,
  windows: readonly WindowFigures[],
  level: number,
): HiddenDefectFigures[] {
  if (!plan.marks) return []
  const all = plan.steps.map((made, step) => ({
    made,
    rejectedPerDay: estimateOf(
      windows.map(w => w.originsPerDay[step]),
      level,
    ),
  }))
  return all.filter(({ rejectedPerDay }) => rejectedPerDay.mean > 0)
}
