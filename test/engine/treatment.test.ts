import fc from 'fast-check'
import { expect, it } from 'vitest'
import { Hazards } from '../../sim/chance/hazard.ts'
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
    fc.record({ stop: fc.constant(0), wafers: fc.constantFrom(50, 5000), loses: share, defects: share }),
    { nil: undefined },
  ),
  heldUp: fc.option(fc.record({ after: fc.constant(10), loses: share }), { nil: undefined }),
})
/** Wafers that leave together, how long they were held, and whether the stop that takes the wear away comes before them. */
const groups = fc.array(
  fc.record({ wafers: fc.integer({ min: 0, max: 90 }), held: fc.constantFrom(0, 50), renewed: fc.boolean() }),
  { minLength: 1, maxLength: 8 },
)

/** A treatment and the two columns that it writes. */
function table(plan: TreatmentPlan, overdue: number) {
  const columns = { efficiency: new Float64Array(ROWS).fill(0.23), mark: new Uint16Array(ROWS) }
  const wafers = columns as unknown as Wafers
  const treatment = new Treatment(plan, 3, wafers, (_, ended) => (ended > 200 ? overdue : 0), 'step', 2, KEY)
  return { columns, treatment }
}

it('wafers treated together come out as one after the other', () => {
  let marked = 0
  fc.assert(
    fc.property(plans, share, groups, (plan, overdue, leaving) => {
      const single = table(plan, overdue)
      const together = table(plan, overdue)
      const ring = Int32Array.from({ length: ROWS }, (_, place) => (place * 37) % ROWS)
      let from = 0
      let ended = 0
      for (const { wafers, held, renewed } of leaving) {
        ended += 60
        for (const { treatment } of [single, together]) if (renewed) treatment.renewed(1, 0)
        for (let w = from; w < from + wafers; w++)
          single.treatment.apply(1, ring[w & (ROWS - 1)], ended, held)
        together.treatment.applyAll(1, ring, ROWS - 1, from, wafers, ended, held)
        from += wafers
      }
      // Bit for bit: the drives are compared so.
      expect(together.columns).toEqual(single.columns)
      marked += single.columns.mark.filter(step => step === 4).length
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
