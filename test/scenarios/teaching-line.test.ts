import { beforeAll, describe, expect, it } from 'vitest'
import teaching from '../../scenarios/teaching-line.ts'
import { BLOCKED, PRODUCTIVE, SCHEDULED_DOWN, STARVED, UNSCHEDULED_DOWN } from '../../sim/engine/meter.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { checkLine } from '../../sim/line/check.ts'
import { applyVariant } from '../../sim/line/vary.ts'
import { rowsOf } from '../../sim/measure/rows.ts'
import { type WindowFigures, windowFigures } from '../../sim/measure/window.ts'
import { compile } from '../../sim/plan/compile.ts'
import { TICKS_PER_HOUR } from '../../sim/plan/plan.ts'

/**
 * Every expected value is arithmetic by hand, written out here. The head of the scenario
 * tells it in words; t = 0 is the moment at which the stop begins: test takes a wafer,
 * and so print hands one to the dryer.
 */

/** Wafers between two stops: 54 min of running / 2 s. */
const WAFERS = 1620
/** Test works 40 wafers off in 120 s; its next one comes at 600 s + 2 s + 58 s. */
const GAP = 660 - 120
/** Seconds from stop to stop: 1620 x 3 s + 540 s. */
const CYCLE = WAFERS * 3 + GAP

/** Order of the tools in the figures. */
const [PRINT, DRYER, TEST] = [0, 1, 2]

const { line } = checkLine(teaching)
if (!line) throw new Error('the teaching line is not valid')
const plan = compile(line)
const HOURS = 75

/** Figures over 48 whole cycles: the first two blocks of one cycle each are left out. */
function figures(drive: 'eager' | 'strict'): WindowFigures {
  const run = runToEnd(new Run(plan, HOURS * TICKS_PER_HOUR, { seed: 'teaching', replication: 0 }, drive))
  return windowFigures(rowsOf(plan, run), 2)
}

describe.each(['eager', 'strict'] as const)('teaching line, %s drive', drive => {
  let found: WindowFigures
  beforeAll(() => {
    found = figures(drive)
  })
  const states = (tool: number) => {
    const share = found.steps[tool].states
    const named = {
      productive: share[PRODUCTIVE],
      starved: share[STARVED],
      blocked: share[BLOCKED],
      down: share[SCHEDULED_DOWN] + share[UNSCHEDULED_DOWN],
    }
    return Object.fromEntries(Object.entries(named).map(([state, part]) => [state, part * CYCLE]))
  }
  const expectSeconds = (tool: number, wanted: Record<string, number>) => {
    const seconds = states(tool)
    for (const [state, value] of Object.entries(wanted)) expect(seconds[state], state).toBeCloseTo(value, 6)
  }

  it('repeats every 5400 s, so that each block of the run is one cycle', () => {
    expect(CYCLE).toBe(5400)
    expect((HOURS * 3600) / 50).toBe(CYCLE)
  })

  it('makes 1620 cells in 1.5 h: 1080 cells/h', () => {
    expect(found.goodPerHour).toBe((WAFERS * 3600) / CYCLE)
    expect(found.goodPerHour).toBe(1080)
    expect(found.yield).toBe(1)
  })

  it('test: works 1620 x 3 s, starves for the gap', () => {
    expectSeconds(TEST, { productive: 4860, starved: 540, blocked: 0, down: 0 })
  })

  it('print: works 1620 x 2 s, is down for 600 s, blocked for the rest', () => {
    expectSeconds(PRINT, { productive: 3240, down: 600, starved: 0, blocked: 5400 - 3240 - 600 })
  })

  it('dryer: its infeed is taken for 1.5 s by each wafer; between two wafers it starves or is blocked', () => {
    // After the stop print, at 2 s, is faster than test, at 3 s, until dryer and magazine hold 39
    // again. Wafer k enters at 602 + 2k; test takes its wafers at 660 + 3j. At 602 + 2k there are
    // k wafers that entered before and floor((2k - 58) / 3) + 1 that test has taken: the difference
    // must be 38 at most for one more to enter. That holds up to k = 59 (59 - 21 = 38), at 720 s.
    // Wafer 60 would come at 722 s, but finds a place when test takes its next one, at 723 s.
    // The infeed is free again 1.5 s after a wafer. For the 59th, which entered at 718 s, that is at
    // 719.5 s: dryer and magazine hold 59 - 20 = 39 then, so it must hold print back until 720 s.
    // After each one before there is a place by then.
    const fast = 58 // intervals of 2 s: 1.5 s work, 0.5 s starved, as print needs 2 s
    const last = 1 // interval of 2 s: 1.5 s work, 0.5 s blocked
    const slow = WAFERS - 1 - fast - last // intervals of 3 s: 1.5 s work, 1.5 s blocked until test takes one
    // The interval over the stop, 602 s: 1.5 s work, blocked until 3 s, when test takes the next
    // wafer and there is a place, starved until 602 s.
    expect(602 + fast * 2 + last * 2 + slow * 3).toBe(CYCLE)
    const starved = 599 + fast * 0.5
    const blocked = 1.5 + last * 0.5 + slow * 1.5
    expect([starved, blocked]).toEqual([628, 2342])
    expectSeconds(DRYER, { productive: WAFERS * 1.5, starved, blocked, down: 0 })
  })

  it('holds 36.67 wafers on average', () => {
    // Dryer and magazine, in wafers x seconds:
    // - 0 s to 120 s: 39, then one less every 3 s: 3 x (39 + 38 + ... + 1 + 0);
    const emptying = (3 * 39 * 40) / 2
    // - 120 s to 602 s: none;
    // - 602 s to 720 s: wafer k comes at 602 + 2k and is there for 118 - 2k, k = 0 to 59,
    //   less what test has taken at 660 + 3j, which is away for 60 - 3j, j = 0 to 20;
    const coming = 60 * 118 - (2 * 59 * 60) / 2
    const taken = 21 * 60 - (3 * 20 * 21) / 2
    // - 720 s to 5400 s: 39.
    const full = 39 * (CYCLE - 720)
    const inside = emptying + coming - taken + full
    expect(inside).toBe(2340 + 3540 - 630 + 182_520)
    // Print always holds one wafer; test holds one while it works.
    const all = inside + CYCLE + WAFERS * 3
    expect(all).toBe(198_030)
    expect(found.wip).toBeCloseTo(all / CYCLE, 9)
    expect(found.wip).toBeCloseTo(36.672_222_222, 9)
    // Little's law: each wafer spends 198030 s / 1620 in the line, 122.24 s.
    expect((found.stay.mean ?? 0) * 3600).toBeCloseTo(all / WAFERS, 9)

    // Of dryer and magazine the dryer has 58 s of each wafer.
    const wip = Object.fromEntries(plan.places.map(({ name }, place) => [name, found.places[place].wip]))
    expect(wip.dryer).toBeCloseTo((WAFERS * 58) / CYCLE, 9)
    expect(wip.magazine).toBeCloseTo((inside - WAFERS * 58) / CYCLE, 9)
    expect(wip.print).toBeCloseTo(1, 9)
    expect(wip.test).toBeCloseTo(0.9, 9)
  })
})

describe('variants of the teaching line', () => {
  it.each([
    // Dryer and magazine hold 79 wafers, so test works 80 x 3 s of the 660 s: the gap is 420 s.
    ['twice the magazine', 1620 * 3 + 660 - 240],
    // Print is up after 300 s: test gets its next wafer at 360 s, the gap is 240 s.
    ['screen change in 5 min', 1620 * 3 + 360 - 120],
  ])('%s: the cycle is as long as its gap makes it', (name, cycle) => {
    const changed = compile(applyVariant(line, name))
    const ticks = (50 * cycle * TICKS_PER_HOUR) / 3600
    const run = runToEnd(new Run(changed, ticks, { seed: 'teaching', replication: 0 }, 'eager'))
    expect(windowFigures(rowsOf(changed, run), 2).goodPerHour).toBeCloseTo((1620 * 3600) / cycle, 9)
  })
})
