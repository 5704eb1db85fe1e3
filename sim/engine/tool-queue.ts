/** Tools that wait, first come first served. */
export class ToolQueue {
  count = 0
  private head = 0
  private readonly ring: Int32Array

  constructor(private readonly size: number) {
    this.ring = new Int32Array(size)
  }

  add(tool: number): void {
    let tail = this.head + this.count
    if (tail >= this.size) tail -= this.size
    this.ring[tail] = tool
    this.count++
  }

  addFirst(tool: number): void {
    this.head = this.head === 0 ? this.size - 1 : this.head - 1
    this.ring[this.head] = tool
    this.count++
  }

  first(): number {
    return this.ring[this.head]
  }

  takeFirst(): number {
    const tool = this.ring[this.head]
    this.head = this.head + 1 === this.size ? 0 : this.head + 1
    this.count--
    return tool
  }

  at(place: number): number {
    return this.ring[(this.head + place) % this.size]
  }

  /** Takes a tool out wherever it stands. */
  remove(tool: number): void {
    for (let left = this.count; left > 0; left--) {
      const next = this.takeFirst()
      if (next !== tool) this.add(next)
    }
  }
}
