import { describe, expect, it } from 'vitest'
import type { Estimate } from '../../sim/stats/estimate.ts'
import { CHECKS } from './all-checks.ts'
import type { Check, NumberCheck, PathCheck, StudyCheck, StudyFigure } from './check.ts'
import { EXACT_NUMBERS } from './exact-numbers.ts'
import { runCheck } from './run-check.ts'
import { runNumbers, runPath } from './run-exact.ts'
import { runStudyCheck } from './run-study-check.ts'
import { exactly, share } from './study-run.ts'
import type { Verdict } from './verdict.ts'
import { verify } from './verify-command.ts'
import { chosen, ENTRIES, type Entry } from './verify-entries.ts'
import { checkText, WIDTH } from './verify-text.ts'

const clock = () => 0

function verdict(more: Partial<Verdict> = {}): Verdict {
  return {
    ...{ id: 'X-01', family: 'queueing', kind: 'simulated', what: 'a queue', source: 'a book' },
    ...{
      figure: 'throughput',
      expected: 1,
      mean: 1.01,
      low: 0.99,
      high: 1.03,
      halfWidth: 0.01,
      within: 0.02,
    },
    ...{ pass: true, fault: '', secondTry: false, seconds: 1.25 },
    ...more,
  }
}

function entry(id: string, ...verdicts: Partial<Verdict>[]): Entry {
  return { id, family: 'queueing', run: async () => verdicts.map(more => verdict({ id, ...more })) }
}

async function run(args: readonly string[], entries: readonly Entry[]) {
  let text = ''
  const out = { write: (part: string) => (text += part) }
  const code = await verify(args, entries, { out, seconds: clock })
  return { code, text }
}

describe('the command', () => {
  it('ends with 0 when all hold and 1 when one does not', async () => {
    const good = await run([], [entry('A-01', {}), entry('A-02', {}, {})])
    expect(good.code).toBe(0)
    expect(good.text).toContain('3 figures of 2 checks in 0 s: 3 hold, 0 do not.')
    const bad = await run([], [entry('A-01', {}), entry('A-02', { pass: false, fault: 'misses' }, {})])
    expect(bad.code).toBe(1)
    expect(bad.text).toContain('2 hold, 1 do not.\nLook at A-02.'.replace('\n', '\n '))
    expect(bad.text).toMatch(/FAILS\n +misses\n/)
  })

  it('writes one document with --json', async () => {
    const { code, text } = await run(['--json'], [entry('A-01', {}, { pass: false, fault: 'misses' })])
    const document = JSON.parse(text)
    expect(code).toBe(1)
    expect(document).toMatchObject({ passed: 1, failed: 1, seconds: 0 })
    expect(document.checks[1]).toEqual(verdict({ id: 'A-01', pass: false, fault: 'misses' }))
  })

  it('runs only what is asked for', async () => {
    const entries = [entry('A-01', {}), entry('A-010', {}), entry('B-01a', {})]
    const { text } = await run(['--only', 'A-01,B', '--json'], entries)
    expect(JSON.parse(text).checks.map(({ id }: Verdict) => id)).toEqual(['A-01', 'B-01a'])
  })

  it.each([
    [['--only', 'Z'], 'no check is called "Z"'],
    [['--only', 'A-0'], 'no check is called "A-0"'],
    [['--fast'], "Unknown option '--fast'"],
    [['A-01'], "Unexpected argument 'A-01'"],
  ])('refuses %j', async (args, message) => {
    const { code, text } = await run(args, [entry('A-01', {})])
    expect(code).toBe(2)
    expect(text).toContain(message)
    expect(text).toContain('--only')
  })

  it('finds checks by id, by its start and by family', () => {
    const ids = (...words: string[]) => chosen(ENTRIES, words).map(({ id }) => id)
    expect(ids('s-05b')).toEqual(['S-05b'])
    expect(ids('S-05')).toHaveLength(6)
    expect(ids('unreliable lines').every(id => /^(U|S-2[124])/.test(id))).toBe(true)
    expect(ids()).toHaveLength(ENTRIES.length)
  })

  it('shows a result within the width, however long its words', () => {
    const long = verdict({
      what: 'many words '.repeat(30),
      source: 'a book '.repeat(40),
      fault: 'because '.repeat(20),
      low: -1234567.891,
      high: 1234567.891,
      expected: 0.00012345678,
      secondTry: true,
    })
    const lines = checkText([long, long])
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(WIDTH)
    expect(lines.join(' ').replace(/\s+/g, ' ')).toContain('[missed with its first seed; this is the second]')
  })
})

/** A published check with other expected values, run shortly. */
function altered(id: string, alter: (expected: number) => number, within = 1): Check {
  const check = CHECKS.find(candidate => candidate.id === id) as Check
  const figures = check.figures.map(figure => ({ ...figure, expected: alter(figure.expected), within }))
  return { ...check, run: { days: 1, replications: 10 }, figures }
}

describe('a simulated check', () => {
  it('fails when the value lies outside its interval, on both seeds', async () => {
    const [first] = await runCheck(
      altered('S-01', expected => expected * 1.1),
      clock,
    )
    expect(first).toMatchObject({ pass: false, fault: 'misses', secondTry: true })
    expect(first.seed).toBe('published S-01, second seed')
  })

  it('fails when the run is too short for its precision', async () => {
    const [first] = await runCheck(
      altered('S-01', expected => expected, 1e-4),
      clock,
    )
    expect(first).toMatchObject({ pass: false, secondTry: true })
    expect(first.fault).toMatch(/^not sure enough: [\d.]+ % of 0\.010 %$/)
  })

  it('passes on the same short run with the true value', async () => {
    const verdicts = await runCheck(
      altered('S-01', expected => expected),
      clock,
    )
    expect(verdicts.filter(({ pass }) => !pass)).toEqual([])
  })
})

describe('a check of a study', () => {
  const found = (mean: number, half: number) => ({ mean, low: mean - half, high: mean + half, n: 30 })
  const check = (estimate: Estimate, more: Partial<StudyFigure> = {}): StudyCheck => ({
    ...{ id: 'X', family: 'studies', what: '', source: '', run: { days: 1, replications: 30 } },
    find: async () => [{ name: 'gain', expected: 2, within: 0.1, estimate, ...more }],
  })
  const verdictOn = async (...given: Parameters<typeof check>) =>
    (await runStudyCheck(check(...given), clock))[0]

  it('fails when the value lies outside its interval, on both seeds', async () => {
    expect(await verdictOn(found(2.5, 0.2))).toMatchObject({
      ...{ pass: false, fault: 'misses', secondTry: true, kind: 'study' },
      seed: 'published X, second seed',
    })
    expect(await verdictOn(found(2.1, 0.2))).toMatchObject({ pass: true, secondTry: false, days: 1 })
  })

  it('fails when it is not sure enough, or knows no interval', async () => {
    expect((await verdictOn(found(2, 1))).fault).toMatch(/^not sure enough/)
    expect((await verdictOn({ mean: 2, n: 1 })).fault).toBe('no interval')
    expect((await verdictOn({ mean: Number.NaN, low: Number.NaN, high: Number.NaN, n: 30 })).pass).toBe(false)
  })

  it('may find more than a least value, not less', async () => {
    expect((await verdictOn(found(2.5, 0.2), { atLeast: true })).pass).toBe(true)
    expect((await verdictOn(found(1.5, 0.2), { atLeast: true })).fault).toBe('misses')
  })

  it('has what is counted exactly or not at all', async () => {
    expect(
      (await runStudyCheck({ ...check(found(2, 0)), find: async () => [exactly('steps', 13, 13)] }, clock))[0]
        .pass,
    ).toBe(true)
    expect(
      (await runStudyCheck({ ...check(found(2, 0)), find: async () => [exactly('steps', 13, 1)] }, clock))[0]
        .pass,
    ).toBe(false)
  })

  // Wilson's interval covers p just when |share - p| is z sqrt(p (1 - p) / n) at most: 0.95 of 200, 190 +- 10.1.
  it.each([
    [179, false],
    [180, true],
    [200, true],
    [100, false],
  ])('takes %i of 200 for 0.95: %s', async (hits, pass) => {
    const came = Array.from({ length: 200 }, (_, index) => index < hits)
    const figure = share('share', 0.95, came)
    expect(
      (await runStudyCheck({ ...check(found(2, 0)), find: async () => [{ ...figure, within: 1 }] }, clock))[0]
        .pass,
    ).toBe(pass)
  })
})

describe('an exact check', () => {
  const path: PathCheck = {
    ...{ id: 'X', family: 'queueing', what: '', source: '', line: { line: 'x', route: [] } },
    expected: { last: 9, times: [1, 2, 3] },
    find: () => ({ last: 9, times: [1, 2, 3] }),
  }

  it('passes only when every time agrees in both drives', () => {
    expect(runPath(path, clock).map(({ pass }) => pass)).toEqual([true, true])
    const found = runPath(
      { ...path, find: drive => ({ last: 9, times: drive === 'eager' ? [1, 3, 2] : [1, 2, 3] }) },
      clock,
    )
    expect(found.map(({ fault }) => fault)).toEqual(['', 'eager drive: number 2 is 3, not 2'])
    expect(
      runPath({ ...path, find: () => ({ last: 8, times: [1, 2] }) }, clock).map(({ pass }) => pass),
    ).toEqual([false, false])
  })

  it('of a number passes within its tolerance', () => {
    const number = (found: number): NumberCheck => ({
      ...{ id: 'X', family: 'statistics', what: '', source: '' },
      figures: [{ name: 'number', expected: 2.5, tolerance: 1e-6, find: () => found }],
    })
    expect(runNumbers(number(2.500002), clock)[0]).toMatchObject({ pass: true, mean: 2.500002 })
    expect(runNumbers(number(2.5), clock)[0].pass).toBe(true)
    expect(runNumbers(number(2.50001), clock)[0].pass).toBe(false)
    expect(runNumbers(number(Number.NaN), clock)[0].pass).toBe(false)
  })

  it.each(EXACT_NUMBERS.map(check => [check.id, check] as const))('%s holds', (_, check) => {
    expect(runNumbers(check, clock).filter(({ pass }) => !pass)).toEqual([])
  })
})
