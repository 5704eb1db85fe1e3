import { runInNewContext } from 'node:vm'
import { build } from 'esbuild'
import { describe, expect, it } from 'vitest'
import { openStream } from '../../sim/chance/streams.ts'

function take(count: number, stream: () => number): number[] {
  return Array.from({ length: count }, stream)
}

/** Values less their mean, scaled so that their squares add up to 1. */
function standardised(values: readonly number[]): number[] {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const length = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0))
  return values.map(value => (value - mean) / length)
}

function product(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i], 0)
}

describe('a stream', () => {
  it('gives the same values for the same name, whatever else is open', () => {
    const first = openStream('s', 1, 'tester', 'cycle')
    const other = openStream('s', 1, 'printer', 'cycle')
    const again = openStream('s', 1, 'tester', 'cycle')
    const values = take(50, first)
    other()
    expect(take(50, again)).toEqual(values)
  })

  it.each([
    ['seed', openStream('t', 1, 'tester', 'cycle')],
    ['replication', openStream('s', 2, 'tester', 'cycle')],
    ['tool', openStream('s', 1, 'tester 2', 'cycle')],
    ['purpose', openStream('s', 1, 'tester', 'stop')],
    ['one part less', openStream('s', 1, 'tester')],
  ])('differs by %s', (_, other) => {
    const values = new Set(take(100, openStream('s', 1, 'tester', 'cycle')))
    expect(take(100, other).filter(value => values.has(value))).toEqual([])
  })

  it.each([
    [
      ['a/b', 'c'],
      ['a', 'b/c'],
    ],
    [
      ['a","b', 'c'],
      ['a', 'b","c'],
    ],
    [
      ['a', ''],
      ['', 'a'],
    ],
    [
      ['a\u0000', 'b'],
      ['a', '\u0000b'],
    ],
    [['a'], ['a', '']],
    [['1'], ['1"', '"']],
  ])('%j is another name than %j', (one, other) => {
    expect(take(5, openStream('s', 0, ...one))).not.toEqual(take(5, openStream('s', 0, ...other)))
  })

  it('of a name that ends in NUL is not the shorter one a step further', () => {
    const shorter = take(200, openStream('s', 0, 'a'))
    const longer = take(100, openStream('s', 0, 'a\u0000'))
    expect(longer.filter(value => shorter.includes(value))).toEqual([])
  })

  it('is uniform in [0, 1) in steps of 2^-53', () => {
    const values = take(100_000, openStream('s', 0, 'steps'))
    expect(values.every(value => value >= 0 && value < 1 && Number.isInteger(value * 2 ** 53))).toBe(true)
    expect(values.filter(value => !Number.isInteger(value * 2 ** 52)).length).toBeGreaterThan(20_000)
  })
})

/** Ways in which names come: each gives the k-th of a family of neighbouring streams. */
const FAMILIES: Record<string, (k: number) => () => number> = {
  'by replication': k => openStream('spring', k, 'printer 2', 'repair'),
  'by seed': k => openStream(`seed ${k}`, 0, 'tester', 'cycle'),
  'by tool': k => openStream('spring', 0, `tool ${k}`, 'cycle'),
  'by purpose': k => openStream('spring', 0, 'tool', `stop ${k}`, 'interval'),
  'by last character': k => openStream('spring', 0, 'tool', String.fromCodePoint(0x4e00 + k)),
}

const STREAMS = 10_000
/** With ten figures each a normal score beyond 3.9 comes by chance once in a thousand runs; the seeds are fixed. */
const CHANCE = 3.9

describe.each(Object.entries(FAMILIES))('neighbouring streams %s', (_, open) => {
  const starts = Array.from({ length: STREAMS }, (_, k) => take(3, open(k)))

  it.each([0, 1, 2])('have uniform values at place %i: chi-square over 100 cells', place => {
    const counts = new Array<number>(100).fill(0)
    for (const start of starts) counts[Math.floor(start[place] * 100)]++
    const share = STREAMS / 100
    const square = counts.reduce((sum, count) => sum + (count - share) ** 2 / share, 0)
    // Wilson & Hilferty (1931): the cube root of chi-square over its degrees is nearly normal.
    const score = (Math.cbrt(square / 99) - (1 - 2 / (9 * 99))) / Math.sqrt(2 / (9 * 99))
    expect(Math.abs(score)).toBeLessThan(CHANCE)
  })

  it.each([0, 1, 2])('are uncorrelated with the next at place %i', place => {
    const here = starts.map(start => start[place])
    const correlation = product(standardised(here.slice(0, -1)), standardised(here.slice(1)))
    const score = correlation * Math.sqrt(STREAMS - 1)
    expect(Math.abs(score)).toBeLessThan(CHANCE)
  })

  it('are uncorrelated over their length, each pair of 40', () => {
    const length = 2000
    const streams = Array.from({ length: 40 }, (_, k) => standardised(take(length, open(k))))
    const scores = streams.flatMap((a, i) =>
      streams.slice(i + 1).map(b => Math.abs(product(a, b)) * Math.sqrt(length)),
    )
    // The largest of 780 scores exceeds 4.8 by chance once in 800 runs.
    expect(Math.max(...scores)).toBeLessThan(4.8)
  })
})

describe('bundled for a browser', () => {
  it('gives the same values, without any Node module', async () => {
    const entry = `import { openStream } from './sim/chance/streams.ts'
      globalThis.values = Array.from({ length: 20 }, openStream('spring', 3, 'printer', 'cycle'))`
    const { outputFiles } = await build({
      stdin: { contents: entry, resolveDir: new URL('../..', import.meta.url).pathname },
      bundle: true,
      write: false,
      format: 'iife',
      platform: 'browser',
      logLevel: 'silent',
    })
    const page: { values?: number[] } = {}
    runInNewContext(outputFiles[0].text.replaceAll('globalThis', 'page'), { page })
    expect([...(page.values ?? [])]).toEqual(take(20, openStream('spring', 3, 'printer', 'cycle')))
  })
})
