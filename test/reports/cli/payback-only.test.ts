import { readFileSync } from 'node:fs'
import path from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { ownFolder } from './program.ts'

const own = ownFolder()
afterAll(own.remove)

own.write(
  'two.ts',
  `import { line } from 'linewright'
export default line({
  line: 'two tools',
  route: [
    { step: 'print', cycle: '4 s', stops: [{ stop: 'jam', every: '50 min', first: 'at random', lasts: '5 min' }] },
    { buffer: 'store', capacity: 10 },
    { step: 'test', cycle: '3 s' },
  ],
  run: { days: 0.25, replications: 2 },
  money: {
    currency: 'EUR', pricePerCell: 1, wafer: 0.5, discountRate: '8 %', years: 5,
    tools: { print: { price: 400000 }, test: { price: 300000 } }, places: { store: 50 },
    fasterRepair: { shorterBy: '50 %', investment: 1000 },
  },
})`,
)

const payback = (...options: string[]) => own.linewright(['payback', 'two.ts', ...options])

describe('payback --only', () => {
  it('answers one question', async () => {
    const { code, stdout } = await payback('--only', 'print: tools')
    expect(code).toBe(0)
    expect(stdout).toMatch(/^"one more tool of print" pays: \+\d/)
    expect(stdout).toContain('\nNothing was tried but what --only names: "print: tools".\n')
    expect(stdout).toContain('\nIntervals are at 95 %. Cash')
    for (const absent of ['test', 'store', 'jam', 'other', 'pairs']) expect(stdout).not.toContain(absent)
  })

  it('says what was found of a single change that is not shown to pay', async () => {
    const { stdout } = await payback('--only', 'store')
    expect(stdout.replaceAll('\n', ' ')).toMatch(
      /^"store for 20 wafers": (no difference|not shown to pay|shown not to pay)[a-z ]*, [+-]?\d.* good cells\/h\. /,
    )
  })

  it('speaks of what was asked for where several changes were', async () => {
    const { stdout } = await payback('--only', 'print: tools', '--only', 'store')
    expect(stdout.replaceAll('\n', ' ')).toContain(' No other of those asked for is shown to. ')
    const { stdout: none } = await payback('--only', 'test: tools', '--only', 'store')
    expect(none).toMatch(/^No single change of those asked for is shown to pay\.\n/)
  })

  it('is told in the document', async () => {
    const { stdout } = await payback('--only', 'PRINT: tools', '--only', 'store', '--json')
    const { only, changes, command } = JSON.parse(stdout)
    expect(only).toEqual(['PRINT: tools', 'store'])
    expect(changes).toHaveLength(2)
    expect(command).toContain("--only 'PRINT: tools' --only store")
    expect(JSON.parse((await payback('--json')).stdout)).not.toHaveProperty('only')
  })

  it('goes on with the runs of a study of all changes', async () => {
    await payback('--out', 'kept/results')
    const { code, stderr } = await payback('--only', 'print: tools', '--out', 'kept/results')
    expect(code).toBe(0)
    const page = readFileSync(path.join(own.folder, 'kept/results/report.html'), 'utf8')
    expect(page).toContain('The interval is at 95 %. Nothing was tried but what --only names.')
    expect(stderr).toContain('all 2 runs of the first round are there already')
  })

  it('refuses what names nothing, with what can be tried', async () => {
    const { code, stdout, stderr } = await payback('--only', 'jam', '--only', 'prnt: tools')
    expect({ code, stdout, stderr }).toEqual({
      code: 2,
      stdout: '',
      stderr:
        '--only: found "prnt: tools"; did you mean "print: tools"?\n' +
        'what can be tried, by such a name or a part of it:\n' +
        '  "print: tools", "test: tools"\n' +
        '  "store: capacity"\n' +
        '  "stop jam: lasts"\n',
    })
  })

  it('breaks no name of a long list in two', async () => {
    const names = Array.from({ length: 12 }, (_, i) => `a step of many words ${i}`)
    const steps = names.map(step => `{ step: '${step}', cycle: '1 s' }`)
    const money = "money: { currency: 'EUR', pricePerCell: 1, wafer: 0.5 }"
    own.write('long.ts', `export default { line: 'long', route: [${steps.join(', ')}], ${money} }`)
    const { stderr } = await own.linewright(['payback', 'long.ts', '--only', 'xyz'])
    const lines = stderr.split('\n').filter(line => line.startsWith('  '))
    expect(lines.length).toBeGreaterThan(3)
    for (const line of lines) {
      expect(line).toMatch(/^ {2}("a step of many words \d+: tools",? ?)+$/)
      expect(line.length).toBeLessThanOrEqual(80)
    }
  })

  it.each([
    [['--only', ''], '--only: no value found; allowed is what to try, such as "print: tools"'],
    [['--only', 'jam', '--only', 'jam'], '--only: "jam" is named twice'],
    [['--onyl', 'jam'], 'payback: unknown option --onyl; did you mean --only?'],
  ])('refuses %j', async (options, text) => {
    const { code, stderr } = await payback(...options)
    expect([code, stderr.split('\n')[0]]).toEqual([2, text])
  })
})
