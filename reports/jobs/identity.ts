import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { onceEach } from '../../sim/base/once.ts'
import { canonicalText } from '../../sim/line/canonical.ts'
import type { Line } from '../../sim/line/types.ts'
import type { Job } from '../../sim/study/jobs.ts'

/** The simulator: beside this folder, as sources or compiled. */
const SIM = fileURLToPath(new URL('../../sim', import.meta.url))

let engine: string | undefined

/**
 * What simulated: a hash of the simulator's own code, and the major version of Node, for
 * logarithms and powers may change with it. The version number alone would let rows of an
 * engine pass that has been edited since.
 */
export function engineIdentity(): string {
  engine ??= `engine ${codeHash()}, Node ${process.versions.node.split('.')[0]}`
  return engine
}

function codeHash(): string {
  const hash = createHash('sha256')
  const files = readdirSync(SIM, { recursive: true, encoding: 'utf8' })
    .map(name => name.split(path.sep).join('/'))
    .filter(name => /\.[jt]s$/.test(name) && !name.endsWith('.d.ts'))
    .sort()
  for (const name of files) hash.update(`${name}\n`).update(readFileSync(path.join(SIM, name)))
  return hash.digest('hex').slice(0, 12)
}

/** Hash of a line: equal for equal data, however it was written. */
export const lineHash: (line: Line) => string = onceEach(line =>
  createHash('sha256').update(canonicalText(line)).digest('hex'),
)

/** The name of a job: two jobs of the same name have the same rows. The label does not count. */
export function jobKey(job: Job): string {
  const { line, seed, replication, days, drive, records } = job
  const parts = [
    engineIdentity(),
    lineHash(line),
    seed,
    replication,
    days,
    drive,
    ...(records ? [records] : []),
  ]
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex').slice(0, 32)
}
