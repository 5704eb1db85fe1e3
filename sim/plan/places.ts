import type { PlacePlan } from './plan.ts'

/** The places of a line. Those of one name (in several lanes) are one family, with their capacities added. */
export class PlaceList {
  readonly all: { -readonly [K in keyof PlacePlan]: PlacePlan[K] }[] = []
  private readonly placeOf = new Map<string, number>()

  /** @returns index of the family */
  add(name: string, kind: PlacePlan['kind'], capacity: number): number {
    const known = this.placeOf.get(`${kind} ${name}`)
    if (known === undefined) {
      this.placeOf.set(`${kind} ${name}`, this.all.length)
      return this.all.push({ name, kind, capacity }) - 1
    }
    this.all[known].capacity += capacity
    return known
  }
}
