/** Equal parts of a doubling; the most times of the first class that are told apart. */
const PARTS = 256
const MOST = 2 ** 31 - 1

/**
 * Classes of a time: so many per doubling from one second on, the first holds all below.
 * What is read off them is right to half a class, and is interpolated within it.
 */
export class Classes {
  private static readonly FIRST = 1e6
  readonly count: number
  /** Lower edges, and the upper edge of the last class, which holds all above too. */
  private readonly edges: Float64Array
  /** Per part of a doubling: classes that lie below its begin for sure. */
  private readonly within: Int32Array

  constructor(
    private readonly perDoubling: number,
    doublings: number,
  ) {
    this.count = perDoubling * doublings + 1
    this.edges = Float64Array.from({ length: this.count + 1 }, (_, index) =>
      index === 0 ? 0 : Classes.FIRST * 2 ** ((index - 1) / perDoubling),
    )
    this.within = Int32Array.from({ length: PARTS }, (_, part) =>
      Math.floor(perDoubling * Math.log2(1 + part / PARTS) - 0.01),
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
    // The doubling, then the class within it from a table: a logarithm costs more than all else about a wafer that leaves.
    const times = Math.min(time / Classes.FIRST, MOST)
    const doubling = 31 - Math.clz32(times)
    let index = 1 + doubling * this.perDoubling + this.within[((times / (1 << doubling) - 1) * PARTS) | 0]
    index = Math.min(index, this.count - 1)
    while (index < this.count - 1 && time >= edges[index + 1]) index++
    return index
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
