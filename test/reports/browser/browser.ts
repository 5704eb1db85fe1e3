import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core'

/** Where systems keep the browser; the variable CHROMIUM goes before. */
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']

/** A real browser and a folder of pages in it, as a reader would open them from disk. */
export interface Reader {
  /** Writes a page under a name, to be opened. */
  keep(name: string, html: string): void
  /** Opens it and waits until it is ready; `told` collects what the browser complains of and asks for. */
  open(name: string, options?: BrowserContextOptions): Promise<Opened>
  close(): Promise<void>
}

export interface Opened {
  readonly page: Page
  readonly told: string[]
}

export async function startReader(): Promise<Reader> {
  const executablePath = process.env.CHROMIUM ?? PLACES.find(existsSync)
  if (executablePath === undefined) {
    throw new Error(`no browser at ${PLACES.join(', ')}: install chromium, or say where it is in CHROMIUM`)
  }
  const folder = mkdtempSync(path.join(tmpdir(), 'pages-'))
  // As root, which build machines are, Chromium starts without its sandbox only.
  const browser: Browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] })
  const file = (name: string) => path.join(folder, `${name}.html`)
  return {
    keep: (name, html) => writeFileSync(file(name), html),
    async open(name, options = {}) {
      const context = await browser.newContext({
        viewport: { width: 1280, height: 800 },
        reducedMotion: 'reduce',
        ...options,
      })
      const page = await context.newPage()
      const told: string[] = []
      const url = pathToFileURL(file(name)).href
      page.on('console', message => told.push(`console: ${message.text()}`))
      page.on('pageerror', error => told.push(`error: ${error.message}`))
      page.on('request', request => {
        if (request.url() !== url) told.push(`request: ${request.url()}`)
      })
      await page.goto(url)
      await page.waitForSelector('html[data-ready=yes]')
      return { page, told }
    },
    async close() {
      await browser.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** Goes to every chart and to the player, and waits until each is drawn, however busy the machine is. */
export async function readThrough(page: Page): Promise<void> {
  for (const place of await page.locator('[data-chart], #player').all()) {
    await place.scrollIntoViewIfNeeded()
    await place.locator('.canvas svg, .picture svg').first().waitFor({ state: 'attached' })
  }
  await page.evaluate(() => scrollTo(0, 0))
}
