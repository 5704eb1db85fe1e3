import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Arguments } from '../../../reports/cli/arguments.ts'
import { Failure, interrupted } from '../../../reports/cli/failure.ts'
import { performRun, type Simulate } from '../../../reports/cli/perform-run.ts'
import { readRunRequest, runOptions } from '../../../reports/cli/run-request.ts'
import type { Surroundings } from '../../../reports/cli/surroundings.ts'
import type { Line } from '../../../sim/line/types.ts'
import { type Ahead, type Job, whole } from '../../../sim/study/jobs.ts'
import { study } from '../fixture.ts'
import { keeper, madeUp } from './surroundings.ts'

const line: Line = { line: 'Fixture line', from: 'invented', route: [{ step: 'print', cycle: '2 s' }] }
const job: Job = { line, label: 'Fixture line', replication: 0, seed: '1', days: 1, drive: 'eager' }

let folder: string
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'perform-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

async function perform(
  surroundings: Surroundings,
  given: Readonly<Record<string, unknown>>,
  simulate: Simulate,
): Promise<Failure | undefined> {
  const request = readRunRequest(surroundings, { _: ['run'], ...given } as Arguments)
  const options = runOptions(request, {}, '0.1.0')
  const ended = await performRun(surroundings, { line, scenario: line }, request, options, simulate).catch(
    error => error,
  )
  if (ended instanceof Error && !(ended instanceof Failure)) throw ended
  return ended
}

const audit = { ...study.audit, passed: false, faults: ['3 wafers are missing'] }
const succeed: Simulate = async () => study
const failAudit: Simulate = async () => ({ ...study, audit })

describe('a run', () => {
  it('prints the summary, after the audit when that is wanted', async () => {
    const { surroundings, stdout, stderr } = madeUp()
    expect(await perform(surroundings, { audit: true }, succeed)).toBeUndefined()
    expect(stdout.text()).toMatch(/^Audit passed\.\n/)
    expect(stdout.text()).toContain('\n\n6,512 good cells/h')
    expect(stdout.text()).toMatch(/wafer-steps\/s\n$/)
    expect(stderr.text()).toBe('')
  })

  it('hands its options and a runner to the study', async () => {
    const seen: unknown[] = []
    const { surroundings } = madeUp()
    await perform(surroundings, { days: '3', precision: '1 %' }, async (simulated, options, runner) => {
      seen.push(simulated, options.days, options.precision, options.cap)
      seen.push((await runner.run([job, { ...job, replication: 1 }], whole)).length)
      return study
    })
    expect(seen).toEqual([line, 3, 0.01, 200, 2])
  })

  it('whose audit failed ends with 3, tells the faults and writes nothing', async () => {
    const { surroundings, stdout } = madeUp()
    const out = path.join(folder, 'results')
    const ended = await perform(surroundings, { out }, failAudit)
    expect(ended?.exitCode).toBe(3)
    expect(ended?.message).toMatch(/^Audit failed: do not use these figures\.\n/)
    expect(ended?.message).toContain('Fault: 3 wafers are missing')
    expect(stdout.text()).toBe('')
    expect(existsSync(out)).toBe(false)
  })

  it('whose audit failed still gives the document, the faults inside', async () => {
    const { surroundings, stdout } = madeUp()
    expect((await perform(surroundings, { json: true }, failAudit))?.exitCode).toBe(3)
    expect(JSON.parse(stdout.text()).audit.faults).toEqual(['3 wafers are missing'])
  })

  it('that is interrupted clears its bar and leaves nothing', async () => {
    const out = path.join(folder, 'results')
    const screen = keeper('terminal')
    let pauses = 0
    let heeding = 0
    const { surroundings, stdout } = madeUp({
      stderr: screen.stream,
      heedInterrupts: () => {
        heeding++
        return () => heeding--
      },
      breathe: async () => {
        if (++pauses === 3) throw interrupted()
      },
    })
    const ended = await perform(surroundings, { out }, async (_line, _options, runner) => {
      expect(heeding).toBe(1)
      expect(readdirSync(out)).toEqual([])
      await runner.run([{ ...job, days: 1000 }], whole)
      return study
    })
    expect(ended).toMatchObject({ exitCode: 130, message: 'interrupted; nothing was kept' })
    expect(stdout.text()).toBe('')
    expect(screen.text()).toContain('░')
    expect(heeding).toBe(0)
    expect(existsSync(out)).toBe(false)
  })

  it.each([
    // Two rounds of two runs; after the second nothing is left to do but its end.
    [[2, 0], /: \d of 4 runs, Fixture line/, /% done, \d+ (s|min) left: /],
    [['unknown', 'unknown'], /: this round, \d runs? so far, Fixture line/, /^[^,]+% done: /],
  ] as const)('tells how far it is when %j runs are to come', async (ahead, what, share) => {
    let now = 0
    const { surroundings, stderr } = madeUp({ seconds: () => (now += 31) })
    await perform(surroundings, {}, async (_line, _options, runner) => {
      for (const [round, later] of ahead.entries()) {
        const replications = [2 * round, 2 * round + 1]
        const asked = replications.map(replication => ({ ...job, replication }))
        await runner.run(asked, whole, later as Ahead)
      }
      return study
    })
    const lines = stderr.text().split('\n').slice(0, -1)
    expect(lines.length).toBeGreaterThan(4)
    const shares = lines.map(line => Number.parseInt(line, 10))
    for (const line of lines) expect(line).toMatch(what)
    for (const line of lines.slice(1)) expect(line).toMatch(share)
    // A whole is told only when there is no more to come.
    if (ahead[0] === 2) expect(shares).toEqual([...shares].sort((a, b) => a - b))
    expect(Math.max(...shares.slice(0, 2))).toBeLessThan(100)
  })

  it('heeds Ctrl-C up to the moment when it starts to write', async () => {
    const { surroundings } = madeUp({
      breathe: async () => {
        throw interrupted()
      },
    })
    expect((await perform(surroundings, { out: folder }, succeed))?.exitCode).toBe(130)
    expect(readdirSync(folder)).toEqual([])
  })

  it('that meets a fault of the program takes its empty folder away', async () => {
    const { surroundings } = madeUp()
    const out = path.join(folder, 'results')
    const fault: Simulate = async () => {
      throw new TypeError('x is undefined')
    }
    await expect(perform(surroundings, { out }, fault)).rejects.toThrow('x is undefined')
    expect(existsSync(out)).toBe(false)
  })
})
