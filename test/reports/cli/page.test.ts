import { existsSync, readFileSync, rmSync } from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { commandLine } from '../../../reports/cli/command-line.ts'
import { writePageAssets } from '../../../reports/cli/page-assets.ts'
import { ownFolder } from './program.ts'
import { madeUp } from './surroundings.ts'

const place = ownFolder()
beforeAll(() => {
  place.write(
    'line.ts',
    `import { line } from 'linewright'
export default line({
  line: 'two steps',
  route: [
    { step: 'laser', cycle: '3 s' },
    { buffer: 'between', capacity: 20 },
    { step: 'printer', cycle: { exponential: '3.2 s' } },
  ],
})
`,
  )
})
afterAll(() => place.remove())

const file = path.join(place.folder, 'line.ts')

async function typed(...args: string[]) {
  const opened: string[] = []
  const { surroundings, stdout, stderr } = madeUp({ args, open: name => opened.push(name) })
  const code = await commandLine(surroundings)
  return { code, opened, stdout: stdout.text(), stderr: stderr.text() }
}

describe('the page', () => {
  for (const command of ['run', 'constraint', 'losses']) {
    it(`of ${command} is written, named and opened`, async () => {
      const out = path.join(place.folder, command)
      const page = path.join(out, 'report.html')
      const brief = ['--days', '0.2', '--replications', '2', '--workers', '1']
      const done = await typed(command, file, ...brief, '--out', out, '--json', '--open')
      expect(done.stderr).toContain(`wrote ${page}\n`)
      expect(done.code).toBe(0)
      expect(JSON.parse(done.stdout).files).toEqual({ page })
      // Beside the page its folder goes without saying: it may be moved.
      const kept = JSON.parse(readFileSync(path.join(out, `${command}.json`), 'utf8'))
      expect(kept.files).toEqual({ page: 'report.html' })
      expect(done.opened).toEqual([page])
      const html = readFileSync(page, 'utf8')
      expect(html).toMatch(/^<!doctype html>/)
      expect(html).toContain(`<dd>${kept.fingerprint}</dd>`)
      // Paths of this machine are in the command line only.
      expect(html.replaceAll(kept.command.replaceAll("'", '&#39;'), '')).not.toContain(place.folder)
    })
  }

  it('is not opened unless it is wanted, nor without a folder for it', async () => {
    const out = path.join(place.folder, 'quiet')
    const brief = ['--days', '0.2', '--replications', '2', '--workers', '1']
    expect((await typed('run', file, ...brief, '--out', out)).opened).toEqual([])
    const refused = await typed('run', file, '--open')
    expect(refused.code).toBe(2)
    expect(refused.stderr).toContain('--open: there is no page to open')
  })

  it('has its script and style beside the program once it is built', async () => {
    const folder = path.join(place.folder, 'built')
    await writePageAssets(folder)
    const script = readFileSync(path.join(folder, 'page.js'), 'utf8')
    expect(script).toMatch(/^\/\*! Contains Apache ECharts/)
    expect(existsSync(path.join(folder, 'page.css'))).toBe(true)
    rmSync(folder, { recursive: true })
  })
})
