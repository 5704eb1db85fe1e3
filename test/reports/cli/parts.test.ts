import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { coloursFor } from '../../../reports/cli/colour.ts'
import { commandText, documentText } from '../../../reports/cli/document.ts'
import { EXIT, explain, failed } from '../../../reports/cli/failure.ts'
import { openOutFolder } from '../../../reports/cli/out-folder.ts'
import { progressOn, timeLeft } from '../../../reports/cli/progress.ts'
import { keeper, madeUp } from './surroundings.ts'

let folder: string
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'linewright-test-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

describe('the folder of results', () => {
  const files = [
    { name: 'a.csv', text: 'x\n1\n' },
    { name: 'run.json', text: '{}\n' },
  ]

  it('is made, tried and filled, and keeps what else is in it', () => {
    const out = path.join(folder, 'new', 'deep')
    const opened = openOutFolder(out)
    expect(readdirSync(out)).toEqual([])
    writeFileSync(path.join(out, 'a.csv'), 'old')
    writeFileSync(path.join(out, 'mine.txt'), 'mine')
    expect(opened.write(files)).toEqual([path.join(out, 'a.csv'), path.join(out, 'run.json')])
    expect(readdirSync(out).sort()).toEqual(['a.csv', 'mine.txt', 'run.json'])
    expect(readFileSync(path.join(out, 'a.csv'), 'utf8')).toBe('x\n1\n')
  })

  it('goes again when nothing comes of it, unless it was there before', () => {
    openOutFolder(path.join(folder, 'new', 'deep')).abandon()
    expect(readdirSync(folder)).toEqual([])
    openOutFolder(folder).abandon()
    expect(existsSync(folder)).toBe(true)
  })

  it('is refused where a file is in the way', () => {
    writeFileSync(path.join(folder, 'file'), '')
    expect(() => openOutFolder(path.join(folder, 'file'))).toThrow(
      /^--out: cannot write to ".*": a file is in the way$/,
    )
    expect(() => openOutFolder(path.join(folder, 'file', 'deep'))).toThrow(/a file is in the way$/)
  })

  it('keeps no half of the files when one cannot be written', () => {
    const opened = openOutFolder(folder)
    mkdirSync(path.join(folder, `run.json.${process.pid}.tmp`))
    expect(() => opened.write(files)).toThrow(/^--out: cannot write/)
    expect(existsSync(path.join(folder, 'a.csv'))).toBe(false)
  })
})

describe('the document', () => {
  it('has no word for what is no number', () => {
    const text = documentText({
      a: Number.NaN,
      b: [1, Number.POSITIVE_INFINITY],
      c: { mean: 2, low: Number.NEGATIVE_INFINITY },
    })
    expect(JSON.parse(text)).toEqual({ b: [1, null], c: { mean: 2 } })
    expect(text.endsWith('}\n')).toBe(true)
  })

  it('carries the command as it can be typed again', () => {
    expect(commandText(['run', 'my line.ts', '--precision', '0.5 %', '--seed', "it's"])).toBe(
      "linewright run 'my line.ts' --precision '0.5 %' --seed 'it'\\''s'",
    )
  })
})

describe('an end', () => {
  it('in failure is told in words', () => {
    expect(explain(failed('no such file'), {})).toEqual({ text: 'no such file', exitCode: EXIT.failed })
  })

  it('by a fault of the program is told in one line, its stack only on demand', () => {
    const fault = new TypeError('x is undefined\nsecond line')
    const { text, exitCode } = explain(fault, {})
    expect(exitCode).toBe(70)
    expect(text).toMatch(/^internal error: x is undefined \(.*LINEWRIGHT_DEBUG=1.*\)$/)
    expect(text).not.toContain('\n')
    expect(explain(fault, { LINEWRIGHT_DEBUG: '1' }).text).toContain('at ')
    expect(explain('only text', {}).text).toMatch(/^internal error: only text/)
  })
})

describe('colours', () => {
  const screen = { write: () => true, isTTY: true }
  const pipe = { write: () => true }

  it.each([
    [screen, {}, true],
    [pipe, {}, false],
    [screen, { NO_COLOR: '1' }, false],
    [screen, { NO_COLOR: '' }, true],
    [screen, { TERM: 'dumb' }, false],
    [pipe, { FORCE_COLOR: '1' }, true],
    [screen, { FORCE_COLOR: '0' }, false],
    [pipe, { FORCE_COLOR: '1', NO_COLOR: '1' }, true],
  ])('%j with %j', (stream, env, wanted) => {
    expect(coloursFor(stream, env).red('x') !== 'x').toBe(wanted)
  })
})

describe('progress', () => {
  it('is drawn on a terminal', () => {
    const screen = keeper('terminal')
    const progress = progressOn(madeUp({ stderr: screen.stream }).surroundings)
    progress.update(0.25, 'replication 3 of 10', '')
    progress.end()
    expect(screen.text()).toMatch(/░/)
  })

  it.each([
    ['pipe', {}],
    ['terminal', { TERM: 'dumb' }],
  ] as const)('is silent on a %s with %j', (kind, env) => {
    const screen = keeper(kind)
    const progress = progressOn(madeUp({ stderr: screen.stream, env }).surroundings)
    progress.update(0.5, 'x', '')
    progress.end()
    expect(screen.text()).toBe('')
  })

  it('says a line every half minute where it cannot draw', () => {
    const screen = keeper('pipe')
    let now = 0
    const progress = progressOn(madeUp({ stderr: screen.stream, seconds: () => now }).surroundings)
    for (; now <= 70; now += 5)
      progress.update(now / 100, `${now} of 100 runs, base`, now < 60 ? '2 min left' : '')
    progress.end()
    expect(screen.text()).toBe(
      '30 % done, 2 min left: 30 of 100 runs, base\n60 % done: 60 of 100 runs, base\n',
    )
  })

  it('says how long it will take', () => {
    expect(timeLeft(10, 0.25)).toBe('30 s left')
    expect(timeLeft(60, 0.1)).toBe('9 min left')
    expect(timeLeft(3600, 0.4)).toBe('1 h 30 min left')
    expect(timeLeft(3541, 0.5)).toBe('1 h 0 min left')
    expect(timeLeft(7200, 0.5)).toBe('2 h 0 min left')
    expect(timeLeft(1, 0)).toBe('')
  })
})
