import { describe, expect, it } from 'vitest'
import {
  foundText,
  keyText,
  pathText,
  problemAt,
  problemLines,
  problemText,
  wordList,
} from '../../sim/base/problems.ts'

describe('pathText', () => {
  it('joins keys by arrows, with indices in brackets and names in quotes', () => {
    const path = ['route', 6, { name: 'front print' }, 'stops', 1, { name: 'jam' }, 'every']
    expect(pathText(path)).toBe('route[6] "front print" → stops[1] "jam" → every')
  })

  it('shows the names of lanes and variants', () => {
    expect(pathText(['route', 2, 'lanes', { name: 'north' }, 0])).toBe('route[2] → lanes "north"[0]')
    expect(pathText(['variants', { name: 'a "b"' }])).toBe('variants "a \\"b\\""')
  })
})

describe('problemText', () => {
  it('is one line, with the hint in brackets', () => {
    expect(problemText(problemAt(['target'], '5', 'a rate'))).toBe('target: found 5, expected a rate')
    expect(problemText(problemAt(['target'], '5', 'a rate', 'its unit is missing'))).toBe(
      'target: found 5, expected a rate (its unit is missing)',
    )
  })
})

describe('foundText', () => {
  it.each([
    [undefined, 'nothing'],
    [null, 'null'],
    ['a "b"\n', '"a \\"b\\"\\n"'],
    ['x'.repeat(80), `"${'x'.repeat(60)}…"`],
    [1.5, '1.5'],
    [Number.NaN, 'NaN'],
    [true, 'true'],
    [[], 'an empty list'],
    [[1, 2], 'a list of 2'],
    [{}, 'an empty object'],
    [{ a: 1, b: 2 }, 'an object with a and b'],
    [{ '': 1, 'front print': 2 }, 'an object with "" and "front print"'],
    [{ a: 1, b: 2, c: 3, d: 4, e: 5, f: 6, g: 7 }, 'an object with a, b, c, d, e and f …'],
    [() => 1, 'a function'],
    [Symbol('s'), 'Symbol(s)'],
    [10n, '10'],
  ])('of %s', (value, text) => {
    expect(foundText(value)).toBe(text)
  })
})

it('keyText quotes what is no plain word', () => {
  expect(['tools', 'front print', '', '->'].map(keyText)).toEqual(['tools', '"front print"', '""', '"->"'])
})

it('wordList joins words for people', () => {
  expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(words => wordList(words, 'or'))).toEqual([
    '',
    'a',
    'a or b',
    'a, b or c',
  ])
})

describe('problemLines', () => {
  const slip = (where: string) => problemAt([where], '"prnt"', 'a name', 'did you mean "print"?')
  const other = problemAt(['target'], '5', 'a rate')
  const told = 'found "prnt", expected a name (did you mean "print"?)'

  it('tells four and more that differ in their place alone as one, where the first of them stands', () => {
    const few = ['a', 'b', 'c'].map(slip)
    expect(problemLines([...few, other])).toEqual([...few, other].map(problemText))
    expect(problemLines([slip('a'), other, ...['b', 'c', 'd'].map(slip)])).toEqual([
      `a: ${told}, and at 3 more places: b; c; d`,
      problemText(other),
    ])
    expect(problemLines(['a', 'b', 'c', 'd', 'e', 'f'].map(slip))).toEqual([
      `a: ${told}, and at 5 more places: b; c; d; …`,
    ])
  })

  it.each([
    ['found', problemAt(['d'], '"prnd"', 'a name', 'did you mean "print"?')],
    ['expected', problemAt(['d'], '"prnt"', 'names', 'did you mean "print"?')],
    ['the hint', problemAt(['d'], '"prnt"', 'a name')],
  ])('tells apart what differs in %s', (_, differing) => {
    expect(problemLines([...['a', 'b', 'c'].map(slip), differing])).toHaveLength(4)
  })
})
