/** Tools that wait, first come first served. */
export class ToolQueue {
  count = 0
  /** Where the first stands in the ring; those behind it follow, round the end (`mask`). */
  head = 0
  readonly mask: number
  readonly ring: Int32Array

  constructor(size: number) {
    let length = 1
    while (length < size) length *= 2
    this.mask = length - 1
    this.ring = new Int32Array(length)
  }

  add(tool: number): void {
    this.ring[(this.head + this.count) & this.mask] = tool
    this.count++
  }

  addFirst(tool: number): void {
    this.head = (this.head - 1) & this.mask
    this.ring[this.head] = tool
    this.count++
  }

  first(): number {
    return this.ring[this.head]
  }

  takeFirst(): number {
    const tool = this.ring[this.head]
    this.head = (this.head + 1) & this.mask
    this.count--
    return tool
  }

  at(place: number): number {
    return this.ring[(this.head + place) & this.mask]
  }

  /** Takes a tool out wherever it stands. */
  remove(tool: number): void {
    for (let left = this.count; left > 0; left--) {
      const next = this.takeFirst()
      if (next !== tool) this.add(next)
    }
  }
}
