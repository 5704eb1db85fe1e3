import { createHash } from 'node:crypto'
import { readSync } from 'node:fs'
import { deserialize, serialize } from 'node:v8'
import { deflateSync, inflateSync } from 'node:zlib'
import type { Rows } from '../../sim/measure/rows.ts'
import type { Job } from '../../sim/study/jobs.ts'

/**
 * A journal is a text file of lines, each `CHECKSUM JSON`: first a head, then one line per
 * finished run. Rows of a run are written as Node keeps plain data, deflated, in base64:
 * their many zeros take no room.
 */

/** One finished run. */
export interface Entry {
  /** `jobKey` of the job. */
  readonly job: string
  /** For people who look into the file. */
  readonly what: string
  readonly rows: string
}

/** Where a line lies in its file [bytes], its line feed left out. */
export interface Extent {
  readonly at: number
  readonly length: number
}

export function entryOf(key: string, job: Job, rows: Rows): Entry {
  const what = `${job.label}, replication ${job.replication + 1}, ${job.days} days`
  return { job: key, what, rows: deflateSync(serialize(rows), { level: 4 }).toString('base64') }
}

export function rowsIn(entry: Entry): Rows {
  return deserialize(inflateSync(Buffer.from(entry.rows, 'base64')))
}

/** A line with its checksum and its line feed. */
export function lineWith(value: object): string {
  const text = JSON.stringify(value)
  return `${checksum(text)} ${text}\n`
}

/** What a line says; undefined when it is damaged. */
export function valueIn(line: Buffer): unknown {
  const text = line.toString('utf8')
  const body = text.slice(CHECKSUM + 1)
  if (text[CHECKSUM] !== ' ' || checksum(body) !== text.slice(0, CHECKSUM)) return undefined
  return JSON.parse(body)
}

/** Digits of a checksum. */
const CHECKSUM = 16

function checksum(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, CHECKSUM)
}

const PIECE = 1 << 20
const LINE_FEED = 10

/**
 * Reads a file line by line, in pieces, for it may be larger than memory.
 *
 * @returns the length of the file, and how much of it whole lines take [bytes]; the rest is a torn line
 */
export function eachLine(
  file: number,
  seen: (line: Buffer, extent: Extent) => void,
): { size: number; whole: number } {
  let kept: Buffer[] = []
  let [at, read] = [0, 0]
  for (;;) {
    const piece = Buffer.allocUnsafe(PIECE)
    const length = readSync(file, piece, 0, PIECE, read)
    if (length === 0) return { size: read, whole: at }
    read += length
    let from = 0
    for (;;) {
      const end = piece.subarray(0, length).indexOf(LINE_FEED, from)
      if (end < 0) break
      const line = Buffer.concat([...kept, piece.subarray(from, end)])
      seen(line, { at, length: line.length })
      at += line.length + 1
      from = end + 1
      kept = []
    }
    kept.push(piece.subarray(from, length))
  }
}
