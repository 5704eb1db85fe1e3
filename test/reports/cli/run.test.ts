import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ownFolder } from './program.ts'

const place = ownFolder()
beforeAll(() => {
  place.write('line.ts', SCENARIO)
  place.write('prints.ts', `console.log('a scenario may print')\n${SCENARIO}`)
})
afterAll(place.remove)

const SCENARIO = `import { line } from 'linewright'
export default line({
  line: 'two steps',
  target: '1000 wafers/h',
  route: [
    { step: 'laser', cycle: '3 s' },
    { buffer: 'between', capacity: 20 },
    { step: 'printer', cycle: { exponential: '3.2 s' }, breakage: '0.1 %',
      stops: [{ stop: 'jam', every: { exponential: '2 h' }, lasts: '3 min' }] },
  ],
  run: { days: 1, replications: 3 },
  variants: { 'fast printer': { printer: { cycle: '2 s' } } },
})
`

const ESCAPE = '\u001b'

describe('run', () => {
  it('prints the answer first, the speed last, nothing else, without colours on a pipe', async () => {
    const { code, stdout, stderr } = await place.spawned(['run', 'line.ts'])
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' })
    const lines = stdout.trimEnd().split('\n')
    expect(lines[0]).toMatch(/^[\d,.]+ good cells\/h \([\d,.]+ to [\d,.]+ at 95 %\), [\d.]+ % of target\.$/)
    expect(lines[1]).toContain('"printer"')
    expect(lines.at(-1)).toMatch(/^3 x 1 day: [\d,.]+ wafer-steps in [\d.]+ s: .* wafer-steps\/s$/)
    expect(stdout).not.toContain(ESCAPE)
    for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(80)
  })

  it('leaves it at that when NO_COLOR is set too: Node would warn of it on a terminal', async () => {
    const terminal = place.write('terminal.cjs', 'process.stderr.isTTY = true')
    const NODE_OPTIONS = `--require ${path.join(place.folder, terminal)}`
    const env = { NO_COLOR: '1', FORCE_COLOR: '1', NODE_OPTIONS }
    const { code, stdout, stderr } = await place.spawned(['check', 'line.ts'], { env })
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' })
    expect(stdout).toContain(ESCAPE)
  })

  it('obeys FORCE_COLOR', async () => {
    expect((await place.linewright(['run', 'line.ts'], { FORCE_COLOR: '1' })).stdout).toContain(ESCAPE)
  })

  it('prints one document with --json, every figure with its interval, and the same figures by either drive', async () => {
    const args = ['run', 'line.ts', '--json', '--seed', 'x', '--level', '90 %']
    const [eager, strict] = await Promise.all([
      place.spawned([...args, '--audit']),
      place.linewright([...args, '--drive', 'strict']),
    ])
    expect(eager.code).toBe(0)
    expect(eager.stderr).toContain('Audit passed.')
    const found = JSON.parse(eager.stdout)
    expect(found).toMatchObject({
      line: 'two steps',
      seed: 'x',
      level: 0.9,
      days: 1,
      replications: 3,
      // Without the options that change no figure.
      command: "linewright run line.ts --seed x --level '90 %'",
      audit: { passed: true, faults: [] },
    })
    expect(found.fingerprint).toMatch(/^[0-9a-f]{12}$/)
    expect(found.seconds).toBeGreaterThan(0)
    const { mean, low, high, n } = found.goodOutput.perHour
    expect(n).toBe(3)
    expect(low).toBeLessThan(mean)
    expect(high).toBeGreaterThan(mean)
    expect(mean).toBeGreaterThan(800)
    expect(mean).toBeLessThan(1200)
    expect(eager.stdout).not.toMatch(/NaN|Infinity|: null/)
    const figures = ({
      drive: _drive,
      command: _command,
      seconds: _seconds,
      ...rest
    }: Record<string, unknown>) => rest
    expect(figures(JSON.parse(strict.stdout))).toEqual(figures(found))
  })

  it('leaves intervals out after one replication, and applies a variant', async () => {
    const args = ['run', 'line.ts', '--json', '--replications', '1', '--variant', 'fast printer']
    const found = JSON.parse((await place.linewright(args)).stdout)
    expect(found).toMatchObject({ variant: 'fast printer', replications: 1 })
    expect(found.changes.join()).toContain('printer')
    expect(Object.keys(found.goodOutput.perHour).sort()).toEqual(['mean', 'n'])
    expect(JSON.stringify(found)).not.toMatch(/"low"|"high"/)
  })

  it('adds replications until a precision is met', async () => {
    const found = JSON.parse(
      (await place.linewright(['run', 'line.ts', '--json', '--precision', '0.6 %'])).stdout,
    )
    expect(found.precision.wanted).toBe(0.006)
    expect(found.precision.met).toBe(true)
    const { mean, high } = found.goodOutput.perHour
    expect((high - mean) / mean).toBeLessThanOrEqual(0.006)
  })

  it('writes the tables and the document with --out and says so', async () => {
    const { code, stdout, stderr } = await place.spawned(['run', 'prints.ts', '--json', '--out', 'results'])
    expect(code).toBe(0)
    const tables = ['places.csv', 'states.csv', 'steps.csv', 'stops.csv', 'summary.csv', 'wip.csv']
    const names = [...tables, 'report.html', 'run.json']
    expect(readdirSync(path.join(place.folder, 'results')).sort()).toEqual([...names, 'runs.journal'].sort())
    expect(stderr).toMatch(/^a scenario may print\n/)
    for (const name of names) expect(stderr).toContain(`wrote ${path.join('results', name)}\n`)
    // The file leaves out what differs from one time to the next.
    const { seconds, ...kept } = JSON.parse(stdout)
    expect(seconds).toBeGreaterThan(0)
    expect(kept.files).toEqual({ page: path.join('results', 'report.html') })
    const here = { ...kept, files: { page: 'report.html' } }
    expect(readFileSync(path.join(place.folder, 'results/run.json'), 'utf8')).toBe(
      `${JSON.stringify(here, null, 2)}\n`,
    )
    expect(readFileSync(path.join(place.folder, 'results/stops.csv'), 'utf8')).toMatch(
      /\nprinter,jam,unscheduled,\d/,
    )
  })

  it('refuses a folder that cannot be written to before anything is simulated', async () => {
    writeFileSync(path.join(place.folder, 'in-the-way'), '')
    const args = [
      'run',
      'line.ts',
      '--days',
      '36500',
      '--replications',
      '10000',
      '--out',
      'in-the-way/results',
    ]
    const { code, stdout, stderr } = await place.linewright(args)
    expect({ code, stdout }).toEqual({ code: 1, stdout: '' })
    expect(stderr).toContain('--out: cannot write to "in-the-way/results": a file is in the way\n')
  })

  it.runIf(process.platform === 'linux')(
    'says of a folder that cannot be made, in words, that it cannot',
    async () => {
      // Nobody can make a folder there, whatever they are allowed.
      const { code, stderr } = await place.linewright(['run', 'line.ts', '--out', '/proc/nowhere'])
      expect(code).toBe(1)
      expect(stderr).toContain('"/proc/nowhere": there is no such folder, and none can be made there\n')
    },
  )
})

describe('a run that is cut short', () => {
  it('by Ctrl-C says so and keeps nothing', async () => {
    const results = path.join(place.folder, 'cut')
    const args = ['run', 'line.ts', '--days', '3000', '--replications', '1000', '--out', 'cut']
    const { code, stdout, stderr } = await place.spawned(args, {
      started: kill => {
        // The folder is made right before the simulation starts.
        const timer = setInterval(() => {
          if (!existsSync(results)) return
          clearInterval(timer)
          setTimeout(() => kill('SIGINT'), 300)
        }, 20)
      },
    })
    expect({ code, stdout }).toEqual({ code: 130, stdout: '' })
    expect(stderr).toBe('interrupted; nothing was kept\n')
    expect(existsSync(results)).toBe(false)
  })

  it('by a reader that has seen enough ends quietly', async () => {
    const { code, stderr } = await place.spawned(['run', 'line.ts', '--json'], { reader: 'gone' })
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' })
  })
})
