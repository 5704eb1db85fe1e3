import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Reader, startReader } from './browser.ts'
import { LITTLE_OF_ALL, madePage } from './pages.ts'
import { studyPages } from './study-pages.ts'

/** Width of an A4 sheet (ISO 216) within the margins of 14 mm that the page asks for, at 96 px an inch (CSS Values 3) [px]. */
const SHEET = Math.floor(((210 - 2 * 14) / 25.4) * 96)

let reader: Reader
beforeAll(async () => {
  reader = await startReader()
  reader.keep('all', (await madePage(LITTLE_OF_ALL, 0.5, 3)).html)
  for (const { name, html } of await studyPages()) reader.keep(name, html)
}, 60_000)
afterAll(() => reader?.close())

async function putOnPaper(page: Page): Promise<void> {
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')))
}

describe('paper', () => {
  it('is light, without what only works on a screen, with every chart and its table', async () => {
    const { page } = await reader.open('all', { colorScheme: 'dark' })
    await putOnPaper(page)
    const seen = await page.evaluate(() => ({
      background: getComputedStyle(document.body).backgroundColor,
      hidden: ['.contents', '#shift', '.tools', '#scheme'].filter(
        part => getComputedStyle(document.querySelector(part) as Element).display !== 'none',
      ),
      undrawn: [...document.querySelectorAll('[data-chart]')].filter(
        chart => !chart.querySelector('svg path'),
      ).length,
      open: document.querySelector<HTMLDetailsElement>('#states details')?.open,
    }))
    expect(seen).toEqual({ background: 'rgb(255, 255, 255)', hidden: [], undrawn: 0, open: true })
    await page.close()
  })

  // A page with one thing wider than the sheet is printed smaller as a whole.
  for (const name of ['all', 'constraint', 'losses', 'curve', 'payback', 'size', 'compare'])
    it(`takes the whole page of ${name}, also what no reader has scrolled to`, async () => {
      const { page } = await reader.open(name)
      await putOnPaper(page)
      const widths = await page
        .locator('[data-chart] .canvas svg, #picture svg')
        .evaluateAll(drawings => drawings.map(svg => svg.getBoundingClientRect().width))
      expect(widths.length).toBeGreaterThan(1)
      expect(Math.max(...widths)).toBeLessThanOrEqual(SHEET)
      await page.setViewportSize({ width: SHEET, height: 1000 })
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(SHEET)
      await page.close()
    })

  it('leaves the screen as it was', async () => {
    const { page } = await reader.open('all')
    await putOnPaper(page)
    await page.evaluate(() => dispatchEvent(new Event('afterprint')))
    await page.emulateMedia({ media: 'screen' })
    await page.waitForFunction(
      sheet =>
        [...document.querySelectorAll('[data-chart] .canvas svg')].every(
          svg => svg.getBoundingClientRect().width > sheet,
        ),
      SHEET,
    )
    await page.close()
  })
})
