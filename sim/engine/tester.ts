import { Ahead } from '../chance/ahead.ts'
import { Hazards, hazardOf } from '../chance/hazard.ts'
import { openStream, type Stream } from '../chance/streams.ts'
import type { BinsPlan, TestPlan } from '../plan/plan.ts'
import type { RunKey } from './draw.ts'
import type { Meter } from './meter.ts'
import type { Wafers } from './wafers.ts'

/** Whose cells are tested. */
interface Testing {
  readonly name: string
  readonly tools: number
  readonly key: RunKey
  readonly meter: Meter
  readonly wafers: Wafers
}

/** What a tester sees of a cell: hidden defects, its efficiency with the noise of the tool, its bin and colour. */
export class Tester {
  /** Class of the last cell that has been sorted, see BinsPlan. */
  cells = 0
  /** Standard normal scores of what is still to be drawn of a cell, and of the noise, per tool. */
  private readonly scores: Ahead[] = []
  /** For the finding of defects; for the cells that are put into the low-grade box. */
  private readonly chance: Stream[] = []
  private readonly looks: Hazards[] = []
  private readonly downgradeHazard: number
  /** For the colours of cells, where there are several. */
  private readonly colours: Ahead[] = []

  constructor(
    private readonly station: Testing,
    readonly plan: TestPlan,
  ) {
    const { seed, replication } = station.key
    this.downgradeHazard = hazardOf(plan.downgrades)
    for (let t = 0; t < station.tools; t++) {
      const tool = [station.name, `tool ${t + 1}`]
      const stream = (purpose: string) => openStream(seed, replication, ...tool, purpose)
      this.chance.push(stream('finds'))
      this.looks.push(new Hazards(stream('looks')))
      this.scores.push(new Ahead(stream('noise'), 'normal'))
      if (plan.bins && plan.bins.colours.length > 1) this.colours.push(new Ahead(stream('colour'), 'uniform'))
    }
  }

  /** Whether the test finds a hidden defect of the wafer; it is then put down to the step that made it. */
  findsDefect(tool: number, wafer: number): boolean {
    const { mark } = this.station.wafers
    if (mark.length === 0 || mark[wafer] === 0) return false
    if (this.plan.finds < 1 && this.chance[tool]() >= this.plan.finds) return false
    this.station.meter.origin[mark[wafer] - 1]++
    return true
  }

  /** @returns efficiency as this tool measures it, fraction */
  measure(tool: number, wafer: number): number {
    const { noise } = this.plan
    const scores = this.scores[tool]
    const made = this.station.wafers.made(wafer, scores)
    return noise > 0 ? made + noise * scores.next() : made
  }

  /** Where it sorts, a cell falls into its bin and colour, or for its looks into the low-grade box. */
  sort(tool: number, wafer: number, efficiency: number): void {
    const { bins } = this.plan
    if (!bins) return
    const downgraded = this.downgradeHazard > 0 && this.looks[tool].strikes(this.downgradeHazard)
    this.cells = this.classOf(tool, downgraded ? -Infinity : efficiency, bins)
    this.station.meter.bin[this.cells]++
    const { cells } = this.station.wafers
    if (cells.length > 0) cells[wafer] = this.cells
  }

  /** Below the lowest bin the low-grade box, above the highest the highest. */
  private classOf(
    tool: number,
    efficiency: number,
    { first, width, count, colours, upToColour }: BinsPlan,
  ): number {
    const bin = Math.min(Math.floor((efficiency - first) / width), count - 1)
    let colour = 0
    if (this.colours.length > 0) {
      const at = this.colours[tool].next()
      while (colour < colours.length - 1 && at >= upToColour[colour]) colour++
    }
    return bin < 0 ? 0 : 1 + bin * colours.length + colour
  }
}
