/// <reference path="./seedrandom-tychei.d.ts" />
import tychei from 'seedrandom/lib/tychei.js'

/** A source of independent values, uniform in [0, 1) in steps of 2^-53. */
export type Stream = () => number

/**
 * Opens the random stream of one purpose, e.g.
 * `openStream('spring', 3, 'front print 2', 'stop', 'screen change', 'length')`.
 *
 * Equal arguments give the same stream, always; any other argument gives a
 * stream of its own. So a tool that is added or taken away leaves the draws of
 * all others as they were, which is what makes paired comparison sharp.
 *
 * The arguments are written as one JSON text: its quotes and escapes keep
 * ('a/b', 'c') apart from ('a', 'b/c'). It never ends in a NUL character, which
 * the generator could not tell from a shorter text drawn one step further.
 *
 * Generator: Tyche-i (Neves & Araujo 2012, Fast and Small Nonlinear Pseudorandom
 * Number Generators for Computer Simulation) as seedrandom carries it. Its
 * 53-bit value skips an exact 0.
 */
export function openStream(seed: string, replication: number, ...name: readonly string[]): Stream {
  return tychei(JSON.stringify([seed, replication, ...name])).double
}
