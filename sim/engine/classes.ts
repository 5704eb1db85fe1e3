/**
 * Classes of a time: so many per doubling from one second on, the first holds all below.
 * What is read off them is right to half a class, and is interpolated within it.
 */
export class Classes {
  private static readonly FIRST = 1e6
  readonly count: number

  constructor(
    private readonly perDoubling: number,
    doublings: number,
  ) {
    this.count = perDoubling * doublings + 1
  }

  /** @param time [ticks] */
  of(time: number): number {
    if (time < Classes.FIRST) return 0
    const index = 1 + Math.floor(Math.log2(time / Classes.FIRST) * this.perDoubling)
    return index < this.count ? index : this.count - 1
  }

  /** Lower edge of a class [ticks]; the upper edge is the lower edge of the next. */
  edge(index: number): number {
    return index === 0 ? 0 : Classes.FIRST * 2 ** ((index - 1) / this.perDoubling)
  }
}

/** Stays in the line: a percentile is right to about 0.3 %. */
export const STAYS = new Classes(128, 30)
/** Waits for people: right to about 1 %. */
export const WAITS = new Classes(32, 20)
