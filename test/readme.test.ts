import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import { commandLine } from '../reports/cli/command-line.ts'
import { loadScenario } from '../reports/cli/load.ts'
import { checkLine } from '../sim/line/check.ts'
import { madeUp } from './reports/cli/surroundings.ts'

const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8')

test('the first commands are the two for a fresh machine', () => {
  const [, block] = readme.split('```')
  expect(
    block
      .split('\n')
      .slice(1, 3)
      .map(row => row.split('#')[0].trim()),
  ).toEqual(['npm ci && npm start', 'npm ci && npm test'])
})

test('the example line loads from anywhere and is right', async () => {
  const example = readme.split('```ts\n')[1].split('```')[0]
  const folder = mkdtempSync(path.join(tmpdir(), 'readme-'))
  try {
    const file = path.join(folder, 'my-line.ts')
    writeFileSync(file, example)
    const { problems, warnings } = checkLine((await loadScenario(file)).value)
    expect({ problems, warnings }).toEqual({ problems: [], warnings: [] })
  } finally {
    rmSync(folder, { recursive: true })
  }
})

/** Commands of the page with what they print, the caution at its end left out. */
const shown = [...readme.matchAll(/^```sh\nnpx linewright (.*)\n```\n\n```text\n([\s\S]*?)\n```$/gm)].map(
  ([, command, output]) => [command, output] as const,
)

test('there is a page for each of its users', () => {
  expect(shown.length).toBeGreaterThanOrEqual(4)
  for (const page of ['Size a line', 'Weigh downtime', 'Compare layouts'])
    expect(readme).toContain(`\n## ${page}\n`)
})

test.each(shown)('linewright %s prints what the page shows', async (command, output) => {
  const args = [...command.matchAll(/'([^']*)'|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare)
  const { surroundings, stdout } = madeUp({ args })
  expect(await commandLine(surroundings)).toBe(0)
  expect(stdout.text().split('\n\nEstimates for planning')[0]).toBe(output)
})
