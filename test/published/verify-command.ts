import { parseArgs } from 'node:util'
import type { Verdict } from './verdict.ts'
import { chosen, type Entry } from './verify-entries.ts'
import { checkText, HEAD, totalText } from './verify-text.ts'

/** Where the command writes, and its clock. */
export interface World {
  readonly out: { write(text: string): unknown }
  /** Present when a person watches. */
  readonly progress?: { show(text: string): void; clear(): void }
  /** A clock [s]. */
  seconds(): number
}

const USAGE = `verify [--only WORDS] [--json]

  --only  ids or families, with commas between: S-01, Q, "serial lines"
  --json  one document instead of text`

/** Runs the checks asked for. @returns exit code: 0 all hold, 1 one does not, 2 a mistake in the arguments */
export async function verify(
  args: readonly string[],
  entries: readonly Entry[],
  world: World,
): Promise<number> {
  const asked = read(args, entries)
  if (typeof asked === 'string') {
    world.out.write(`${asked}\n\n${USAGE}\n`)
    return 2
  }
  const started = world.seconds()
  const say = (lines: readonly string[]) => asked.json || world.out.write(`${lines.join('\n')}\n\n`)
  say(HEAD)
  const verdicts: Verdict[] = []
  for (const [index, entry] of asked.entries.entries()) {
    const place = `${index + 1} of ${asked.entries.length}: ${entry.id}`
    world.progress?.show(place)
    const progress = (share: number) => world.progress?.show(`${place}, ${Math.floor(share * 100)} %`)
    const found = await entry.run(world.seconds, { progress })
    world.progress?.clear()
    verdicts.push(...found)
    say(checkText(found))
  }
  const seconds = world.seconds() - started
  say(totalText(verdicts, seconds))
  const failed = verdicts.filter(({ pass }) => !pass).length
  const document = { checks: verdicts, passed: verdicts.length - failed, failed, seconds }
  if (asked.json) world.out.write(`${JSON.stringify(document, undefined, 2)}\n`)
  return failed > 0 ? 1 : 0
}

interface Asked {
  readonly json: boolean
  readonly entries: readonly Entry[]
}

/** What the arguments ask for, or what is wrong with them. */
function read(args: readonly string[], entries: readonly Entry[]): Asked | string {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: { json: { type: 'boolean' }, only: { type: 'string', multiple: true } },
    })
    const words = (values.only ?? []).flatMap(list => list.split(',')).map(word => word.trim())
    return { json: values.json === true, entries: chosen(entries, words) }
  } catch (error) {
    return (error as Error).message
  }
}
