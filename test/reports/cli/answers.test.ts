import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { ownFolder } from './program.ts'

const own = ownFolder()
afterAll(own.remove)

const LINE = `import { line } from 'linewright'
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
    fasterRepair: { shorterBy: '50 %', investment: 1000 }, variants: { 'fast print': { investment: 90000 } },
  },
  sizing: { tools: { print: [1, 3], test: [1, 3] } },
  variants: { 'fast print': { print: { cycle: '3.5 s' } } },
})`
own.write('two.ts', LINE)
own.write('three.ts', LINE.replace("'two tools'", "'slow test'").replace("'3 s' }", "'5 s' }"))
const POOR = LINE.replace(/ {2}money: \{[\s\S]*?\n {2}\},\n/, '')
own.write('poor.ts', POOR)
const SHIFT = "{ day: { from: '00:00', to: '00:00', days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'] } }"
own.write('workdays.ts', LINE.replace('route:', `calendar: { shifts: ${SHIFT} },\n  route:`))
own.write('rare.ts', POOR.replace("every: '50 min', first: 'at random'", "every: { exponential: '9000 h' }"))

const document = async (...args: string[]) => {
  const { code, stdout, stderr } = await own.linewright([...args, '--json'])
  expect([code, stderr]).toEqual([0, ''])
  return JSON.parse(stdout)
}

const ESTIMATE = { mean: expect.any(Number), low: expect.any(Number), high: expect.any(Number), n: 2 }

describe('constraint', () => {
  it('says which step holds the line, and why', async () => {
    const { steps, verdict, line, fingerprint, command } = await document('constraint', 'two.ts')
    expect(verdict).toBe('"print" holds the line.')
    expect(steps.map(({ name }: { name: string }) => name)).toEqual(['print', 'test'])
    expect(steps[0]).toMatchObject({
      staticPerHour: 900 / 1.1,
      momentaryShare: ESTIMATE,
      gainPerHour: ESTIMATE,
    })
    expect([line, command]).toEqual(['two tools', expect.stringMatching(/^linewright constraint .*two\.ts$/)])
    expect(fingerprint).toMatch(/^[0-9a-f]{12}$/)
  })

  it('answers in words first, with the table below', async () => {
    const { code, stdout } = await own.linewright(['constraint', 'two.ts'])
    expect(code).toBe(0)
    expect(stdout).toMatch(/^"print" holds the line\.\n"print" 10 % faster brings \+8\d/)
    expect(stdout).toContain('moment  gain/h')
    for (const row of stdout.split('\n')) expect(row.length).toBeLessThanOrEqual(80)
  })
})

describe('losses', () => {
  it('ranks what is lost', async () => {
    const { losses, nameplate } = await document('losses', 'two.ts')
    expect(nameplate).toEqual({ steps: ['print'], goodPerDay: 21600 })
    expect(losses[0]).toMatchObject({
      name: 'stop "jam" at print',
      goodPerDay: ESTIMATE,
      cashPerYear: ESTIMATE,
    })
  })

  it('draws the curve of one stop', async () => {
    const vary = ['--vary', 'stop jam: lasts', '--from', '1 min', '--to', '9 min', '--points', '3']
    const { points, nowLabel } = await document('losses', 'two.ts', ...vary)
    expect(points.map(({ label }: { label: string }) => label)).toEqual(['1 min', '5 min', '9 min'])
    expect(nowLabel).toBe('5 min')
  })

  it.each([
    [['--vary', 'stop jam: lasts'], '--vary: needs --from and --to'],
    [['--from', '2 min'], '--from: is an end of what --vary names'],
    [['--vary', 'stop jem: lasts', '--from', '1 min', '--to', '2 min'], 'allowed is a stop of the line'],
    [['--vary', 'stop jam: lasts', '--from', '1', '--to', '2 min'], '--from: found "1"; allowed is a time'],
    [['--stops', 'all'], '--stops: found "all"'],
    [['--replications', '1'], '--replications: found "1"'],
  ])('refuses %j', async (options, text) => {
    const { code, stderr } = await own.linewright(['losses', 'two.ts', ...options])
    expect([code, stderr]).toEqual([2, expect.stringContaining(text)])
  })
})

describe('payback', () => {
  it('carries gain, cash, payback and verdict of each change', async () => {
    const { changes, pairs, currency } = await document('payback', 'two.ts')
    const names = changes.map(({ name }: { name: string }) => name)
    expect([...names].sort()).toEqual([
      'fast print',
      'jam at print shorter by 50 %',
      'one more tool of print',
      'one more tool of test',
      'store for 20 wafers',
    ])
    expect(changes[0]).toMatchObject({
      gainPerHour: ESTIMATE,
      cashPerYear: ESTIMATE,
      paybackYears: ESTIMATE,
      npv: ESTIMATE,
      verdict: 'shown to pay',
    })
    expect(currency).toBe('EUR')
    expect(pairs.length).toBeGreaterThan(0)
  })

  it('cannot do without money', async () => {
    const { code, stderr } = await own.linewright(['payback', 'poor.ts'])
    expect([code, stderr]).toEqual([1, expect.stringContaining('give it a block "money"')])
  })

  it.each(['payback', 'size'])('%s warns of nothing where it cannot do without money', async name => {
    expect((await own.linewright(['constraint', 'rare.ts', '--days', '0.1'])).stderr).toContain('warning: ')
    const { code, stderr } = await own.linewright([name, 'rare.ts'])
    expect([code, stderr]).toEqual([1, expect.stringMatching(/^\w+ needs to know .* block "money"/)])
  })
})

describe('size', () => {
  it('finds the cheapest design and says how it was found', async () => {
    const { chosen, tried, runs, guarantee } = await document(
      'size',
      'two.ts',
      '--days',
      '0.12',
      '--target',
      '1000 cells/h',
    )
    expect(chosen.numbers).toEqual([
      { name: 'print: tools', value: 2 },
      { name: 'test: tools', value: 1 },
    ])
    expect(tried[0]).toEqual(chosen)
    expect(runs).toBeGreaterThan(0)
    expect(guarantee).toContain('With probability 95 %')
  })

  it('runs whole weeks where one day is not like another, else two days', async () => {
    const options = ['--target', '1000 cells/h', '--designs', '1', '--json']
    const days = async (file: string) =>
      JSON.parse((await own.linewright(['size', file, ...options])).stdout).days
    expect([await days('two.ts'), await days('workdays.ts')]).toEqual([2, 7])
    expect((await own.linewright(['size', '--help'])).stdout).toMatch(/--days .*default 2; 7 where/)
  })

  it.each([
    [['--target', '7000'], '--target: found "7000"'],
    [['--target', '4 MW/yr'], 'needs a wafer with area and efficiency'],
    [['--tolerance', '1'], '--tolerance: found "1"'],
  ])('refuses %j', async (options, text) => {
    const { code, stderr } = await own.linewright(['size', 'two.ts', ...options])
    expect([code, stderr]).toEqual([2, expect.stringContaining(text)])
  })
})

describe('compare', () => {
  it('sets files side by side', async () => {
    const { designs, pairs, best } = await document('compare', 'two.ts', 'three.ts')
    expect(designs.map(({ name }: { name: string }) => name)).toEqual(['two tools', 'slow test'])
    expect(pairs[0]).toMatchObject({
      gainPerHour: ESTIMATE,
      verdict: 'less',
      changes: ['test: cycle 3 s -> 5 s'],
    })
    expect(best).toEqual(['two tools'])
  })

  it('puts what all files assume on the page', async () => {
    const { code } = await own.linewright([
      'compare',
      'two.ts',
      'three.ts',
      '--days',
      '0.1',
      '--out',
      'both/results',
    ])
    expect(code).toBe(0)
    const html = readFileSync(path.join(own.folder, 'both/results/report.html'), 'utf8')
    for (const text of ['two tools: print', 'slow test: print', 'Hash of &quot;slow test&quot;'])
      expect(html).toContain(text)
  })

  it('names the file of each warning where there are several', async () => {
    const told = async (...files: string[]) =>
      (await own.linewright(['compare', ...files, '--days', '0.1', '--replications', '2'])).stderr
    expect(await told('two.ts', 'rare.ts')).toMatch(/^warning: rare\.ts: .*found/m)
    expect(await told('two.ts')).not.toContain('warning: two.ts: ')
  })

  it('says that a later file is run as the first one says', async () => {
    own.write('four.ts', LINE.replace('days: 0.25', 'days: 2'))
    const { code, stderr } = await own.linewright(['compare', 'two.ts', 'four.ts'])
    expect(code).toBe(0)
    expect(stderr).toContain('warning: four.ts: run: days 2: not used, all are run as two.ts says\n')
    // What the command line says holds for all of them.
    const said = await own.linewright(['compare', 'two.ts', 'four.ts', '--days', '0.25'])
    expect(said.stderr).not.toContain('not used')
  })

  it('sets the variants of one file side by side', async () => {
    const { designs } = await document('compare', 'two.ts')
    expect(designs.map(({ name }: { name: string }) => name)).toEqual(['as it is', 'fast print'])
  })

  it.each([
    [['compare'], 'compare: name the scenario files'],
    [['compare', 'two.ts', 'three.ts', '--variant', 'fast print'], 'found several files'],
    [
      ['compare', 'two.ts', '--variant', 'fast print', '--variant', 'fast print'],
      '--variant: "fast print" is named twice',
    ],
    [['compare', 'two.ts', '--variant', 'fats print'], 'did you mean "fast print"?'],
    [['compare', 'two.ts', '--dais', '3'], 'did you mean --days?'],
  ])('refuses %j', async (args, text) => {
    const { code, stderr } = await own.linewright(args)
    expect([code, stderr]).toEqual([2, expect.stringContaining(text)])
  })
})

describe('files of an answer', () => {
  it.each([
    [
      ['constraint', 'two.ts'],
      ['constraint.csv', 'constraint.json'],
    ],
    [
      ['losses', 'two.ts'],
      ['losses.csv', 'losses.json'],
    ],
    [
      ['payback', 'two.ts'],
      ['pairs.csv', 'payback.csv', 'payback.json'],
    ],
    [
      ['size', 'two.ts', '--days', '0.1', '--target', '1000 cells/h'],
      ['designs.csv', 'left-out.csv', 'size.json'],
    ],
    [
      ['compare', 'two.ts'],
      ['compare.json', 'designs.csv', 'pairs.csv'],
    ],
  ])('of %j', async ([command, ...rest], names) => {
    const out = path.join(own.folder, 'results', command)
    const { code } = await own.linewright([command, ...rest, '--out', out])
    expect(code).toBe(0)
    const files = readdirSync(out).filter(name => /\.(csv|json)$/.test(name))
    expect(files.sort()).toEqual(names)
    for (const name of files.filter(one => one.endsWith('.csv')))
      expect(readFileSync(path.join(out, name), 'utf8').split('\n')[0]).toMatch(/,/)
  })

  it('of losses names the currency of the scenario', () => {
    const file = path.join(own.folder, 'results', 'losses', 'losses.csv')
    expect(readFileSync(file, 'utf8').split('\n')[0]).toContain('cash lost [EUR/yr]')
  })

  it('that replace those of another study are named, those of the same command are not', async () => {
    const out = path.join(own.folder, 'shared', 'results')
    const told = async (...args: string[]) => {
      const { code, stderr } = await own.linewright([...args, '--out', out])
      expect(code).toBe(0)
      return stderr.split('\n').filter(line => line.startsWith('warning'))
    }
    expect(await told('payback', 'two.ts')).toEqual([])
    expect(await told('payback', 'two.ts', '--days', '0.2')).toEqual([])
    expect(await told('compare', 'two.ts')).toEqual([
      'warning: --out: pairs.csv and report.html (payback) of another study are replaced; give each study a folder of its own',
    ])
    expect(await told('compare', 'two.ts', '--days', '0.2')).toEqual([])
    expect(await told('losses', 'two.ts', '--stops', '0')).toHaveLength(1)
    const curve = ['--vary', 'stop jam: lasts', '--from', '1 min', '--to', '9 min', '--points', '2']
    const ofLosses =
      'warning: --out: report.html (losses) of another study is replaced; give each study a folder of its own'
    expect(await told('losses', 'two.ts', ...curve)).toEqual([ofLosses])
    expect(await told('losses', 'two.ts', ...curve)).toEqual([])
    expect(await told('compare', 'two.ts')).toHaveLength(1)
    expect(await told('constraint', 'two.ts')).toEqual([
      'warning: --out: report.html (compare) of another study is replaced; give each study a folder of its own',
    ])
  })
})
