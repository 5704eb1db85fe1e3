import seedrandom from 'seedrandom'
import tychei from 'seedrandom/lib/tychei.js'
import { describe, expect, it } from 'vitest'
import { openStream } from '../../sim/chance/streams.ts'

type Generator = Pick<seedrandom.PRNG, 'double' | 'quick' | 'int32'> & (() => number)
/** The published vectors seed with a number too, which the types do not foresee. */
type Make = (seed: string | number) => Generator

const GENERATORS = {
  xor128: seedrandom.xor128,
  xorwow: seedrandom.xorwow,
  xorshift7: seedrandom.xorshift7,
  tychei: seedrandom.tychei,
  seedrandom,
  xor4096: seedrandom.xor4096,
  alea: seedrandom.alea,
} as unknown as Record<string, Make>

function values(next: () => number, count: number): number[] {
  return Array.from({ length: count }, () => next())
}

function countBelow(bound: number, values: readonly number[]): number {
  return values.filter(value => value < bound).length
}

describe('seedrandom gives its published numbers', () => {
  // seedrandom 3.0.5, README, seed "hello.".
  it('main generator', () => {
    const next = GENERATORS.seedrandom('hello.')
    const found = [next(), next(), next.quick(), next.int32()]
    expect(found).toEqual([0.9282578795792454, 0.3752569768646784, 0.7316977467853576, 1966374204])
  })

  it('alea', () => {
    const next = GENERATORS.alea('hello.')
    expect([next(), next.double(), next.int32()]).toEqual([
      0.4783254903741181, 0.8297006866124559, 1076136327,
    ])
  })

  // seedrandom 3.0.5, test/prngtest.js: seed 1 gives double(), quick(), int32(), then after two calls how many of
  // 1024 lie below 1/2, 1/4 and 1/8; last, from seed "hello." and after two calls, how many of 1024 lie below 1/8.
  it.each([
    ['xor128', 0.7963797148975774, 0.22171171731315553, 317177041, 498, 236, 110, 115],
    ['xorwow', 0.8178000247146859, 0.8407576507888734, 533150816, 519, 228, 121, 123],
    ['xorshift7', 0.21241471533241418, 0.9957620368804783, -1678071207, 510, 261, 143, 124],
    ['tychei', 0.42331440041340196, 0.9365617581643164, -884984569, 521, 242, 116, 126],
    ['seedrandom', 0.1776348083296759, 0.2160690303426236, 1397712774, 526, 282, 131, 137],
    ['xor4096', 0.1520436450538547, 0.4206166828516871, 1312695376, 496, 241, 113, 142],
    ['alea', 0.5260470956849501, 0.47771977609954774, -1625913352, 494, 246, 125, 122],
  ] as const)('%s', (name, ...expected) => {
    const next = GENERATORS[name](1)
    const found = [next.double(), next.quick(), next.int32()]
    const drawn = values(next, 1026).slice(2)
    for (const bound of [1 / 2, 1 / 4, 1 / 8]) found.push(countBelow(bound, drawn))
    found.push(countBelow(1 / 8, values(GENERATORS[name]('hello.'), 1026).slice(2)))
    expect(found).toEqual(expected)
  })

  // Run with seedrandom 3.0.5, seed "hello.": no printed source, pins the version.
  it.each([
    [
      'seedrandom',
      [0.9282578795792454, 0.3752569768646784, 0.7316977468919549, 0.23707962084956113, 0.06057665448709666],
    ],
    [
      'alea',
      [0.4783254903741181, 0.8297006865032017, 0.46924330526962876, 0.2505575136747211, 0.31444981368258595],
    ],
    [
      'xor128',
      [0.698391932528466, 0.6919899098575115, 0.5514540106523782, 0.4113934386987239, 0.5855552146676928],
    ],
    [
      'tychei',
      [0.4676165450364351, 0.794256798690185, 0.8909397614188492, 0.9707713141106069, 0.07701495313085616],
    ],
    [
      'xorwow',
      [0.14254314289428294, 0.5642471052706242, 0.8030998287722468, 0.4684637268073857, 0.21372657804749906],
    ],
    [
      'xor4096',
      [0.9798525865189731, 0.035834695445373654, 0.9905578466132283, 0.3123260070569813, 0.5215296742971987],
    ],
    [
      'xorshift7',
      [0.7404357127379626, 0.017942105419933796, 0.1670631943270564, 0.03609398379921913, 0.3878708186093718],
    ],
  ] as const)('%s, first five calls', (name, expected) => {
    expect(values(GENERATORS[name]('hello.'), 5)).toEqual(expected)
  })

  // State as the README describes it; figures from a run of 3.0.5.
  it('alea saves and restores its state', () => {
    const first = seedrandom.alea('hello.', { state: true })
    first()
    first()
    const saved = first.state()
    expect(saved).toEqual({
      c: 859689,
      s0: 0.40428079082630575,
      s1: 0.4783254903741181,
      s2: 0.8297006865032017,
    })
    expect(seedrandom.alea('', { state: saved })()).toBe(0.46924330526962876)
  })
})

describe('a stream', () => {
  it('is the published tychei, 53 bits a value, seeded by its name', () => {
    const stream = openStream('spring', 3, 'front print 2', 'cycle')
    const generator = tychei('["spring",3,"front print 2","cycle"]')
    for (let i = 0; i < 100; i++) expect(stream()).toBe(generator.double())
  })
})

describe('Park & Miller minimal standard', () => {
  // Park & Miller (1988), Communications of the ACM 31, 1192-1201 (from memory): x -> 16807 x mod (2^31 - 1).
  // The generator serves tests that need whole numbers anyone can reproduce.
  it('reaches 1043618065 after 10 000 steps from 1', () => {
    let x = 1
    const values: number[] = []
    for (let i = 0; i < 10_000; i++) {
      x = (16807 * x) % 2147483647
      values.push(x)
    }
    expect([values[0], values[9999]]).toEqual([16807, 1043618065])
  })
})
