import { describe, expect, it } from 'vitest'
import { warningsOf } from '../../sim/study/warnings.ts'
import { estimate, study } from '../reports/fixture.ts'

/** Codes of the warnings where a cell is so long in the line, of a run cut and measured for so long [h]. */
function codes(stay: number, cutHours: number, windowHours: number): string[] {
  const of = estimate(stay, 0.01)
  const throughputHours = { mean: of, median: of, p95: of }
  const warmUp = { cutHours, foundHours: cutHours, windowHours, settled: true }
  return warningsOf({ ...study, throughputHours, warmUp }, []).map(({ code }) => code)
}

describe('a window that begins before the line is full', () => {
  it('is told, unless it is long', () => {
    expect(codes(3, 1.5, 22)).toEqual(['early window'])
    expect(codes(3, 3, 21)).toEqual([])
    expect(codes(3, 1.5, 160)).toEqual([])
    expect(codes(3, 1.5, 8)).toEqual(['short window'])
  })
})
