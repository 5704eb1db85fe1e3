import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

/** House rules that neither the compiler nor the linter keeps. */

const ROOT = fileURLToPath(new URL('..', import.meta.url))

/** Folder -> what it may import from, itself included. The nearest folder counts. */
const LAYERS: Record<string, readonly string[]> = {
  'sim/base': ['sim/base'],
  'sim/chance': ['sim/base', 'sim/chance'],
  'sim/stats': ['sim/base', 'sim/stats'],
  'sim/money': ['sim/base', 'sim/money'],
  'sim/line': ['sim/base', 'sim/chance', 'sim/money', 'sim/line'],
  'sim/plan': ['sim/base', 'sim/chance', 'sim/line', 'sim/plan'],
  'sim/engine': ['sim/base', 'sim/chance', 'sim/plan', 'sim/engine'],
  'sim/measure': ['sim/base', 'sim/plan', 'sim/engine', 'sim/measure'],
  'sim/study': ['sim'],
  sim: ['sim'],
  scenarios: ['linewright', 'scenarios'],
  'reports/view': ['sim/line', 'sim/measure', 'sim/study', 'sim/stats', 'reports/view'],
  'reports/terminal': ['reports/view', 'reports/terminal'],
  'reports/html': ['reports/view', 'reports/html'],
  'reports/browser': ['sim', 'reports/view', 'reports/browser'],
  'reports/csv': ['sim/study', 'sim/stats', 'reports/csv'],
  'reports/jobs': ['sim', 'reports/jobs'],
  'reports/cli': [
    'sim',
    'reports/jobs',
    'reports/view',
    'reports/terminal',
    'reports/csv',
    'reports/html',
    'reports/cli',
  ],
}

const TOP_LEVEL = [
  ...['sim', 'scenarios', 'reports', 'test'],
  ...['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', 'LICENSE'],
  ...['package.json', 'package-lock.json', 'tsconfig.json', 'tsconfig.build.json'],
  ...['biome.json', 'vitest.config.ts'],
]
/** Made by tools, never part of the project. */
const MADE = ['node_modules', 'dist', 'out', 'coverage']

const LONGEST_FILE = 300

const FORBIDDEN_IN_SIM = [
  /\bMath\.random\b/,
  /\bDate\.now\b/,
  /\bnew Date\b/,
  /\bperformance\.now\b/,
  /['"]node:/,
  /\bconsole\./,
]

interface Source {
  readonly file: string
  readonly text: string
}

const sources = ['sim', 'scenarios', 'reports'].flatMap(filesBelow).map(read)

describe('layers', () => {
  it('finds imports of every form', () => {
    const text = `import { a,\n  b } from './x.ts'\nimport type C from "./y.ts"\nimport './z.ts'
export { d } from '../w.ts'\nconst e = await import('./v.ts')\nlet f: import('./u.ts').F\n// import g from './no.ts'\n`
    expect(importsOf(text)).toEqual(['./x.ts', './y.ts', './z.ts', '../w.ts', './v.ts', './u.ts'])
  })

  it('knows a wrong import', () => {
    expect(wrongImport('sim/engine/tool.ts', 'sim/line/types.ts')).toBe(true)
    expect(wrongImport('sim/engine/tool.ts', 'sim/plan/plan.ts')).toBe(false)
    expect(wrongImport('sim/base/units.ts', 'seedrandom')).toBe(false)
    expect(wrongImport('elsewhere/a.ts', 'sim/base/units.ts')).toBe(true)
  })

  it('are kept by every import', () => {
    const wrong = sources.flatMap(({ file, text }) =>
      importsOf(text)
        .map(target => resolved(file, target))
        .filter(target => wrongImport(file, target))
        .map(target => `${file} imports ${target}`),
    )
    expect(sources.length).toBeGreaterThan(0)
    expect(wrong).toEqual([])
  })
})

describe('import circles', () => {
  it('are found', () => {
    const graph = new Map([
      ['a', ['b']],
      ['b', ['c', 'd']],
      ['c', ['a']],
      ['d', []],
    ])
    expect(circlesIn(graph)).toEqual(['a -> b -> c -> a'])
    expect(
      circlesIn(
        new Map([
          ['a', ['b', 'c']],
          ['b', ['c']],
          ['c', []],
        ]),
      ),
    ).toEqual([])
  })

  it('there are none', () => {
    const graph = new Map(
      sources.map(({ file, text }) => [file, importsOf(text).map(target => resolved(file, target))]),
    )
    expect(circlesIn(graph)).toEqual([])
  })
})

describe('files', () => {
  it(`have at most ${LONGEST_FILE} lines`, () => {
    const long = sources
      .map(({ file, text }) => ({ file, lines: text.split('\n').length - 1 }))
      .filter(({ lines }) => lines > LONGEST_FILE)
    expect(long).toEqual([])
  })

  it('of the simulator touch no clock, no chance but their own, no Node', () => {
    const found = sources
      .filter(({ file }) => file.startsWith('sim/'))
      .flatMap(({ file, text }) =>
        FORBIDDEN_IN_SIM.filter(pattern => pattern.test(withoutComments(text))).map(
          pattern => `${file}: ${pattern}`,
        ),
      )
    expect(found).toEqual([])
  })

  it('of the engine hold as their own the constants that the loops ask for', () => {
    expect(constantsByName("import { PLAIN, type Tail } from './phases.ts'")).toEqual(['PLAIN'])
    expect(constantsByName("import * as Phases from './phases.ts'\nconst { PLAIN } = Phases")).toEqual([])
    const found = sources
      .filter(({ file }) => file.startsWith('sim/engine/'))
      .flatMap(({ file, text }) => constantsByName(text).map(name => `${file}: ${name}`))
    expect(found).toEqual([])
  })

  it('at the top are those that belong there', () => {
    const strangers = readdirSync(ROOT).filter(
      name => !TOP_LEVEL.includes(name) && !MADE.includes(name) && !name.startsWith('.'),
    )
    expect(strangers).toEqual([])
  })
})

function filesBelow(folder: string): string[] {
  return readdirSync(path.join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .map(name => path.posix.join(folder, name.split(path.sep).join('/')))
    .filter(name => name.endsWith('.ts'))
    .sort()
}

function read(file: string): Source {
  return { file, text: readFileSync(path.join(ROOT, file), 'utf8') }
}

/** Specifiers of all imports, types included, in the order of the text. */
function importsOf(text: string): string[] {
  const form = /\b(?:from|import)\s*\(?\s*['"]([^'"\n]+)['"]/g
  return [...withoutComments(text).matchAll(form)].map(match => match[1] ?? '')
}

/**
 * Constants that loops ask for, imported by their names: such a name is looked up anew each
 * time, while a constant of the file itself is compiled in.
 */
function constantsByName(text: string): string[] {
  const form = /import \{([^}]*)\} from '[^']*\/(?:meter|outcome|phases|plan|signals|tool-fields)\.ts'/g
  const names = [...withoutComments(text).matchAll(form)].flatMap(match => (match[1] ?? '').split(','))
  return names.map(name => name.trim()).filter(name => /^[A-Z][A-Z_]+$/.test(name))
}

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|\s)\/\/.*$/gm, '$1')
}

/** A relative specifier as a path from the root; the name of a package as it stands. */
function resolved(file: string, target: string): string {
  return target.startsWith('.') ? path.posix.join(path.posix.dirname(file), target) : target
}

function wrongImport(file: string, target: string): boolean {
  const ours = target === 'linewright' || /^(sim|scenarios|reports|test)\//.test(target)
  if (!ours) return false
  const folder = Object.keys(LAYERS)
    .filter(layer => file.startsWith(`${layer}/`))
    .sort((a, b) => b.length - a.length)[0]
  const allowed = folder === undefined ? [] : (LAYERS[folder] ?? [])
  return !allowed.some(layer => target === layer || target.startsWith(`${layer}/`))
}

/** Circles of a graph as text, each once: depth first, a circle closes at a node still on the way. */
function circlesIn(graph: ReadonlyMap<string, readonly string[]>): string[] {
  const circles: string[] = []
  const done = new Set<string>()
  const way: string[] = []
  const visit = (node: string) => {
    const at = way.indexOf(node)
    if (at >= 0) circles.push([...way.slice(at), node].join(' -> '))
    if (at >= 0 || done.has(node)) return
    way.push(node)
    for (const next of graph.get(node) ?? []) visit(next)
    way.pop()
    done.add(node)
  }
  for (const node of graph.keys()) visit(node)
  return circles
}
