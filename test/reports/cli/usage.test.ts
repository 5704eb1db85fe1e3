import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ownFolder } from './program.ts'

const place = ownFolder()
beforeAll(() => {
  place.write('line.ts', SCENARIO)
})
afterAll(place.remove)

const SCENARIO = `import { line } from 'linewright'
export default line({
  line: 'two steps',
  target: '1000 wafers/h',
  route: [
    { step: 'laser', cycle: '3 s' },
    { buffer: 'between', capacity: 20 },
    { step: 'printer', cycle: { exponential: '3.2 s' }, breakage: '0.1 %' },
  ],
  variants: { 'fast printer': { printer: { cycle: '2 s' } } },
})
`

describe('help', () => {
  it('is given on standard output, with the exit codes, in 80 columns', async () => {
    const { code, stdout, stderr } = await place.spawned(['--help'])
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' })
    for (const word of [
      'linewright run',
      'linewright check',
      'Exit codes',
      '130  interrupted',
      '3  the audit',
    ]) {
      expect(stdout).toContain(word)
    }
    for (const line of stdout.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80)
  })

  it('of a command names all its options', async () => {
    const { code, stdout } = await place.linewright(['run', '-h'])
    expect(code).toBe(0)
    const options = [
      'variant',
      'days',
      'replications',
      'precision',
      'level',
      'seed',
      'drive',
      'out',
      'json',
      'audit',
    ]
    for (const option of options) expect(stdout).toContain(`--${option}`)
  })

  it('without a command is wrong usage', async () => {
    const { code, stdout, stderr } = await place.linewright([])
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' })
    expect(stderr).toContain('Exit codes')
  })

  it('gives the version', async () => {
    const { code, stdout } = await place.linewright(['--version'])
    expect(code).toBe(0)
    expect(stdout).toMatch(/^\d+\.\d+\.\d+\n$/)
  })
})

describe('wrong usage', () => {
  it.each([
    [['rnu', 'line.ts'], 'unknown command "rnu"; did you mean run?'],
    [
      ['simulate'],
      'unknown command "simulate"; commands are run, check, constraint, losses, payback, size, compare, merge',
    ],
    [['run'], 'run: name the scenario file: linewright run FILE'],
    [
      ['run', 'line.ts', '--replicatons', '3'],
      'run: unknown option --replicatons; did you mean --replications?',
    ],
    [['run', 'line.ts', '--days', '-5'], '--days: found "-5"; allowed is a number above 0, at most 36500'],
    [
      ['losses', 'line.ts', '--vary', 'stop jam: lasts', '--from', '-2 min'],
      'losses: unknown option -2; a value that begins with - is written with an equals sign, as in --from=-2',
    ],
    [['check', 'line.ts', 'other.ts'], 'check: takes one scenario file, found also "other.ts"'],
    [
      ['run', 'line.ts', '--variant', 'fast print'],
      '--variant: found "fast print"; allowed is "fast printer"; did you mean "fast printer"?',
    ],
  ])('%j is answered with what is meant', async (args, text) => {
    const { code, stdout, stderr } = await place.linewright(args)
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' })
    expect(stderr.split('\n')[0]).toBe(text)
  })
})

describe('a wrong scenario', () => {
  it('that is missing', async () => {
    const { code, stdout, stderr } = await place.spawned(['run', 'none.ts'])
    expect({ code, stdout, stderr }).toEqual({ code: 1, stdout: '', stderr: 'none.ts: no such file\n' })
  })

  it('with a slip of syntax', async () => {
    place.write('syntax.ts', 'export default {\n  line: 1,,\n}\n')
    const { code, stderr } = await place.spawned(['run', 'syntax.ts'])
    expect(code).toBe(1)
    expect(stderr).toBe('syntax.ts:2:11: Expected identifier but found ","\n    line: 1,,\n            ^\n')
  })

  it('with a misspelt key and a wrong unit is told of both at once', async () => {
    place.write('wrong.ts', SCENARIO.replace("cycle: '3 s'", "cylce: '3 s'").replace("'3.2 s'", "'3.2 sec'"))
    const { code, stdout, stderr } = await place.linewright(['run', 'wrong.ts', '--out', 'results'])
    expect({ code, stdout }).toEqual({ code: 1, stdout: '' })
    expect(stderr).toMatch(/^wrong\.ts: \d+ problems\n/)
    expect(stderr).toContain('route[0] "laser"')
    expect(stderr).toContain('cycle')
    expect(stderr).toContain('route[2] "printer"')
    expect(stderr).toContain('sec')
    expect(stderr).not.toMatch(/^\s+at /m)
  })
})

describe('many problems alike', () => {
  const steps = (skill: string) =>
    ['a', 'b', 'c', 'd', 'e'].map(step => ({
      ...{ step, cycle: '3 s' },
      stops: [{ stop: 'jam', every: { exponential: '2 h' }, lasts: '4 min', skill }],
    }))
  const scenario = (skill: string, heads: number) =>
    `export default ${JSON.stringify({ line: 'alike', crews: { fitters: { heads } }, route: steps(skill) })}`

  it('are one line for people, and all of them in the document', async () => {
    place.write('slip.ts', scenario('fiters', 2))
    for (const command of ['check', 'run']) {
      const { code, stderr } = await place.linewright([command, 'slip.ts'])
      expect([code, stderr]).toEqual([
        1,
        'slip.ts: 5 problems\n' +
          '  route[0] "a" → stops[0] "jam" → skill: found "fiters", expected a skill of a crew: "fitters" (did you mean ' +
          '"fitters"?), and at 4 more places: route[1] "b" → stops[0] "jam" → skill; route[2] "c" → stops[0] "jam" → ' +
          'skill; route[3] "d" → stops[0] "jam" → skill; …\n',
      ])
    }
    const { stdout } = await place.linewright(['check', 'slip.ts', '--json'])
    expect(JSON.parse(stdout).problems).toHaveLength(5)
  })

  it('are one warning', async () => {
    place.write('nobody.ts', scenario('fitters', 0))
    for (const args of [['check'], ['run', '--days', '0.1', '--replications', '2']]) {
      const { stderr } = await place.linewright([args[0], 'nobody.ts', ...args.slice(1)])
      const lines = stderr.split('\n').filter(line => line.includes('the tool stays down for ever'))
      expect(lines).toEqual([expect.stringContaining('and at 4 more places: route[1] "b"')])
    }
    const { stdout } = await place.linewright(['check', 'nobody.ts', '--json'])
    const forEver = JSON.parse(stdout).warnings.filter(
      ({ hint }: { hint?: string }) => hint === 'the tool stays down for ever',
    )
    expect(forEver).toHaveLength(5)
  })
})

describe('check', () => {
  it('shows the static capacity against the target', async () => {
    const { code, stdout, stderr } = await place.linewright(['check', 'line.ts'])
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' })
    expect(stdout).toContain('two steps')
    expect(stdout).toMatch(/laser .*1,200/)
    expect(stdout).toMatch(/printer .*1,125/)
    for (const line of stdout.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80)
  })

  // By hand: 0.1 % of the wafers break; the printer allows 1,125 wafers an hour.
  it('names the feed where it brings less than the steps allow', async () => {
    const fed = (rate: number) => SCENARIO.replace('route:', `feed: { rate: '${rate} wafers/h' },\n  route:`)
    place.write('fed.ts', fed(500))
    const { stdout } = await place.linewright(['check', 'fed.ts'])
    expect(stdout).toMatch(/^On paper "printer" allows the fewest good cells: 1,124\/h/)
    expect(stdout).toContain('\nThe feed allows fewer still: 499.5/h.\n')
    const { stdout: json } = await place.linewright(['check', 'fed.ts', '--json'])
    expect(JSON.parse(json).feedGoodPerHour).toBeCloseTo(499.5, 9)
    place.write('fed.ts', fed(5000))
    expect((await place.linewright(['check', 'fed.ts'])).stdout).not.toContain('feed')
  })

  it('prints one document with --json, for a sound scenario and for a wrong one', async () => {
    const sound = await place.linewright(['check', 'line.ts', '--json'])
    expect(sound.code).toBe(0)
    expect(JSON.parse(sound.stdout)).toMatchObject({
      line: 'two steps',
      problems: [],
      capacity: [{ step: 'laser' }, { step: 'printer' }],
    })
    place.write('unit.ts', SCENARIO.replace("'3.2 s'", "'3.2 sec'"))
    const wrong = await place.linewright(['check', 'unit.ts', '--json'])
    expect(wrong.code).toBe(1)
    const { problems, capacity } = JSON.parse(wrong.stdout)
    expect(problems[0].path).toContain('route[2] "printer"')
    expect(problems[0].found).toContain('3.2 sec')
    expect(capacity).toEqual([])
    const broken = await place.linewright(['check', 'nowhere.ts', '--json'])
    expect(broken.code).toBe(1)
    expect(JSON.parse(broken.stdout).problems).toEqual([
      { path: 'nowhere.ts', found: 'nowhere.ts: no such file', expected: 'a file that can be loaded' },
    ])
  })
})
