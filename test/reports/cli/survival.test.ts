import { execFileSync } from 'node:child_process'
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readJournal } from '../../../reports/jobs/journal.ts'
import { builtProgram } from './built.ts'

/** Studies that are cut short, by real signals and real full disks, of the program as it is installed. */

const SCENARIO = `import { line } from 'linewright'
export default line({
  line: 'short line', from: 'invented',
  route: [
    { step: 'laser', cycle: '3 s' },
    { buffer: 'between', capacity: 20 },
    { step: 'printer', cycle: { exponential: '3.2 s' }, breakage: '0.1 %',
      stops: [{ stop: 'jam', every: { exponential: '2 h' }, lasts: '3 min' }] },
  ],
})
`
const RUNS = 24
const KILLS = 10
const COMMAND = ['run', 'line.ts', '--days', '10', '--replications', String(RUNS), '--workers', '2']

let folder: string
let program: Awaited<ReturnType<typeof builtProgram>>
let whole: Map<string, string>

const run = (out: string, more: readonly string[] = [], env = {}) =>
  program.start(folder, [...COMMAND, '--out', out, ...more], env)

/** The files of results by name, the journal left out. */
function results(out: string): Map<string, string> {
  const names = readdirSync(path.join(folder, out)).filter(name => !name.endsWith('.journal'))
  return new Map(names.sort().map(name => [name, readFileSync(path.join(folder, out, name), 'utf8')]))
}

beforeAll(async () => {
  folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'survival-')))
  writeFileSync(path.join(folder, 'line.ts'), SCENARIO)
  program = await builtProgram()
  expect((await run('whole').ended).code).toBe(0)
  whole = results('whole')
  expect([...whole.keys()]).toContain('run.json')
}, 120_000)

afterAll(() => {
  program?.remove()
  rmSync(folder, { recursive: true, force: true })
})

const sizeOf = (file: string) => statSync(file, { throwIfNoEntry: false })?.size ?? 0
const later = (milliseconds: number) => new Promise(resolve => setTimeout(resolve, milliseconds))

describe('a study that is killed', () => {
  it(`${KILLS} times at random moments ends with the same bytes as one that is not`, async () => {
    const journal = path.join(folder, 'killed', 'runs.journal')
    const sizes: number[] = []
    let killed = 0
    for (let kill = 0; kill < KILLS; kill++) {
      const { kill: send, ended } = run('killed')
      const before = sizeOf(journal)
      // Most kills strike while runs are being kept: from the first one on, or when all of them are there.
      const waiting = later(20_000)
      let over = false
      ended.then(() => {
        over = true
      })
      while (!over && sizeOf(journal) === before) await Promise.race([waiting, later(2)])
      await later(Math.random() * 60)
      send('SIGKILL')
      if ((await ended).signal === 'SIGKILL') killed++
      const found = existsSync(journal) ? readJournal(journal) : undefined
      expect(found?.damaged ?? 0).toBe(0)
      sizes.push(found?.size() ?? 0)
    }
    // Nothing that was kept is ever lost.
    expect(sizes).toEqual([...sizes].sort((a, b) => a - b))
    expect(sizes[0]).toBeLessThan(RUNS)
    expect(killed).toBeGreaterThan(KILLS / 2)
    const { code, stderr } = await run('killed').ended
    expect({ code, stderr }).toMatchObject({ code: 0, stderr: expect.stringContaining('are there already') })
    expect(results('killed')).toEqual(whole)
  }, 120_000)
})

describe('a study that is interrupted by Ctrl-C', () => {
  it('stops within a second, keeps what is finished and goes on from there', async () => {
    const journal = path.join(folder, 'cut', 'runs.journal')
    const { kill, ended } = run('cut')
    while (sizeOf(journal) < 100_000) await later(5)
    const sent = performance.now()
    kill('SIGINT')
    const { code, stdout, stderr } = await ended
    expect(performance.now() - sent).toBeLessThan(1000)
    expect({ code, stdout }).toEqual({ code: 130, stdout: '' })
    expect(stderr).toMatch(
      /^interrupted; \d+ runs? kept in cut\/runs\.journal, the same command goes on from there\n$/,
    )
    const again = await run('cut').ended
    expect(again.stderr).toMatch(/^cut\/runs\.journal: \d+ of 24 runs are there already\n/)
    expect(results('cut')).toEqual(whole)
  }, 120_000)
})

describe('a study on a full disk', () => {
  /** Runs a shell in which the folder `small` is a disk of 300 kB; as root, or as root of a space of its own. */
  function onSmallDisk(script: string): string {
    const mount = `mount -t tmpfs -o size=300k none small && ${script}`
    const alone = ['--mount', ...(process.getuid?.() === 0 ? [] : ['--user', '--map-root-user'])]
    const env = { ...process.env, NODE: process.execPath, MAIN: program.main }
    return execFileSync('unshare', [...alone, 'sh', '-c', mount], { cwd: folder, env, encoding: 'utf8' })
  }

  it('says so, keeps its runs, and goes on when there is room again', () => {
    mkdirSync(path.join(folder, 'small'))
    const command = `"$NODE" "$MAIN" ${COMMAND.join(' ')} --out small`
    const script = [
      `${command} 2>&1; echo "code $?"`,
      'ls small',
      'mount -o remount,size=20m small',
      `${command} 2>&1 >/dev/null; echo "code $?"`,
      'cp -r small roomy',
    ]
    const told = onSmallDisk(script.join('; '))
    expect(told).toMatch(
      /^cannot write to small\/runs\.journal: no space left\. The runs before are kept in it; when that is mended the same command goes on from there\.\ncode 1\nruns\.journal\n/,
    )
    expect(told).toMatch(
      /\nsmall\/runs\.journal: [1-9]\d? of 24 runs are there already\n(wrote .*\n)+code 0\n$/,
    )
    expect(results('roomy')).toEqual(whole)
  }, 120_000)
})

describe('shares of a study', () => {
  it('as a Slurm array and a Kubernetes Indexed Job set them, merge into the same bytes', async () => {
    const slurm = (id: number) => ({
      SLURM_ARRAY_TASK_ID: String(id),
      SLURM_ARRAY_TASK_COUNT: '3',
      SLURM_ARRAY_TASK_MIN: '1',
      SLURM_ARRAY_TASK_MAX: '3',
    })
    const kubernetes = { JOB_COMPLETION_INDEX: '1', JOB_COMPLETIONS: '3' }
    const first = await run('parts', [], slurm(1)).ended
    expect(first).toMatchObject({ code: 0, stdout: '' })
    expect(first.stderr).toBe(
      'share 1/3 (SLURM_ARRAY_TASK_ID=1): 8 of 24 runs to simulate, 0 there\n' +
        'share 1/3 is done: 8 of 24 runs known so far are in parts. When those of all shares are: ' +
        'linewright merge parts, which joins them, or names the shares to give again if the study needs further runs.\n',
    )
    // What was typed beats the environment.
    expect((await run('elsewhere', ['--shard', '3/3'], slurm(1)).ended).stderr).toContain(
      'share 3/3 (--shard)',
    )
    const early = await program.start(folder, ['merge', 'parts', 'elsewhere']).ended
    expect(early).toMatchObject({ code: 4, stdout: '' })
    expect(early.stderr).toBe(
      '2 journals, 16 runs\nmissing: 8 of 24 runs, in 1 of 3 shares. Give these commands, then merge again:\n' +
        '  linewright run line.ts --days 10 --replications 24 --shard 2/3 --out parts\n',
    )
    expect((await run('parts', [], kubernetes).ended).stderr).toContain('share 2/3 (JOB_COMPLETION_INDEX=1)')
    rmSync(path.join(folder, 'line.ts'))
    const merged = await program.start(folder, ['merge', 'parts', 'elsewhere', '--out', 'merged'], slurm(3))
      .ended
    expect(merged.code).toBe(0)
    expect(merged.stdout).toContain('good cells/h')
    expect(results('merged')).toEqual(whole)
  }, 120_000)
})
