import pc from 'picocolors'
import { describe, expect, it } from 'vitest'
import { auditBlock, summary } from '../../reports/terminal/summary.ts'
import { runView } from '../../reports/view/run-view.ts'
import { widthOf } from '../../reports/view/width.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { estimate, singleReplication, states, step, stop, study } from './fixture.ts'

const plain = pc.createColors(false)
const context = { seconds: 10.04, fingerprint: '4f1e9a0c22d1' }

function linesOf(result: RunStudy): string[] {
  return summary(runView(result, context), plain).split('\n')
}

/** Regression only: the text as a reader saw it and found it right. */
const GOLDEN = `6,512 good cells/h (6,494 to 6,531 at 95 %), 396 MW/yr, 93.0 % of target.
By these figures the limit looks to be "front print": 99.1 % busy or down.

Fixture line
10 replications of 10 days, the first 12.5 h cut as warm-up.
Seed "1", line 4f1e9a0c22d1, eager drive, version 0.1.0.

step (shares in %)  passed/h  productive  starved  blocked  down  lost
texture                6,572        87.1      0.4     10.4   2.1   0.1
diffusion              6,572        91.2      2.0      3.8   3.0   0.1
front print            6,572        93.1      0.6      0.3   6.0   0.1
test and sort          6,512        80.3     17.2      0.0   2.5   1.0

biggest stops    step           per day  tool-h/day  down min  lost/day
screen breakage  front print        9.3        3.71       7.9      18.6
paste refill     front print        9.3        1.24       7.9      18.6
bath change      texture            9.3        0.52       7.9      18.6
jam              test and sort      9.3        0.31       7.9      18.6

Good output                    6,512  cells/h       (6,494 to 6,531)
Good output                    396.4  MW/yr         (395.3 to 397.6)
Share of target                93.03  % of 7,000/h  (92.77 to 93.29)
Efficiency of good cells      22.803  %             (22.801 to 22.805)
Wafers started                 6,654  wafers/h      (6,635 to 6,673)
Yield                         97.869  %             (97.856 to 97.882)
WIP                            6,951  wafers        (6,888 to 7,014)
Throughput time, mean         1.0446  h             (1.0352 to 1.0540)
Throughput time, median         1.02  h             (1.01 to 1.03)
Throughput time, 95 % within    1.44  h             (1.42 to 1.46)

Estimates for planning. The processes involve silane, phosphorus oxychloride,
hydrofluoric acid, hot furnaces and lasers: staffing, maintenance intervals and
access must follow local codes, the tool makers' manuals, lock-out/tag-out
practice and licensed professionals.

10 x 10 days: 63 million wafer-steps in 10 s: 6.3 million wafer-steps/s
`

describe('the summary', () => {
  it('reads as it should', () => {
    expect(summary(runView(study, context), plain)).toBe(GOLDEN)
  })

  it('gives whole cells in its first line, however narrow the interval', () => {
    const perHour = { mean: 5392.66, low: 5391.13, high: 5394.21, n: 200 }
    const first = linesOf({ ...study, goodOutput: { ...study.goodOutput, perHour } })[0]
    expect(first).toBe('5,393 good cells/h (5,391 to 5,394 at 95 %), 396 MW/yr, 93.0 % of target.')
  })

  it('names the variant', () => {
    const view = runView(study, { ...context, variant: 'one more printer' })
    expect(summary(view, plain)).toContain('\nFixture line, variant "one more printer"\n')
  })

  it('gives short stays in minutes or seconds, and says when nothing was cut', () => {
    const { mean, median } = study.throughputHours
    const stays = (factor: number) => {
      const of = ({ mean, n }: typeof median) => ({
        mean: mean / factor,
        low: mean / factor,
        high: mean / factor,
        n,
      })
      return { mean: of(mean), median: of(median), p95: of(median) }
    }
    const warmUp = { cutHours: 0, foundHours: 0, windowHours: 240, settled: true }
    const minutes = linesOf({ ...study, warmUp, throughputHours: stays(2) })
    expect(minutes.find(line => line.includes('median'))).toMatch(/median {2,}30\.6 {2}min /)
    expect(minutes.join()).toContain('10 days, no warm-up cut.')
    const seconds = linesOf({ ...study, throughputHours: stays(100) })
    expect(seconds.find(line => line.includes('median'))).toMatch(/median {2,}36\.8 {2}s /)
  })

  it('says of a step where wafers come too late how many of those that came it lost', () => {
    const [first, ...rest] = study.steps
    if (first === undefined) throw new Error('the fixture has steps')
    // A late wafer is lost before it is started: 3 of 4 lost, 3 lost for each one started.
    const late = { ...first, lost: estimate(3, 0.01), yield: estimate(0.25, 0.01) }
    const limits = [
      {
        ...{ step: 'texture', after: 'wash', limitMinutes: 1, share: estimate(0.75, 0.01) },
        ...{
          latePerDay: estimate(14200, 0),
          scrappedPerDay: estimate(14200, 0),
          sentBackPerDay: estimate(0, 0),
        },
      },
    ]
    const lines = linesOf({
      ...study,
      steps: [late, ...rest],
      losses: { ...study.losses, timeLimits: limits },
    })
    expect(lines.find(line => line.startsWith('texture  '))).toMatch(/ 75$/)
    expect(lines.find(line => line.includes('wash'))).toMatch(/^texture +wash +1 min +14,200 +14,200 +0$/)
  })

  it('keeps no digits that nobody can use where all replications agree', () => {
    const [first, ...rest] = study.steps
    if (first === undefined) throw new Error('the fixture has steps')
    const planned = stop('service', 8, { perDay: estimate(1 / 0.96, 0), meanMinutes: estimate(200.04166, 0) })
    const row = linesOf({ ...study, steps: [{ ...first, stops: [planned] }, ...rest] }).find(line =>
      line.startsWith('service'),
    )
    expect(row).toMatch(/ 1\.04 .* 200\.04 /)
  })

  it('speaks of one day', () => {
    const text = linesOf({ ...study, days: 1 }).join('\n')
    expect(text).toContain('10 replications of 1 day, ')
    expect(text).toContain('10 x 1 day: ')
  })

  it('gives power as sharply in the first line as below', () => {
    const megawattPerYear = { mean: 214.2, low: 202.1, high: 226.3, n: 4 }
    const lines = linesOf({ ...study, goodOutput: { ...study.goodOutput, megawattPerYear } })
    expect(lines[0]).toContain(', 214 MW/yr, ')
    expect(lines.find(line => line.includes('MW/yr  '))).toContain(' 214  MW/yr ')
  })

  it('of one replication shows no interval', () => {
    const lines = linesOf(singleReplication())
    expect(lines[0]).toBe('6,512 good cells/h (1 replication, no interval), 396 MW/yr, 93.0 % of target.')
    expect(lines.join('\n')).not.toMatch(/ to \d/)
  })

  it('puts warnings with their hints before the caution', () => {
    const text = linesOf({
      ...study,
      warnings: [{ code: 'short window', text: 'The window is only 3 h long.', hint: 'Simulate more days.' }],
    }).join('\n')
    const at = text.indexOf('Warning: The window is only 3 h long. Simulate more days.')
    expect(at).toBeGreaterThan(0)
    expect(at).toBeLessThan(text.indexOf('Estimates for planning'))
  })

  it('shows the hours outside the shifts only where there are some', () => {
    const [first, ...rest] = study.steps
    if (first === undefined) throw new Error('the fixture has steps')
    const shifts = {
      ...first,
      states: { ...first.states, nonScheduled: { mean: 0.3, low: 0.29, high: 0.31, n: 10 } },
    }
    const head = (result: RunStudy) => linesOf(result).find(line => line.startsWith('step '))
    expect(head(study)).not.toContain('off')
    expect(head({ ...study, steps: [shifts, ...rest] })).toContain('off')
  })

  it('fits 80 columns and lines up with hundreds of steps and names of any script', () => {
    const names = [
      '背面印刷与烘干工序（第一组设备）很长的名字',
      'Säurebad 👩‍🔬👩‍🔬',
      'é́tape à très long nom qui ne finit pas du tout',
      'x',
    ]
    const many = Array.from({ length: 300 }, (_, index) =>
      step(`${names[index % names.length]} ${index}`, 'single', states(0.9, 0.05, 0.03, 0.015, 0.005), {
        stops: [stop(`停机 ${'長い'.repeat(index % 30)}`, index / 10)],
      }),
    )
    const lines = linesOf({ ...study, line: '線'.repeat(100), steps: many })
    for (const line of lines) expect(widthOf(line), line).toBeLessThanOrEqual(80)
    const head = lines.findIndex(line => line.startsWith('step '))
    const rows = lines.slice(head, head + 301)
    expect(new Set(rows.map(widthOf)).size).toBe(1)
    expect(rows.join('')).not.toContain('\uFFFD')
  })

  it('is coloured only when colours are asked for', () => {
    expect(summary(runView(study, context), pc.createColors(true))).toContain('\u001b[1m6,512 good cells/h')
    expect(GOLDEN).not.toContain('\u001b')
  })
})

describe('the audit block', () => {
  it('accounts for every wafer', () => {
    expect(auditBlock(runView(study, context), plain)).toBe(`Audit passed.
Wafers in 15,970,000, accounted for 15,970,000: good 15,629,616, broken 27,149,
rejected 146,924, lost 1,757, still inside 164,554.
Largest gap of Little's law, WIP x time against summed stays: 3.1e-13 of the
stays.
`)
  })

  it('lists the faults', () => {
    const audit = { ...study.audit, passed: false, faults: ['3 wafers are missing'] }
    const text = auditBlock(runView({ ...study, audit }, context), plain)
    expect(text).toMatch(/^Audit failed: do not use these figures\.\n/)
    expect(text).toContain('\nFault: 3 wafers are missing\n')
  })
})
