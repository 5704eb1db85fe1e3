import type { StopPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'

const { TICKS_PER_WEEK } = Plans

/** The hours in which the line is closed, for who is down in them: a tool is scheduled only while the line is open. */
export class Closings {
  /** Ticks of the week at which the line closes or opens, in rising order, and 1 where it closes. */
  private readonly edges: readonly number[]
  private readonly closes: readonly number[]

  private constructor(starts: readonly number[], ends: readonly number[]) {
    const inWeek = (ticks: readonly number[], closes: number) =>
      ticks.map(tick => ({ tick: tick % TICKS_PER_WEEK, closes }))
    const all = [...inWeek(starts, 1), ...inWeek(ends, 0)].sort((a, b) => a.tick - b.tick)
    this.edges = all.map(({ tick }) => tick)
    this.closes = all.map(({ closes }) => closes)
  }

  /** Those among the stops of a station; undefined when the line never closes. */
  static among(stops: readonly StopPlan[]): Closings | undefined {
    const occasions = stops.find(({ kind }) => kind === 'closed')?.occasions
    return occasions?.kind === 'weekly' && occasions.ends
      ? new Closings(occasions.starts, occasions.ends)
      : undefined
  }

  /** Index of the last edge of the week up to `time`; -1: the last one of the week before. */
  private edgeBefore(time: number): number {
    const tick = time % TICKS_PER_WEEK
    let edge = this.edges.length - 1
    while (edge >= 0 && this.edges[edge] > tick) edge--
    return edge
  }

  isClosed(time: number): boolean {
    return this.closes.at(this.edgeBefore(time)) === 1
  }

  /** The first tick after `time` at which the line closes or opens. */
  nextEdge(time: number): number {
    const week = time - (time % TICKS_PER_WEEK)
    const next = this.edgeBefore(time) + 1
    return next < this.edges.length ? week + this.edges[next] : week + TICKS_PER_WEEK + this.edges[0]
  }
}
