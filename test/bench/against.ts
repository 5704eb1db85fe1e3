import { readFileSync } from 'node:fs'

/** A bench as `--json` prints it, as far as it is compared. */
export interface Stored {
  readonly machine?: string
  readonly node?: string
  readonly commit?: string
  readonly lines?: readonly {
    readonly name: string
    readonly drive: string
    readonly waferStepsPerSecond: number
  }[]
  readonly growth?: readonly {
    readonly grows: string
    readonly size: number
    readonly nanosecondsPerWaferStep: number
  }[]
}

/** Speed now over speed then: above 1 is faster. */
export interface Ratio {
  readonly what: string
  readonly ratio: number
}

/** Reads a bench that was stored. Throws an error that says what is wrong with the file. */
export function storedBench(file: string): Stored {
  let text: string
  try {
    text = readFileSync(file, 'utf8')
  } catch (error) {
    throw new Error(`--against: cannot read ${file}: ${(error as Error).message}`)
  }
  try {
    const found = JSON.parse(text)
    if (Array.isArray(found?.lines)) return found
  } catch {
    // Said below.
  }
  throw new Error(`--against: ${file} is no bench; make one with: npm run bench --silent -- --json > ${file}`)
}

/** Ratios of all rows that both have. */
export function ratios(now: Stored, then: Stored): Ratio[] {
  const lines = (now.lines ?? []).flatMap(row => {
    const old = then.lines?.find(one => one.name === row.name && one.drive === row.drive)
    const what = `${row.name}, ${row.drive}`
    return old ? [{ what, ratio: row.waferStepsPerSecond / old.waferStepsPerSecond }] : []
  })
  const growth = (now.growth ?? []).flatMap(row => {
    const old = then.growth?.find(one => one.grows === row.grows && one.size === row.size)
    const what = `${row.grows} ${row.size}`
    return old ? [{ what, ratio: old.nanosecondsPerWaferStep / row.nanosecondsPerWaferStep }] : []
  })
  return [...lines, ...growth]
}

export function ratiosText(found: readonly Ratio[], then: Stored): string {
  const origin = `speed against ${then.machine ?? 'an unknown machine'}, Node ${then.node ?? '?'}, commit ${then.commit ?? '?'}`
  return [origin, ...found.map(({ what, ratio }) => `${what.padEnd(20)} x ${ratio.toFixed(3)}`)].join('\n')
}
