import type { Law } from '../chance/law.ts'
import { sampler } from '../chance/sampler.ts'
import { openStream } from '../chance/streams.ts'

/** What names the random streams of one run, besides tool and purpose. */
export interface RunKey {
  readonly seed: string
  readonly replication: number
}

/** Draws whole ticks (or pieces), at least `least`, from a stream of its own. */
export function drawer(law: Law, key: RunKey, least: number, ...name: string[]): () => number {
  if (law.kind === 'fixed') {
    const value = Math.max(least, Math.round(law.value))
    return () => value
  }
  const draw = sampler(law, openStream(key.seed, key.replication, ...name))
  return () => Math.max(least, Math.round(draw()))
}
