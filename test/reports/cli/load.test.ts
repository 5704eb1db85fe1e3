import { mkdirSync, mkdtempSync, readdirSync, realpathSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { Failure } from '../../../reports/cli/failure.ts'
import { loadScenario } from '../../../reports/cli/load.ts'

let folder: string
beforeAll(() => {
  folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'load test ')))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function file(name: string, text: string): string {
  const full = path.join(folder, name)
  writeFileSync(full, text)
  return full
}

async function refusal(full: string): Promise<string> {
  const error = await loadScenario(full).then(
    () => new Error('it was loaded'),
    (thrown: unknown) => thrown,
  )
  if (!(error instanceof Failure)) throw error
  expect(error.exitCode).toBe(1)
  expect(error.message).not.toMatch(/^\s+at /m)
  return error.message.replaceAll(folder, '')
}

describe('a scenario file', () => {
  it('is loaded from anywhere, with the package under its own name and helpers beside it', async () => {
    file('helper.ts', 'enum Printers { base = 3 }\nexport const printers: number = Printers.base\n')
    const full = file(
      'line.ts',
      `import { line } from 'linewright'
import { printers } from './helper.ts'
const cycle = await Promise.resolve('1.2 s' as const)
export default line({ line: 'a', route: [{ step: 'print', tools: printers, cycle }] })
`,
    )
    const { value, warnings } = await loadScenario(full)
    expect(value).toEqual({ line: 'a', route: [{ step: 'print', tools: 3, cycle: '1.2 s' }] })
    expect(warnings).toEqual([])
  })

  it('may be JavaScript of either kind, or JSON', async () => {
    expect((await loadScenario(file('a.mjs', 'export default { line: 1 }'))).value).toEqual({ line: 1 })
    expect((await loadScenario(file('a.cjs', 'module.exports = { line: 2 }'))).value).toEqual({ line: 2 })
    expect((await loadScenario(file('a.json', '{ "line": 3 }'))).value).toEqual({ line: 3 })
  })

  it('finds data files relative to itself', async () => {
    file('data.txt', '42')
    const text = `import { readFileSync } from 'node:fs'
export default { line: readFileSync(new URL('./data.txt', import.meta.url), 'utf8') }`
    expect((await loadScenario(file('reads.ts', text))).value).toEqual({ line: '42' })
  })

  it('is loaded anew when it has changed', async () => {
    expect((await loadScenario(file('again.ts', 'export default 1'))).value).toBe(1)
    expect((await loadScenario(file('again.ts', 'export default 2'))).value).toBe(2)
  })

  it('with a key written twice is loaded with a warning', async () => {
    const { value, warnings } = await loadScenario(
      file('twice.ts', 'export default {\n  line: 1,\n  line: 2 }'),
    )
    expect(value).toEqual({ line: 2 })
    expect(warnings.join()).toContain('twice.ts:3:3: Duplicate key "line"')
  })

  it('cannot write into the results', async () => {
    const errors = vi.spyOn(process.stderr, 'write').mockReturnValue(true)
    const results = vi.spyOn(process.stdout, 'write').mockReturnValue(true)
    await loadScenario(file('prints.ts', `process.stdout.write('noise\\n')\nexport default 1`))
    expect(errors).toHaveBeenCalledWith('noise\n')
    expect(results).not.toHaveBeenCalled()
    vi.restoreAllMocks()
  })

  it('leaves nothing behind', async () => {
    const before = readdirSync(tmpdir()).filter(name => /^linewright-\w{6}$/.test(name))
    await loadScenario(file('good.ts', 'export default 1'))
    await refusal(file('bad.ts', 'throw new Error("x")\nexport default 1'))
    expect(readdirSync(tmpdir()).filter(name => /^linewright-\w{6}$/.test(name))).toEqual(before)
  })
})

describe('what cannot be loaded', () => {
  it('is not there, or a folder, or of another kind', async () => {
    mkdirSync(path.join(folder, 'sub'), { recursive: true })
    expect(await refusal(path.join(folder, 'none.ts'))).toBe('/none.ts: no such file')
    expect(await refusal(path.join(folder, 'sub'))).toBe(
      '/sub: is a folder; name the scenario file inside it',
    )
    expect(await refusal(file('line.yaml', 'a: 1'))).toBe(
      '/line.yaml: a scenario is a .ts, .js or .json file',
    )
  })

  it('has a slip of syntax, shown with its place', async () => {
    expect(await refusal(file('syntax.ts', "export default {\n\tline: 'é', route: [,,\n}\n"))).toBe(
      `/syntax.ts:3:1: Unexpected "}"\n  }\n  ^`,
    )
    expect(await refusal(file('tab.ts', "export default {\n\tline: 'é線', 7 8\n}\n"))).toBe(
      `/tab.ts:2:16: Expected ":" but found "8"\n  \tline: 'é線', 7 8\n  \t               ^`,
    )
    expect(await refusal(file('syntax.json', '{ "line": }'))).toContain(
      '/syntax.json:1:11: Unexpected "}" in JSON',
    )
  })

  it('imports what is not there, all of it listed', async () => {
    const text = await refusal(
      file('imports.ts', "import a from './a-b.ts'\nimport b from 'no-such-package'\nexport default [a, b]"),
    )
    expect(text).toContain('/imports.ts:1:15: Could not resolve "./a-b.ts"')
    expect(text).toContain('/imports.ts:2:15: Could not resolve "no-such-package"')
  })

  it('exports no default', async () => {
    expect(await refusal(file('none-exported.ts', 'export const a = 1'))).toBe(
      '/none-exported.ts: no default export; end the file with: export default line({ ... })',
    )
  })

  it('throws, shown where', async () => {
    file(
      'thrower.ts',
      "interface Unused { a: 1 }\nexport function check(a: number): number {\n  throw new RangeError('bad ' + a)\n}\n",
    )
    const text = await refusal(
      file('throws.ts', "import { check } from './thrower.ts'\nexport default check(3)"),
    )
    expect(text).toBe("/thrower.ts:3:9: RangeError: bad 3\n    throw new RangeError('bad ' + a)\n          ^")
    expect(await refusal(file('throws-text.ts', "throw 'a word'\nexport default 1"))).toBe(
      '/throws-text.ts: threw "a word"',
    )
  })
})
