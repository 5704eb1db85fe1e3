import type { CrewPlan } from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

/**
 * How long the people of a crew take to where they are called. The time is the tool's own
 * draw, so that it stays in step when others call more or less.
 */
export class Reaches {
  /** Per crew: of each place at each station. */
  private readonly draws: Map<number, () => number>[]

  constructor(
    private readonly crews: readonly CrewPlan[],
    private readonly stations: number,
    private readonly key: RunKey,
  ) {
    this.draws = crews.map(() => new Map())
  }

  /** @param place which tool (or carrier trip) of the station @returns ticks */
  draw(crew: number, station: { readonly name: string; readonly position: number }, place: number): number {
    const index = place * this.stations + station.position
    let draw = this.draws[crew].get(index)
    if (draw === undefined) {
      const { name, reach } = this.crews[crew]
      draw = drawer(reach, this.key, 0, station.name, `tool ${place + 1}`, name, 'reach')
      this.draws[crew].set(index, draw)
    }
    return draw()
  }
}
