import { FINE_BLOCKS } from '../../sim/engine/blocks.ts'
import { BLOCKED, STATES } from '../../sim/engine/meter.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import type { Station } from '../../sim/engine/station.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import { type Plan, TICKS_PER_SECOND } from '../../sim/plan/plan.ts'

/** A line without chance, checked and compiled once for several runs. */
export class PathLine {
  private readonly plan: Plan

  constructor(line: Line) {
    const checked = checkLine(line)
    if (!checked.line) throw new Error(`${line.line}: ${JSON.stringify(checked.problems)}`)
    this.plan = compile(checked.line)
  }

  /** @param block length of a block of the books [s]: the run has 500 of them */
  run(block: number, drive: 'strict' | 'eager'): ObservedPath {
    const ticks = block * TICKS_PER_SECOND * FINE_BLOCKS
    return new ObservedPath(
      runToEnd(new Run(this.plan, ticks, { seed: 'path', replication: 0 }, drive)),
      block,
    )
  }

  /**
   * When the n-th good wafer leaves the line at a step, however long that takes, all times
   * being whole seconds [s]: first the block it falls into, then by halving between runs
   * whose first block ends at the time asked about.
   */
  exitTime(step: string, n: number, coarse: ObservedPath, drive: 'strict' | 'eager'): number {
    let before = coarse.handedOn(step)[n - 1]
    let after = before + coarse.block
    while (after - before > 1) {
      const middle = Math.floor((before + after) / 2)
      const gone = this.run(middle, drive)
        .handedOn(step)
        .filter(time => time === 0).length
      if (gone >= n) after = middle
      else before = middle
    }
    return before
  }
}

/**
 * One run of a line without chance, read off its books. A run is cut into 500 blocks and
 * the books say how many wafers went through each door by the end of each. All times of
 * these lines are multiples of a grid; with blocks of one grid step a wafer counted in
 * block b went through at b - 1 steps exactly, as what happens on an edge belongs to the
 * next block. So nothing needs to be hooked into the engine, whichever way it takes.
 */
export class ObservedPath {
  constructor(
    private readonly run: Run,
    readonly block: number,
  ) {}

  /** Times at which wafers were taken by the step, in order [s]. */
  taken(step: string): number[] {
    return this.timesThrough(this.station(step), 0)
  }

  /** Times at which the step handed wafers on, or let them leave the line, in order [s]. */
  handedOn(step: string): number[] {
    const station = this.station(step)
    return this.timesThrough(station, station.inputs.length)
  }

  /** Sum of the times at which wafers left the line at the step, exact however long a block is [s]. */
  sumOfExits(step: string): number {
    const { meter, inputs } = this.station(step)
    const { flows } = meter.shape
    const exit = inputs.length
    let sum = 0
    for (let row = 1; row <= FINE_BLOCKS; row++) {
      const count = meter.countRows[row * flows + exit] - meter.countRows[(row - 1) * flows + exit]
      // The books hold the time from each exit to the end of its block.
      sum += count * row * this.block - meter.areaRows[row * flows + exit] / TICKS_PER_SECOND
    }
    return sum
  }

  /** Time that the only tool of the step was blocked [s]. */
  blocked(step: string): number {
    return this.timeIn(step, BLOCKED)
  }

  /** Time that the only tool of the step was in a state, by its number [s]. */
  timeIn(step: string, state: number): number {
    const { stateRows } = this.station(step).meter
    return stateRows[stateRows.length - STATES + state] / TICKS_PER_SECOND
  }

  private station(name: string): Station {
    const found = this.run.works.stations.find(station => station.name === name)
    if (!found) throw new Error(`no station "${name}"`)
    return found
  }

  private timesThrough({ meter }: Station, door: number): number[] {
    const { flows } = meter.shape
    const count = (row: number) => meter.countRows[row * flows + door]
    return Array.from({ length: FINE_BLOCKS }, (_, row) => row).flatMap(row =>
      Array<number>(count(row + 1) - count(row)).fill(row * this.block),
    )
  }
}
