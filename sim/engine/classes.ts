/**
 * Classes of a time: so many per doubling from one second on, the first holds all below.
 * What is read off them is right to half a class, and is interpolated within it.
 */
export class Classes {
  private static readonly FIRST = 1e6
  readonly count: number
  /** Lower edges, and the upper edge of the last class, which holds all above too. */
  private readonly edges: Float64Array

  constructor(
    private readonly perDoubling: number,
    doublings: number,
  ) {
    this.count = perDoubling * doublings + 1
    this.edges = Float64Array.from({ length: this.count + 1 }, (_, index) =>
      index === 0 ? 0 : Classes.FIRST * 2 ** ((index - 1) / perDoubling),
    )
  }

  /**
   * @param time [ticks]
   * @param likely class to be looked at first: times that follow each other are much alike
   */
  of(time: number, likely = 0): number {
    const { edges } = this
    if (edges[likely] <= time && time < edges[likely + 1]) return likely
    if (time < Classes.FIRST) return 0
    let index = 1 + Math.floor(Math.log2(time / Classes.FIRST) * this.perDoubling)
    index = Math.min(index, this.count - 1)
    // The logarithm is not exact.
    if (time < edges[index]) return index - 1
    return time < edges[index + 1] || index === this.count - 1 ? index : index + 1
  }

  /** Lower edge of a class [ticks]; the upper edge is the lower edge of the next. */
  edge(index: number): number {
    return this.edges[index]
  }
}

/** Stays in the line: a percentile is right to about 0.3 %. */
export const STAYS = new Classes(128, 30)
/** Waits for people: right to about 1 %. */
export const WAITS = new Classes(32, 20)
