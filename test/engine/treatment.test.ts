import fc from 'fast-check'
import { expect, it } from 'vitest'
import { Hazards, hazardOf } from '../../sim/chance/hazard.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { Treatment } from '../../sim/engine/treatment.ts'
import type { Wafers } from '../../sim/engine/wafers.ts'
import type { TreatmentPlan } from '../../sim/plan/plan.ts'

const ROWS = 512
const KEY = { seed: 'treatment', replication: 0 }

const share = fc.constantFrom(0, 0.004, 0.2)
const plans: fc.Arbitrary<TreatmentPlan> = fc.record({
  shift: fc.constantFrom(0, 0.001),
  sd: fc.constantFrom(0, 0.002),
  defects: share,
  drift: fc.option(
    fc.record({
      stop: fc.constant(0),
      wafers: fc.constantFrom([9, 50], [9, 5000]),
      loses: share,
      defects: share,
    }),
    { nil: undefined },
  ),
  heldUp: fc.option(fc.record({ after: fc.constant(10), loses: share }), { nil: undefined }),
})
/** Wafers that leave together, how long they were held, and whether the stop that takes the wear away comes before them. */
const groups = fc.array(
  fc.record({ wafers: fc.integer({ min: 0, max: 90 }), held: fc.constantFrom(0, 50), renewed: fc.boolean() }),
  { minLength: 1, maxLength: 8 },
)

const table = () => ({
  efficiency: new Float64Array(ROWS).fill(0.23),
  spread: new Float64Array(ROWS).fill(1e-6),
  mark: new Uint16Array(ROWS),
})
const stream = (what: string) => openStream(KEY.seed, KEY.replication, 'step', 'tool 2', what)
const overdueBy = (share: number) => (_: number, ended: number) => (ended > 200 ? share : 0)

/** What is to come out, wafer by wafer, as the language says it: the variance of its score, then the hazards. */
class ByHand {
  readonly columns = table()
  private readonly hidden = new Hazards(stream('hidden defect'))
  private worn = 0

  constructor(
    private readonly plan: TreatmentPlan,
    private readonly overdue: number,
  ) {}

  renew(): void {
    this.worn = 0
  }

  apply(wafer: number, ended: number, held: number): void {
    const { drift, heldUp, shift, sd, defects } = this.plan
    const { efficiency, mark } = this.columns
    const wear = drift ? Math.min(1, this.worn++ / drift.wafers[1]) : 0
    const loses = heldUp && held > heldUp.after ? heldUp.loses : 0
    efficiency[wafer] += shift - loses - wear * (drift?.loses ?? 0)
    this.columns.spread[wafer] += sd * sd
    let hazard = hazardOf(defects)
    if (drift) hazard += hazardOf(wear * drift.defects)
    if (overdueBy(this.overdue)(1, ended) > 0) hazard += hazardOf(this.overdue)
    if (hazard > 0 && this.hidden.strikes(hazard) && mark[wafer] === 0) mark[wafer] = 4
  }
}

it.each(['together', 'one by one'])('wafers treated %s come out as by hand', how => {
  let marked = 0
  fc.assert(
    fc.property(plans, share, groups, (plan, overdue, leaving) => {
      const byHand = new ByHand(plan, overdue)
      const columns = table()
      const wafers = columns as unknown as Wafers
      const treatment = new Treatment(plan, 3, wafers, overdueBy(overdue), 'step', 2, KEY)
      const ring = Int32Array.from({ length: ROWS }, (_, place) => (place * 37) % ROWS)
      let from = 0
      let ended = 0
      for (const group of leaving) {
        ended += 60
        if (group.renewed) {
          byHand.renew()
          treatment.renewed(1, 0)
        }
        for (let w = from; w < from + group.wafers; w++) {
          const wafer = ring[w & (ROWS - 1)]
          byHand.apply(wafer, ended, group.held)
          if (how === 'one by one') treatment.apply(1, wafer, ended, group.held)
        }
        if (how === 'together') treatment.applyAll(1, ring, ROWS - 1, from, group.wafers, ended, group.held)
        from += group.wafers
      }
      // Bit for bit: the drives, of which one treats them one by one, are compared so.
      expect(columns).toEqual(byHand.columns)
      marked += columns.mark.filter(step => step === 4).length
    }),
    { numRuns: 400, seed: 5 },
  )
  expect(marked).toBeGreaterThan(1000)
})

it('the first of many like chances comes true when it would have one by one', () => {
  const one = new Hazards(openStream('hazards', 0, 'first'))
  const many = new Hazards(openStream('hazards', 0, 'first'))
  const hits: number[] = []
  const struck: number[] = []
  for (let at = 0, groups = 0; at < 20_000; groups++) {
    const count = 1 + (groups % 70)
    for (let i = 0; i < count; i++) if (one.strikes(0.01)) hits.push(at + i)
    for (let i = 0; i < count; i++) {
      i += many.first(0.01, count - i)
      if (i < count) struck.push(at + i)
    }
    at += count
  }
  expect(struck).toEqual(hits)
  expect(hits.length).toBeGreaterThan(100)
})
