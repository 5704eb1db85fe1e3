import type {
  CrewFigures,
  HiddenDefectFigures,
  RunStudy,
  TimeLimitFigures,
} from '../../sim/study/run-study.ts'
import { amount, percent, significant, WAITS } from './format.ts'
import type { Section } from './page.ts'
import { columnsOf, tableOf } from './table.ts'

/** Charts and tables of crews and fleets, time limits, hidden defects: where the line has them. */
export function peopleSections(study: RunStudy): Section[] {
  return [crewsOf(study), timeLimitsOf(study), hiddenDefectsOf(study)].filter(
    section => section !== undefined,
  )
}

function crewsOf({ crews }: RunStudy): Section | undefined {
  if (crews.length === 0) return undefined
  const columns = columnsOf<CrewFigures>()
  const show = { digits: 2, most: 2 }
  return {
    id: 'crews',
    title: 'Crews and vehicles',
    lead: 'Share of their presence in which crews and vehicles work, the way to a call included; behind each how long a call waits until somebody is there. Work past the end of a shift counts, so a share can pass 100 %. Staffing must follow local codes: a high share is no target.',
    chart: {
      kind: 'bars',
      title: 'Work as a share of presence, by crew and fleet',
      names: crews.map(({ name }) => name),
      series: [
        {
          name: 'at work',
          tone: 'productive',
          values: crews.map(({ utilisation }) => utilisation.mean * 100),
        },
      ],
      axis: { label: 'work of presence', unit: '%' },
      ends: crews.map(({ utilisation, waitMinutes }) =>
        waitMinutes.n === 0
          ? `${percent(utilisation).text} %`
          : `wait ${amount(waitMinutes, WAITS).text} min`,
      ),
    },
    table: tableOf(
      'Crews and vehicles',
      [
        columns.words('name', crew => crew.name),
        columns.words('kind', crew => crew.kind),
        columns.shares('work of presence', crew => crew.utilisation),
        columns.words('by shift', shiftsOf),
        columns.amounts('calls', 'per day', crew => crew.callsPerDay, show),
        columns.amounts('mean wait', 'min', crew => crew.waitMinutes, WAITS),
        columns.amounts('95 % of waits within', 'min', crew => crew.waitMinutesP95, WAITS),
      ],
      crews,
    ),
  }
}

function shiftsOf({ byShift }: CrewFigures): string {
  return byShift
    .map(({ shift, heads, utilisation }) =>
      heads > 0
        ? `${shift}: ${significant(heads, 2)} present, ${percent(utilisation).text} %`
        : `${shift}: nobody`,
    )
    .join('; ')
}

function timeLimitsOf({ losses: { timeLimits } }: RunStudy): Section | undefined {
  if (timeLimits.length === 0) return undefined
  const columns = columnsOf<TimeLimitFigures>()
  const name = ({ step, after }: TimeLimitFigures) => `${after} to ${step}`
  return {
    id: 'time-limits',
    title: 'Time limits',
    lead: 'Wafers that waited longer between two steps than they may, as a share of those that came to the second: started there, scrapped or sent back.',
    chart: {
      kind: 'bars',
      title: 'Late wafers by time limit',
      names: timeLimits.map(name),
      series: [{ name: 'late', tone: 'lost', values: timeLimits.map(({ share }) => share.mean * 100) }],
      axis: { label: 'late of wafers that came', unit: '%' },
      ends: timeLimits.map(({ limitMinutes }) => `limit ${significant(limitMinutes, 3)} min`),
    },
    table: tableOf(
      'Late wafers by time limit',
      [
        columns.words('from step', limit => limit.after),
        columns.words('to step', limit => limit.step),
        columns.numbers('limit', 'min', limit => limit.limitMinutes),
        columns.shares('late', limit => limit.share, { most: 3 }),
        columns.amounts('late', 'wafers/day', limit => limit.latePerDay),
        columns.amounts('scrapped', 'wafers/day', limit => limit.scrappedPerDay),
        columns.amounts('sent back', 'wafers/day', limit => limit.sentBackPerDay),
      ],
      timeLimits,
    ),
  }
}

function hiddenDefectsOf({ losses: { hiddenDefects } }: RunStudy): Section | undefined {
  if (hiddenDefects.length === 0) return undefined
  const columns = columnsOf<HiddenDefectFigures>()
  return {
    id: 'hidden-defects',
    title: 'Hidden defects',
    lead: 'Wafers that a test rejected for a defect, by the step that made it.',
    chart: {
      kind: 'bars',
      title: 'Rejects by the step that made the defect',
      names: hiddenDefects.map(({ made }) => made),
      series: [
        {
          name: 'rejected',
          tone: 'rejected',
          values: hiddenDefects.map(({ rejectedPerDay }) => rejectedPerDay.mean),
        },
      ],
      axis: { label: 'rejected', unit: 'wafers/day' },
      ends: hiddenDefects.map(({ rejectedPerDay }) => significant(rejectedPerDay.mean, 2)),
    },
    table: tableOf(
      'Rejects by the step that made the defect',
      [
        columns.words('made at', defect => defect.made),
        columns.amounts('rejected', 'wafers/day', defect => defect.rejectedPerDay),
      ],
      hiddenDefects,
    ),
  }
}
