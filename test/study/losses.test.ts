import { describe, expect, it } from 'vitest'
import { curveStudy, readValue, spacedValues, type Varied, variedOf } from '../../sim/study/losses/curve.ts'
import { lossesStudy } from '../../sim/study/losses/losses.ts'
import { checked, here, optionsOf } from './lines.ts'

const JAM = { stop: 'jam', every: '324 s', lasts: '36 s' }
const CHANGE = { stop: 'change', counts: 'wafers', every: 180, lasts: '18 s', kind: 'scheduled' }
const one = (...stops: object[]) => checked({ route: [{ step: 'tool', cycle: '1 s', stops }] })
const long = optionsOf({ days: 1, replications: 2 })

/** Losses with closed forms are in test/published/study-losses.ts. */
describe('losses', () => {
  it('of rejects, breakage and buffers are told apart, with their money', async () => {
    const line = checked({
      route: [
        { step: 'print', cycle: '2 s', breakage: '1 %', stops: [JAM] },
        { buffer: 'store', capacity: 20 },
        { step: 'test', cycle: '2 s', reject: '2 %' },
      ],
      money: { currency: 'EUR', pricePerCell: 1, wafer: 0.3, addedPerWafer: { test: 0.01 } },
    })
    const study = await lossesStudy(line, optionsOf({ days: 1 }), here())
    expect(study.currency).toBe('EUR')
    expect(study.losses.map(({ kind }) => kind).sort()).toEqual(['breakage', 'buffers', 'reject', 'stop'])
    for (const { cashPerYear } of study.losses) expect(cashPerYear?.n).toBe(4)
  })

  it('takes the smaller stops together', async () => {
    const study = await lossesStudy(one(JAM, CHANGE), optionsOf({ replications: 2 }), here(), 1)
    expect(study.losses.map(({ kind }) => kind).sort()).toEqual(['other stops', 'stop'])
    expect(study.losses.find(({ kind }) => kind === 'other stops')?.name).toBe('the 1 smaller stops together')
  })
})

describe('a curve', () => {
  it('goes over the repair time of a stop by the closed form', async () => {
    const line = one(JAM)
    const varied = variedOf(line, 'stop jam: lasts') as Varied
    expect(varied.now).toBe(36)
    const values = spacedValues(varied, 18, 72, 4)
    expect(values).toEqual([18, 36, 54, 72])
    const study = await curveStudy(line, varied, values, long, here())
    expect(study.points.map(({ label }) => label)).toEqual(['18 s', '36 s', '54 s', '72 s'])
    for (const { value, goodPerHour } of study.points)
      expect(goodPerHour.mean / (3600 / (1 + value / 324))).toBeCloseTo(1, 2)
    expect(study.points[1].gainPerHour.mean).toBe(0)
  })

  it('goes over a count of wafers, in one step or in all', () => {
    const line = one(JAM, CHANGE)
    const varied = variedOf(line, 'tool: stop change: every') as Varied
    expect([varied.unit, varied.now]).toEqual(['wafers or loads', 180])
    expect(JSON.stringify(varied.at(90))).toContain('"every":90')
    expect(readValue(varied, '900')).toBe(900)
    expect(readValue(varied, '9 min')).toBeUndefined()
  })

  it('goes over the heads of a crew', () => {
    const line = checked({ route: [{ step: 'tool', cycle: '1 s' }], crews: { technicians: { heads: 2 } } })
    const varied = variedOf(line, 'crew technicians: heads') as Varied
    expect([varied.unit, varied.now]).toEqual(['heads', 2])
    expect(varied.at(3).crews).toEqual({ technicians: { heads: 3 } })
  })

  it('says what it does not know', () => {
    expect(variedOf(one(JAM), 'jam')).toContain('something such as')
    expect(variedOf(one(JAM), 'stop jem: lasts')).toContain('a stop of the line')
    expect(variedOf(one(JAM), 'crew night: heads')).toContain('it has none')
  })
})
