import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { ownFolder } from './program.ts'

/** Studies that ask for their runs in rounds, shared out: what each share says, and what comes of it. */

const own = ownFolder()
afterAll(own.remove)

own.write(
  'two.ts',
  `import { line } from 'linewright'
export default line({
  line: 'two tools',
  route: [
    { step: 'print', cycle: '40 s', stops: [{ stop: 'jam', every: { exponential: '50 min' }, lasts: '5 min' }] },
    { buffer: 'store', capacity: 10 },
    { step: 'test', cycle: '30 s' },
  ],
  run: { days: 0.25, replications: 2 },
  money: {
    currency: 'EUR', pricePerCell: 1, wafer: 0.5, discountRate: '8 %', years: 5,
    tools: { print: { price: 40000 }, test: { price: 30000 } }, places: { store: 50 }, fasterRepair: { shorterBy: '50 %', investment: 1000 },
  },
  sizing: { tools: { print: [1, 3], test: [1, 2] } },
  target: '80 wafers/h',
})`,
)

const results = (folder: string) =>
  Object.fromEntries(
    readdirSync(path.join(own.folder, folder))
      .filter(file => !file.endsWith('.journal'))
      .map(file => [file, readFileSync(path.join(own.folder, folder, file), 'utf8')]),
  )

/** Gives the commands that `merge` names until it finds nothing missing. @returns what `merge` said, turn by turn */
async function inRounds(command: readonly string[], out: string): Promise<string[]> {
  const give = (share: string) => own.linewright([...command, '--shard', share, '--out', out])
  for (const share of ['1/2', '2/2']) expect(await give(share)).toMatchObject({ code: 0, stdout: '' })
  const said: string[] = []
  for (let round = 0; round < 40; round++) {
    const merged = await own.linewright(['merge', out, '--out', `merged/${out}`])
    if (merged.code === 0) return said
    expect(merged.code).toBe(4)
    said.push(merged.stderr)
    const shares = merged.stderr.match(/--shard \d\/2/g) ?? []
    expect(shares.length).toBeGreaterThan(0)
    for (const share of shares) expect((await give(share.slice(-3))).code).toBe(0)
  }
  throw new Error('merge never had all runs')
}

describe('a study in rounds', () => {
  const command = ['losses', 'two.ts']
  const share = async (index: number, out = 'said/results') => {
    const { code, stdout, stderr } = await own.linewright([...command, '--shard', `${index}/2`, '--out', out])
    expect({ code, stdout }).toEqual({ code: 0, stdout: '' })
    return stderr
  }

  it('says when a share is done, when it must wait, and how it goes on', async () => {
    // The first round is the line itself, two runs, one for each share.
    expect(await share(1)).toBe(
      'share 1/2 (--shard): 1 of 2 runs of the first round to simulate, 0 there\n' +
        'share 1/2 is done: 1 of 2 runs known so far are in said/results. When those of all shares are: linewright ' +
        'merge said/results, which joins them, or names the shares to give again if the study needs further runs.\n',
    )
    expect(await share(1)).toBe(
      'share 1/2 (--shard): 0 of 2 runs of the first round to simulate, 1 there\n' +
        'share 1/2 must wait: 1 of 2 runs known so far are of other shares and not in said/results. Give this command ' +
        'again when they are there; shares of such a study need one --out folder together.\n',
    )
    // The second share has all of the first round and goes on with its runs of the next.
    const second = await share(2)
    expect(second).toMatch(/share 2\/2 is done: (\d+) of (\d+) runs known so far/)
    const merge = await own.linewright(['merge', 'said/results'])
    expect(merge.code).toBe(4)
    expect(merge.stderr).toMatch(
      /missing: \d+ of \d+ runs, in 1 of 2 shares\. Give these commands, then merge again:\n {2}linewright losses .*two\.ts --shard 1\/2 --out said\/results\n$/,
    )
    expect(await share(1)).toContain('all shares are there: linewright merge said/results')
  })

  it('cannot go on in folders apart, and says so', async () => {
    await share(1, 'first/results')
    await share(2, 'second/results')
    expect(await share(1, 'first/results')).toContain('shares of such a study need one --out folder together')
  })
})

describe.each([
  { name: 'losses', more: [] },
  { name: 'payback', more: [] },
  { name: 'payback', more: ['--only', 'print: tools'] },
  { name: 'size', more: [] },
  { name: 'constraint', more: [] },
])('$name $more in two shares', ({ name, more }) => {
  it('ends with the same bytes as in one', async () => {
    const out = `${name}${more.length}/results`
    await inRounds([name, 'two.ts', ...more], out)
    const whole = await own.linewright([name, 'two.ts', ...more, '--out', `whole/${out}`])
    expect(whole.code).toBe(0)
    const files = results(`merged/${out}`)
    expect(Object.keys(files)).toContain('report.html')
    expect(files).toEqual(results(`whole/${out}`))
  }, 120_000)
})
