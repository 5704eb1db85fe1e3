import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, describe, expect, it } from 'vitest'
import { loadScenario } from '../../reports/cli/load.ts'
import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))
const README = readFileSync(path.join(ROOT, 'scenarios/README.md'), 'utf8')

/** A code block: its language and kind (the words behind the fence), its text, the line of the page it starts in. */
interface Block {
  readonly info: string
  readonly code: string
  readonly at: number
}

const blocks: readonly Block[] = [...README.matchAll(/^```(.*)\n([\s\S]*?)^```$/gm)].map(match => ({
  info: match[1],
  code: match[2],
  at: README.slice(0, match.index).split('\n').length,
}))

/** Makes a whole file of an example. The keys of a step or of a line stand in the smallest line that can have them. */
const WHOLE: Readonly<Record<string, (code: string) => string>> = {
  ts: code => code,
  'ts route': code => inLine(`route: [${code}],`),
  'ts step': code => inLine(`route: [{ step: 'step', ${code} }],`),
  'ts line': code =>
    inLine(code.includes('route:') ? code : `${code} route: [{ step: 'step', cycle: '1 s' }],`),
  'ts wrong': code => `export default ${code}`,
  'ts surprising': code => `export default ${code}`,
}

function inLine(keys: string): string {
  return `import { line } from 'linewright'\nexport default line({ line: 'example',\n${keys}\n})\n`
}

const folder = mkdtempSync(path.join(tmpdir(), 'scenario-readme-'))
afterAll(() => rmSync(folder, { recursive: true }))

function fileOf({ info, code, at }: Block): string {
  const file = path.join(folder, `line-${at}.ts`)
  writeFileSync(file, WHOLE[info](code))
  return file
}

const examples = blocks.filter(({ info }) => info.startsWith('ts'))
const right = examples.filter(({ info }) => info !== 'ts wrong' && info !== 'ts surprising')

describe('examples of the scenario reference', () => {
  it('are of a known kind, and there are many', () => {
    expect(examples.filter(({ info }) => WHOLE[info] === undefined)).toEqual([])
    expect(right.length).toBeGreaterThan(15)
  })

  it.each(right.map(block => [block.at, block] as const))('line %i is right', async (_at, block) => {
    const { value } = await loadScenario(fileOf(block))
    const { problems, warnings } = checkLine(value)
    expect({ problems, warnings }).toEqual({ problems: [], warnings: [] })
  })

  it('are accepted by the compiler', () => {
    const options = {
      target: 'es2023',
      module: 'esnext',
      moduleResolution: 'bundler',
      strict: true,
      exactOptionalPropertyTypes: true,
      allowImportingTsExtensions: true,
      noEmit: true,
      types: [],
      paths: { linewright: [path.join(ROOT, 'sim/line/author.ts')] },
    }
    const files = right.map(fileOf)
    const project = path.join(folder, 'tsconfig.json')
    writeFileSync(project, JSON.stringify({ compilerOptions: options, files }))
    expect(compilerSays(project)).toBe('')
  })
})

/** What the compiler reports on standard output; empty when all is well. */
function compilerSays(project: string): string {
  const compiler = path.join(ROOT, 'node_modules/typescript/bin/tsc')
  try {
    return execFileSync(process.execPath, [compiler, '-p', project], { encoding: 'utf8' })
  } catch (error) {
    return String((error as { stdout?: unknown }).stdout)
  }
}

describe('messages of check in the scenario reference', () => {
  const shown = (kind: string) => {
    const index = blocks.findIndex(({ info }) => info === kind)
    return { block: blocks[index], text: blocks[index + 1].code.trim().split('\n') }
  }

  it('are those of the example with mistakes', async () => {
    const { block, text } = shown('ts wrong')
    const { value } = await loadScenario(fileOf(block))
    expect(checkLine(value).problems.map(problemText)).toEqual(text)
  })

  it('are those of the example with surprises', async () => {
    const { block, text } = shown('ts surprising')
    const { value } = await loadScenario(fileOf(block))
    const { problems, warnings } = checkLine(value)
    expect(problems).toEqual([])
    expect(warnings.map(problemText)).toEqual(text)
  })
})

describe('the scenario reference', () => {
  const parts = ['types', 'types-step', 'types-more', 'types-people', 'types-money'].map(
    part => `sim/line/${part}.ts`,
  )
  const types = [...parts, 'sim/chance/spec.ts'].map(file => readFileSync(path.join(ROOT, file), 'utf8'))

  it('names every key of the language', () => {
    const keys = new Set(
      types.flatMap(text => [...text.matchAll(/readonly (\w+)\??:/g)].map(([, key]) => key)),
    )
    expect(keys.size).toBeGreaterThan(60)
    const missing = [...keys].filter(key => !new RegExp(`\`[^\`\n]*\\b${key}\\b[^\`\n]*\``).test(README))
    expect(missing).toEqual([])
  })

  it('names every word that a key can have', () => {
    const words = new Set(
      types.flatMap(text => [...text.matchAll(/'([a-z][a-z ,]+)'/g)].map(([, word]) => word)),
    )
    expect([...words].filter(word => !README.includes(`'${word}'`))).toEqual([])
  })

  it('has no link to a heading that is not there', () => {
    const headings = [...README.matchAll(/^#+ (.*)$/gm)].map(([, text]) =>
      text.toLowerCase().replace(/ /g, '-'),
    )
    const links = [...README.matchAll(/\]\(#([^)]*)\)/g)].map(([, target]) => target)
    expect(links.filter(link => !headings.includes(link))).toEqual([])
  })
})
