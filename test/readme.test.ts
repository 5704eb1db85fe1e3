import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import { loadScenario } from '../reports/cli/load.ts'
import { checkLine } from '../sim/line/check.ts'

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
