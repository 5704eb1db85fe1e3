import type { Plan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { type Blocks, blocksFor } from './blocks.ts'
import { build, type Works } from './build.ts'
import type { RunKey } from './draw.ts'
import { driveEager, driveStrict } from './drives.ts'
import { FeedStation } from './feed.ts'
import * as Books from './meter.ts'

const { TICKS_PER_HOUR } = Plans
const { STARTS } = Books

/** Length of a slice [ticks]: 6 h of the line. */
const SLICE = 6 * TICKS_PER_HOUR

/** One replication, run piece by piece so that the program around can breathe. */
export class Run {
  readonly blocks: Blocks
  readonly works: Works
  private readonly drive: typeof driveEager
  private done = 0
  /** Tick at which nothing was pending any more; Infinity while the line moves. */
  restsFrom = Infinity

  /** @param ticks length of the run */
  constructor(plan: Plan, ticks: number, key: RunKey, drive: 'strict' | 'eager') {
    this.blocks = blocksFor(ticks)
    this.works = build(plan, this.blocks, key)
    this.drive = drive === 'strict' ? driveStrict : driveEager
  }

  /** Runs on by a slice: short enough for the program around to be heard, long enough to cost nothing. @returns share done, 1 at the end */
  step(): number {
    const slices = Math.ceil(this.blocks.horizon / SLICE)
    this.runTo(this.blocks.horizon * (++this.done / slices))
    return this.done / slices
  }

  /**
   * Runs on up to, not including, a tick: then every station stands where it is at that
   * tick, and what is in tools and channels can be read off. Not to be mixed with `step`.
   */
  runTo(limit: number): void {
    const { stations } = this.works
    if (!this.drive(stations, limit) && this.restsFrom === Infinity)
      this.restsFrom = Math.max(0, ...stations.map(s => s.now))
  }

  /** Services started so far. */
  waferSteps(): number {
    return this.works.stations.reduce((sum, station) => sum + station.meter.counter[STARTS], 0)
  }

  /** True when the line rests because every wafer has come. */
  fed(): boolean {
    return this.works.stations.some(station => station instanceof FeedStation && station.done())
  }
}

/** Runs to the end at once. */
export function runToEnd(run: Run): Run {
  while (run.step() < 1) {}
  return run
}
