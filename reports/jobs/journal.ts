import {
  closeSync,
  constants,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readdirSync,
  readSync,
  rmSync,
  writeSync,
} from 'node:fs'
import path from 'node:path'
import type { Rows } from '../../sim/measure/rows.ts'
import type { Job } from '../../sim/study/jobs.ts'
import { differences, type Head, headOf, isHead, type StudyIdentity } from './journal-head.ts'
import { type Entry, type Extent, eachLine, entryOf, lineWith, rowsIn, valueIn } from './journal-lines.ts'
import type { Shard } from './shard.ts'
import { diskReason, Trouble } from './trouble.ts'

/** The finished runs of one file, by job. Rows stay in the file until they are asked for. */
export interface ReadJournal {
  readonly file: string
  /** Undefined when not even the first line is whole. */
  readonly head: Head | undefined
  /** Runs in it, and their jobs. */
  size(): number
  keys(): Iterable<string>
  has(key: string): boolean
  find(key: string): Rows | undefined
  /** Lines whose checksum is wrong: their runs are done again. */
  readonly damaged: number
}

/** A journal that also keeps what is finished from now on. */
export interface Journal extends ReadJournal {
  /** Puts a run into the file, on the disk when this returns. Throws a `Trouble` when there is no room. */
  add(key: string, job: Job, rows: Rows): void
  close(): void
  /** Nothing of it is wanted: takes the file away. */
  remove(): void
}

/** Name of the journal of a study or of a share of it. */
export function journalName(shard: Shard | undefined): string {
  return shard === undefined ? 'runs.journal' : `runs-${shard.index}-of-${shard.count}.journal`
}

/** All journals in a folder, in the order of their names. */
export function journalsIn(folder: string): string[] {
  return readdirSync(folder)
    .filter(name => /^runs(-\d+-of-\d+)?\.journal$/.test(name))
    .sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))
    .map(name => path.join(folder, name))
}

/** Takes all journals out of a folder. */
export function removeJournals(folder: string): void {
  for (const file of journalsIn(folder)) rmSync(file, { force: true })
}

/** The other journals beside one whose runs are of the same study, such as those of other shares. */
export function othersOf({ file, head }: ReadJournal): ReadJournal[] {
  return journalsIn(path.dirname(file))
    .filter(other => other !== file)
    .flatMap(other => {
      const found = readIfSound(other)
      const { shard: _own, ...wanted } = head ?? {}
      const { shard: _other, ...had } = found?.head ?? {}
      return found?.head && head && differences(had as Head, wanted as Head).length === 0 ? [found] : []
    })
}

function readIfSound(file: string): ReadJournal | undefined {
  try {
    return readJournal(file)
  } catch (error) {
    if (error instanceof Trouble) return undefined
    throw error
  }
}

interface Scan {
  readonly head: Head | undefined
  readonly entries: Map<string, Extent>
  readonly damaged: number
  /** Length of the file, and how much of it whole lines take [bytes]. */
  readonly size: number
  readonly whole: number
}

/** Reads a journal; undefined when there is no such file. Throws a `Trouble` when it cannot be read. */
export function readJournal(file: string): ReadJournal | undefined {
  const scan = scanOf(file)
  return scan && { ...reader(file, scan.entries), head: scan.head, damaged: scan.damaged }
}

function reader(file: string, entries: ReadonlyMap<string, Extent>): Omit<ReadJournal, 'head' | 'damaged'> {
  return {
    file,
    size: () => entries.size,
    keys: () => entries.keys(),
    has: key => entries.has(key),
    find: key => {
      const extent = entries.get(key)
      return extent && rowsAt(file, extent)
    },
  }
}

function scanOf(file: string): Scan | undefined {
  let handle: number | undefined
  try {
    handle = openSync(file, 'r')
    return scanned(file, handle)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined
    throw error instanceof Trouble ? error : new Trouble(`cannot read ${file}: ${diskReason(error)}`)
  } finally {
    if (handle !== undefined) closeSync(handle)
  }
}

function scanned(file: string, handle: number): Scan {
  const entries = new Map<string, Extent>()
  let head: Head | undefined
  let [lines, damaged] = [0, 0]
  const lengths = eachLine(handle, (line, extent) => {
    const value = valueIn(line)
    if (lines++ === 0) {
      if (!isHead(value)) throw new Trouble(strange(file))
      head = value
    } else if (value === undefined) damaged++
    else entries.set((value as Entry).job, extent)
  })
  return { head, entries, damaged, ...lengths }
}

function rowsAt(file: string, { at, length }: Extent): Rows {
  const handle = openSync(file, 'r')
  try {
    const line = Buffer.allocUnsafe(length)
    readSync(handle, line, 0, length, at)
    const value = valueIn(line)
    if (value === undefined) throw new Trouble(`${file} was changed while it was in use`)
    return rowsIn(value as Entry)
  } finally {
    closeSync(handle)
  }
}

/**
 * Opens the journal of a study for going on. The file is made with the first run that is
 * finished. A torn last line, left by a kill or a power cut, is cut off.
 *
 * Throws a `Trouble` when the journal there is of something else, and says of what.
 */
export function openJournal(folder: string, study: StudyIdentity, shard: Shard | undefined): Journal {
  const file = path.join(folder, journalName(shard))
  const wanted = headOf(study, shard)
  const found = scanOf(file)
  if (found?.head !== undefined) {
    const differing = differences(found.head, wanted)
    if (differing.length > 0) throw new Trouble(refusal(file, differing))
  }
  const entries = found?.entries ?? new Map<string, Extent>()
  const pen = new Pen(file, lineWith(wanted), found ?? { size: 0, whole: 0 })
  return {
    ...reader(file, entries),
    head: wanted,
    damaged: found?.damaged ?? 0,
    add: (key, job, rows) => {
      if (!entries.has(key)) entries.set(key, pen.write(lineWith(entryOf(key, job, rows))))
    },
    close: () => pen.close(),
    remove() {
      pen.close()
      rmSync(file, { force: true })
    },
  }
}

function strange(file: string): string {
  return `${file} is no journal of runs, or its first line is damaged. Move it away, or start anew with --fresh.`
}

function refusal(file: string, differing: readonly string[]): string {
  return (
    `${file} keeps the runs of another study: ${differing.join('; ')}.\n` +
    'Give another --out folder, or --fresh to throw those runs away and start anew.'
  )
}

/** Writes whole lines at the end of a file, each on the disk before the next. */
class Pen {
  private handle: number | undefined
  private readonly file: string
  private readonly head: string
  /** Where the next line goes [bytes]. */
  private end: number
  /** Length of the file when it was last touched here: another one means another writer. */
  private size: number

  constructor(file: string, head: string, { size, whole }: Pick<Scan, 'size' | 'whole'>) {
    this.file = file
    this.head = head
    this.end = whole
    this.size = size
  }

  write(line: string): Extent {
    try {
      this.handle ??= this.opened()
      const at = this.end
      this.append(this.handle, line)
      return { at, length: this.end - at - 1 }
    } catch (error) {
      if (error instanceof Trouble) throw error
      throw new Trouble(
        `cannot write to ${this.file}: ${diskReason(error)}. The runs before are kept in it; ` +
          'when that is mended the same command goes on from there.',
      )
    }
  }

  close(): void {
    if (this.handle !== undefined) closeSync(this.handle)
    this.handle = undefined
  }

  private opened(): number {
    const handle = openSync(this.file, constants.O_RDWR | constants.O_CREAT)
    this.refuseCompany(handle)
    ftruncateSync(handle, this.end)
    this.size = this.end
    if (this.end === 0) this.append(handle, this.head)
    syncFolder(path.dirname(this.file))
    return handle
  }

  /** All of a line or nothing: what could not be written whole is cut off again. */
  private append(handle: number, line: string): void {
    const bytes = Buffer.from(line)
    this.refuseCompany(handle)
    try {
      for (let done = 0; done < bytes.length; )
        done += writeSync(handle, bytes, done, bytes.length - done, this.end + done)
      fsyncSync(handle)
    } catch (error) {
      ftruncateSync(handle, this.end)
      throw error
    }
    this.end += bytes.length
    this.size = this.end
  }

  private refuseCompany(handle: number): void {
    if (fstatSync(handle).size === this.size) return
    throw new Trouble(`${this.file}: another program writes to it. Is the same command running twice?`)
  }
}

/** Makes the name of a new file last. Some systems know no such thing for folders. */
function syncFolder(folder: string): void {
  try {
    const handle = openSync(folder, 'r')
    try {
      fsyncSync(handle)
    } finally {
      closeSync(handle)
    }
  } catch {
    // The file itself is on the disk.
  }
}
