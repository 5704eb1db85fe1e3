import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { editDistance, nearest } from '../../sim/base/nearest.ts'

describe('editDistance', () => {
  it.each([
    ['', '', 0],
    ['', 'abc', 3],
    // Wagner and Fischer's measure on the textbook pair (Levenshtein distance 3).
    ['kitten', 'sitting', 3],
    // A swap of neighbours is one slip: Damerau 1964.
    ['cylce', 'cycle', 1],
    ['tolos', 'tools', 1],
    // Optimal string alignment: no second slip inside a swapped pair.
    ['ca', 'abc', 3],
  ])('of "%s" and "%s" is %d', (from, to, slips) => {
    expect(editDistance(from, to)).toBe(slips)
  })

  it('is symmetric, and zero for equal words only', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 6 })
    fc.assert(
      fc.property(word, word, (from, to) => {
        expect(editDistance(from, to)).toBe(editDistance(to, from))
        expect(editDistance(from, to) === 0).toBe(from === to)
      }),
    )
  })
})

describe('nearest', () => {
  const keys = ['step', 'tools', 'cycle', 'cycles', 'belt', 'batch', 'breakage', 'stops']

  it.each([
    ['tols', 'tools'],
    ['cycel', 'cycle'],
    ['CYCLE', 'cycle'],
    ['stepp', 'step'],
    ['brekage', 'breakage'],
    ['break', 'breakage'],
    ['cycl', 'cycle'],
  ])('finds for "%s" the word "%s"', (word, found) => {
    expect(nearest(word, keys)).toBe(found)
  })

  it.each(['colour', 'x', '', 'transit'])('finds nothing for "%s"', word => {
    expect(nearest(word, keys)).toBeUndefined()
  })

  it('takes no word that shares no letter', () => {
    expect(nearest('q', ['s', 'h'])).toBeUndefined()
  })
})
