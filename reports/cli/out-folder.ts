import { existsSync, mkdirSync, renameSync, rmdirSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import type { TextFile } from '../csv/run-files.ts'
import { diskReason } from '../jobs/trouble.ts'
import { failed } from './failure.ts'

/** A folder for results, made and known to be writable before a long run starts. */
export interface OutFolder {
  /** Writes all files, each under a temporary name first, and says their paths. */
  write(files: readonly TextFile[]): string[]
  /** Nothing will be written: takes away the folders that were made for it. */
  abandon(): void
}

/** Makes the folder and tries it. Throws a `Failure` when it cannot be written to. */
export function openOutFolder(folder: string): OutFolder {
  const made = missingFolders(path.resolve(folder))
  try {
    for (const missing of [...made].reverse()) makeFolder(missing)
    const trial = path.join(folder, `.linewright-${process.pid}.tmp`)
    writeFileSync(trial, '')
    // Another share may have the same trial file.
    rmSync(trial, { force: true })
  } catch (error) {
    removeEmpty(made)
    throw failed(`--out: cannot write to "${folder}": ${diskReason(error)}`)
  }
  return { write: files => writeAll(folder, files), abandon: () => removeEmpty(made) }
}

function writeAll(folder: string, files: readonly TextFile[]): string[] {
  const pairs = files.map(({ name, text }) => ({ file: path.join(folder, name), text }))
  const temporary = (file: string) => `${file}.${process.pid}.tmp`
  try {
    for (const { file, text } of pairs) writeFileSync(temporary(file), text)
    for (const { file } of pairs) renameSync(temporary(file), file)
  } catch (error) {
    for (const { file } of pairs) rmSync(temporary(file), { force: true, recursive: true })
    throw failed(`--out: cannot write to "${folder}": ${diskReason(error)}`)
  }
  return pairs.map(({ file }) => file)
}

/** The folders on the way to this one that do not exist yet, the innermost first. */
function missingFolders(folder: string): string[] {
  const missing: string[] = []
  for (let at = folder; !existsSync(at) && at !== path.dirname(at); at = path.dirname(at)) missing.push(at)
  return missing
}

/** One level: the recursive way never comes back from a file system that makes no folders. */
function makeFolder(folder: string): void {
  try {
    mkdirSync(folder)
  } catch (error) {
    // Another share may have made it in the meantime.
    if (!existsSync(folder)) throw error
  }
}

function removeEmpty(folders: readonly string[]): void {
  for (const folder of folders) {
    try {
      rmdirSync(folder)
    } catch {
      return
    }
  }
}
