import { isDeepStrictEqual } from 'node:util'
import { engineIdentity } from './identity.ts'
import type { ReadJournal } from './journal.ts'
import { differences, type Head } from './journal-head.ts'
import { Trouble } from './trouble.ts'

/**
 * The one study that journals are of. Throws a `Trouble` when they are of several, when
 * their shares do not fit together, when another version made them, or when the same run
 * has come out differently.
 */
export function joined(journals: readonly ReadJournal[]): Head {
  const sound = journals.flatMap(({ file, head }) => (head === undefined ? [] : [{ file, head }]))
  const [first, ...rest] = sound
  if (first === undefined) throw new Trouble('the journals are empty: not one run was finished')
  for (const { file, head } of rest) {
    const { shard: _one, ...found } = head
    const { shard: _other, ...wanted } = first.head
    const differing = [
      ...differences(found, wanted),
      ...commandOf(found, wanted),
      ...countOf(head, first.head),
    ]
    if (differing.length > 0)
      throw new Trouble(`${file} is of another study than ${first.file}: ${differing.join('; ')}`)
  }
  if (first.head.engine !== engineIdentity()) {
    throw new Trouble(
      `${first.file} was made by version ${first.head.version} (${first.head.engine}), not by this one ` +
        `(${engineIdentity()}): merge with the version that made it`,
    )
  }
  refuseContradictions(journals)
  return first.head
}

function commandOf(found: Head, wanted: Head): string[] {
  const [is, not] = [found.command.join(' '), wanted.command.join(' ')]
  return is === not ? [] : [`command "${is}", not "${not}"`]
}

function countOf(found: Head, wanted: Head): string[] {
  if (found.shard === undefined || wanted.shard === undefined) return []
  const [is, not] = [found.shard.count, wanted.shard.count]
  return is === not ? [] : [`one of ${is} shares, not of ${not}`]
}

/** The same run may be there several times, for a share may have been run twice: then alike. */
function refuseContradictions(journals: readonly ReadJournal[]): void {
  const seen = new Map<string, ReadJournal>()
  for (const journal of journals) {
    for (const key of journal.keys()) {
      const before = seen.get(key)
      if (before === undefined) seen.set(key, journal)
      else if (!isDeepStrictEqual(before.find(key), journal.find(key)))
        throw new Trouble(
          `${before.file} and ${journal.file} hold the same run with different results: one of them must be wrong`,
        )
    }
  }
}
