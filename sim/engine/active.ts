import * as Books from './meter.ts'

const { BLOCKED, NON_SCHEDULED, STARVED } = Books

/** A stretch of time in which a tool was active throughout. */
interface Period {
  readonly from: number
  readonly to: number
  /** Tools that were active from `from` to `to`, no more and no less. */
  readonly tools: readonly number[]
}

/** Periods kept before the dominated ones are dropped. */
const FIRST_LIMIT = 1 << 15

/**
 * Active periods of tools, for the longest-active-period method: a tool is active while it
 * works or is down, inactive while it waits for wafers or for a place (or the line is
 * closed). At any time the momentary constraint of the line is the tool in the longest
 * active period. Source: Roser, Nakano & Tanaka (2002), Winter Simulation Conference,
 * 1079-1086.
 *
 * A period that lies within a longer one is never the longest at any time, so it is
 * dropped: what is kept does not grow with the number of wafers. That holds in whatever
 * order the stations report, so both drives give the same record.
 */
export class ActivePeriods {
  /** Start of the active period that each tool is in, and the tick up to which it is known. */
  private readonly from: number[] = []
  private readonly to: number[] = []
  private closed: Period[] = []
  private limit = FIRST_LIMIT

  /** A station's tools are numbered in the order in which the stations were built. @returns the number of the first */
  add(tools: number): number {
    const first = this.from.length
    for (let t = 0; t < tools; t++) {
      this.from.push(Infinity)
      this.to.push(-Infinity)
    }
    return first
  }

  /** The tool was in `state` from `since` up to `time`; told in order of time, without gaps. */
  held(tool: number, state: number, since: number, time: number): void {
    if (time <= since) return
    if (state !== STARVED && state !== BLOCKED && state !== NON_SCHEDULED) {
      if (this.from[tool] === Infinity) this.from[tool] = since
      this.to[tool] = time
    } else if (this.from[tool] !== Infinity) {
      this.closed.push({ from: this.from[tool], to: this.to[tool], tools: [tool] })
      this.from[tool] = Infinity
      if (this.closed.length >= this.limit) this.prune()
    }
  }

  private prune(): void {
    this.closed = undominated(this.closed)
    this.limit = Math.max(FIRST_LIMIT, 2 * this.closed.length)
  }

  /**
   * Time in which a tool of each owner was the momentary constraint.
   *
   * @param owners of each tool (its step), from 0
   * @param edges rising ticks, the first 0
   * @returns per stretch between two edges: ticks of each owner, and how often the constraint went from one owner to another
   */
  shares(owners: readonly number[], edges: readonly number[]): ActiveShares {
    const open = this.from.flatMap((from, tool) =>
      from === Infinity ? [] : [{ from, to: this.to[tool], tools: [tool] }],
    )
    const count = Math.max(...owners, -1) + 1
    const ticks = new Float64Array((edges.length - 1) * count)
    const shifts = new Float64Array(edges.length - 1)
    let block = 0
    let last = -1
    for (const { from, to, tools } of longestAt(undominated([...this.closed, ...open]))) {
      while (block < edges.length - 2 && from >= edges[block + 1]) block++
      // Tools of equal periods share them; a constraint that stays with one of its owners has not shifted.
      const shared = tools.map(tool => owners[tool])
      if (last >= 0 && !shared.includes(last)) shifts[block]++
      if (!shared.includes(last)) last = shared[0]
      for (let b = block; b < edges.length - 1 && edges[b] < to; b++) {
        const within = Math.min(to, edges[b + 1]) - Math.max(from, edges[b])
        for (const owner of shared) ticks[b * count + owner] += within / shared.length
      }
    }
    return { ticks, shifts, owners: count }
  }
}

/** By stretch: ticks per owner, and shifts. */
export interface ActiveShares {
  readonly ticks: Float64Array
  readonly shifts: Float64Array
  readonly owners: number
}

/** The periods that lie in no longer one, by rising start and so by rising end; equal ones made one. */
function undominated(periods: readonly Period[]): Period[] {
  const sorted = [...periods].sort((a, b) => a.from - b.from || b.to - a.to || a.tools[0] - b.tools[0])
  const kept: Period[] = []
  for (const period of sorted) {
    const last = kept[kept.length - 1]
    if (last === undefined || period.to > last.to) kept.push(period)
    else if (period.from === last.from && period.to === last.to)
      kept[kept.length - 1] = { ...last, tools: [...last.tools, ...period.tools] }
  }
  return kept
}

/** Cuts periods down to the stretches in which each is the longest of those going on; at equal length the earlier one. */
function longestAt(periods: readonly Period[]): Period[] {
  const result: Period[] = []
  const edges = [...new Set(periods.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b)
  let first = 0
  let next = 0
  for (let e = 0; e + 1 < edges.length; e++) {
    const [start, end] = [edges[e], edges[e + 1]]
    while (next < periods.length && periods[next].from <= start) next++
    while (first < next && periods[first].to <= start) first++
    let best: Period | undefined
    for (let p = first; p < next; p++) {
      const period = periods[p]
      if (period.to > start && (best === undefined || period.to - period.from > best.to - best.from))
        best = period
    }
    if (best === undefined) continue
    const last = result[result.length - 1]
    if (last !== undefined && last.tools === best.tools && last.to === start)
      result[result.length - 1] = { ...last, to: end }
    else result.push({ from: start, to: end, tools: best.tools })
  }
  return result
}
