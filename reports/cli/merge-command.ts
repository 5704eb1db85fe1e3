import { statSync } from 'node:fs'
import path from 'node:path'
import type { CommandModule, Options } from 'yargs'
import type { ReadJournal } from '../jobs/journal.ts'
import type { Head } from '../jobs/journal-head.ts'
import { RunsMissing } from '../jobs/trouble.ts'
import { type Arguments, refuseUnknown } from './arguments.ts'
import { commandText } from './document.ts'
import { EXIT, Failure, failed, wrongUsage } from './failure.ts'
import { type OptionText, word } from './option-values.ts'
import type { Surroundings } from './surroundings.ts'

const MERGE_OPTIONS = {
  out: { type: 'string', describe: 'Write the results into this folder' },
  json: { type: 'boolean', describe: 'Print one JSON document instead of the summary' },
} as const satisfies Record<string, Options>

/** Repeats a command in the given surroundings. */
export type Repeat = (surroundings: Surroundings) => Promise<void>

/** `linewright merge FOLDER...`: joins the runs of all shares into the one study they are of. */
export function mergeCommand(surroundings: Surroundings, repeat: Repeat): CommandModule {
  return {
    command: 'merge',
    describe: 'Join the runs of all shares into one study',
    builder: program =>
      program
        .usage(
          '$0 merge FOLDER... [options]\n\nJoins the finished runs that the shares of a study keep in these folders.',
        )
        .options(MERGE_OPTIONS),
    handler: given => merge(surroundings, given as Arguments, repeat),
  }
}

async function merge(surroundings: Surroundings, given: Arguments, repeat: Repeat): Promise<void> {
  refuseUnknown('merge', MERGE_OPTIONS, given)
  const folders = given._.slice(1).map(String)
  if (folders.length === 0) {
    throw wrongUsage(
      'merge: name the folders with the finished runs: linewright merge FOLDER...\nsee linewright merge --help',
    )
  }
  const out = word('out', given.out as OptionText, 'the name of a folder')
  const [{ journalsIn, readJournal }, { joined }] = await Promise.all([
    import('../jobs/journal.ts'),
    import('../jobs/join.ts'),
  ])
  const journals = filesIn(folders, journalsIn).flatMap(file => readJournal(file) ?? [])
  if (journals.length === 0) throw failed(`no finished runs (runs*.journal) in ${folders.join(', ')}`)
  const head = joined(journals)
  const more = [...(out === undefined ? [] : ['--out', out]), ...(given.json === true ? ['--json'] : [])]
  surroundings.stderr.write(`${joinedText(journals)}\n`)
  await repeat({
    ...surroundings,
    args: [...head.command, ...more],
    env: withoutSchedulers(surroundings.env),
    merging: { scenario: head.line, beside: head.beside, journals },
  }).catch(error => {
    throw error instanceof RunsMissing ? incomplete(error, journals, head, folders[0]) : error
  })
}

/** The journals in the folders; a journal may also be named itself. */
function filesIn(folders: readonly string[], journalsIn: (folder: string) => string[]): string[] {
  const files = folders.flatMap(folder => {
    const found = statSync(folder, { throwIfNoEntry: false })
    if (found === undefined) throw failed(`${folder}: no such folder`)
    return found.isDirectory() ? journalsIn(folder) : [folder]
  })
  return [...new Set(files.map(file => path.normalize(file)))]
}

/** A merge is no share, though it may run in the last task of an array. */
function withoutSchedulers({
  SLURM_ARRAY_TASK_ID: _slurm,
  JOB_COMPLETION_INDEX: _kubernetes,
  ...env
}: Surroundings['env']) {
  return env
}

function joinedText(journals: readonly ReadJournal[]): string {
  const runs = new Set(journals.flatMap(journal => [...journal.keys()])).size
  const damaged = journals.filter(journal => journal.damaged > 0).map(({ file }) => file)
  const warning = damaged.map(file => `warning: ${file}: damaged lines; what they kept is missing`)
  const files = journals.length === 1 ? '1 journal' : `${journals.length} journals`
  return [`${files}, ${runs === 1 ? '1 run' : `${runs} runs`}`, ...warning].join('\n')
}

/** Most commands shown of those that must be run again. */
const SHOWN = 20

/** What is missing, and the commands that make it. */
function incomplete(
  { missing, known }: RunsMissing,
  journals: readonly ReadJournal[],
  head: Head,
  folder: string,
): Failure {
  const count = journals.find(journal => journal.head?.shard)?.head?.shard?.count ?? 1
  const shares = [...new Set(missing.map(run => (run % count) + 1))].sort((a, b) => a - b)
  const command = (share: number) => {
    const own = journals.find(journal => journal.head?.shard?.index === share)
    const words = count === 1 ? [] : ['--shard', `${share}/${count}`]
    return `  ${commandText([...head.command, ...words, '--out', own === undefined ? folder : path.dirname(own.file)])}`
  }
  const more = shares.length > SHOWN ? [`  and ${shares.length - SHOWN} shares more`] : []
  const which = count === 1 ? '' : `, in ${shares.length} of ${count} shares`
  const lines = [
    `missing: ${missing.length} of ${known} runs${which}. Give these commands, then merge again:`,
    ...shares.slice(0, SHOWN).map(command),
    ...more,
  ]
  return new Failure(EXIT.incomplete, lines.join('\n'))
}
