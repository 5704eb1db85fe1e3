import axe from 'axe-core'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Opened, type Reader, readThrough, startReader } from './browser.ts'
import { chain, LITTLE_OF_ALL, MARKUP, type MadePage, madePage } from './pages.ts'

// Figures on the page are held against the study that it was made from: nothing is typed in.

let reader: Reader
let made: MadePage
let light: Opened
let dark: Opened
beforeAll(async () => {
  ;[reader, made] = await Promise.all([startReader(), madePage(LITTLE_OF_ALL, 0.5, 3)])
  reader.keep('all', made.html)
  light = await reader.open('all', { colorScheme: 'light' })
  dark = await reader.open('all', { colorScheme: 'dark' })
}, 60_000)
afterAll(() => reader?.close())

const numbersIn = (page: Page, selector: string) =>
  page.locator(selector).evaluateAll(cells => cells.map(cell => Number((cell as HTMLElement).dataset.value)))

describe('a page', () => {
  it('opens from disk without a complaint or a request, all of it looked at', async () => {
    await readThrough(light.page)
    await light.page.locator('details.numbers').evaluateAll(all => {
      for (const details of all) (details as HTMLDetailsElement).open = true
    })
    expect(light.told).toEqual([])
    expect(Buffer.byteLength(made.html)).toBeLessThan(3e6)
  })

  it('has the figures of the study', async () => {
    const { study } = made
    const { perHour, megawattPerYear } = study.goodOutput
    const key = await light.page
      .locator('.figures data')
      .evaluateAll(all => all.map(one => Number(one.getAttribute('value'))))
    const { mean } = study.throughputHours
    expect(key).toEqual([
      perHour.mean,
      megawattPerYear?.mean,
      study.yield.mean * 100,
      mean.mean * (mean.mean < 1 ? 60 : 1),
    ])
    const productive = await numbersIn(light.page, '#table-states tbody td:nth-child(3)')
    expect(productive).toHaveLength(study.steps.length)
    productive.forEach((share, step) => {
      expect(share).toBeCloseTo((study.steps[step]?.states.productive.mean ?? 0) * 100, 5)
    })
    const wip = await numbersIn(light.page, '#table-places tbody td:nth-child(4)')
    expect(wip).toEqual(study.places.map(({ wip }) => Number(wip.mean.toPrecision(8))))
  })

  it('says in sentences what the terminal says', async () => {
    const says = await light.page.locator('.says').textContent()
    expect(says).toMatch(/^[\d,.]+ good cells\/h \([\d,.]+ to [\d,.]+ at 95 %\)/)
    expect(await light.page.locator('.limit').textContent()).toMatch(/^By these figures/)
  })

  it('shows markup in names as text', async () => {
    expect(await light.page.locator('h1').textContent()).toBe(LITTLE_OF_ALL.line)
    expect(await light.page.locator('#table-states th[scope=row]').first().textContent()).toBe(MARKUP)
    expect(await light.page.locator('img, b:text("bold"), i').count()).toBe(0)
  })

  it('shows the result without scrolling, on a desk and on a phone, and never scrolls sideways', async () => {
    for (const [width, height] of [
      [1280, 800],
      [390, 844],
      [1920, 1080],
    ] as const) {
      await light.page.setViewportSize({ width, height })
      const found = await light.page.evaluate(() => ({
        wide: document.documentElement.scrollWidth,
        answer: document.querySelector('.figures')?.getBoundingClientRect().bottom,
        line: document.querySelector('#picture svg')?.getBoundingClientRect().bottom,
      }))
      expect(found.wide).toBeLessThanOrEqual(width)
      expect(found.answer).toBeLessThan(height)
      expect(found.line).toBeLessThan(height)
    }
    await light.page.setViewportSize({ width: 1280, height: 800 })
  })
})

describe('the drawing of the line', () => {
  it('has every tool, lane and store', async () => {
    const tiles = await light.page.locator('#picture g.step').count()
    // Wash, diffusion, print in two lanes, test.
    expect(tiles).toBe(5)
    expect(await light.page.locator('#picture g.store').count()).toBe(4)
    // A slice of each state that a tool was in: at least one per tool (1 + 6 + 2 + 2).
    expect(await light.page.locator('#picture g.step rect[fill]').count()).toBeGreaterThanOrEqual(11)
    const sizes = await light.page.locator('#picture .size').allTextContents()
    expect(sizes).toEqual(['400', '300', '20'])
  })

  it('tells its items by keys', async () => {
    const picture = light.page.locator('#picture')
    await picture.focus()
    await light.page.keyboard.press('ArrowRight')
    await light.page.keyboard.press('ArrowRight')
    const readout = light.page.locator('#picture-readout')
    expect(await readout.textContent()).toMatch(
      /^before diffusion: holds 400 wafers; [\d.]+ wafers on average$/,
    )
    await light.page.keyboard.press('End')
    expect(await readout.textContent()).toMatch(/^4\. test.*2 tools in all/)
    await light.page.keyboard.press('Escape')
    expect(await readout.textContent()).toBe('')
  })

  it('marks the steps that the sentence names', async () => {
    const limit = (await light.page.locator('.limit').textContent()) ?? ''
    const marked = await light.page.locator('#picture g.near').count()
    expect(marked > 0).toBe(!limit.includes('No step stands out'))
    expect(await light.page.locator('#picture .wall.unknown').count()).toBe(0)
  })
})

describe('charts', () => {
  it('have marks, a title, units on their axes and a table', async () => {
    await readThrough(light.page)
    const charts = await light.page.locator('[data-chart]').evaluateAll(all =>
      all.map(chart => ({
        id: chart.getAttribute('data-chart') ?? '',
        title: chart.querySelector('.chart-title')?.textContent ?? '',
        // Grid lines have no fill: what is filled is a mark, and so is a line of the series.
        marks: [...chart.querySelectorAll('svg path')].filter(
          path => (path.getAttribute('d') ?? '').length > 30,
        ).length,
        text: [...chart.querySelectorAll('svg text')].map(text => text.textContent).join(' '),
      })),
    )
    expect(charts.map(({ id }) => id)).toEqual([
      ...['states', 'yield', 'stops', 'rates', 'output', 'wip', 'throughput-time', 'bins'],
      ...['crews', 'time-limits'],
    ])
    for (const { id, title, marks, text } of charts) {
      expect(marks, id).toBeGreaterThan(0)
      expect(title, id).not.toBe('')
      expect(text, id).toMatch(/\[[^\]]+\]/)
      expect(await light.page.locator(`#table-${id} tbody tr`).count(), id).toBeGreaterThan(0)
    }
  })

  it('give their values to keys and say them', async () => {
    const chart = light.page.locator('[data-chart=states]')
    await chart.locator('.canvas').focus()
    await light.page.keyboard.press('ArrowRight')
    const share = made.study.steps[0]?.states.productive.mean ?? 0
    const readout = (await chart.locator('.readout').textContent()) ?? ''
    expect(readout).toContain(`${MARKUP}: productive `)
    expect(Number(/productive ([\d.]+) %$/.exec(readout)?.[1])).toBeCloseTo(share * 100, 1)
    expect(await chart.locator('.readout').getAttribute('aria-live')).toBe('polite')
  })

  it('show the value that the pointer is at', async () => {
    const chart = light.page.locator('[data-chart=output] .canvas')
    await chart.scrollIntoViewIfNeeded()
    const box = await chart.boundingBox()
    await light.page.mouse.move((box?.x ?? 0) + 700, (box?.y ?? 0) + 120)
    await light.page.waitForFunction(() =>
      /h: good output [\d,.]+ cells\/h/.test(
        document.querySelector('[data-chart=output]')?.textContent ?? '',
      ),
    )
  })
})

describe('tables', () => {
  it('are sorted by their heads, with keys too', async () => {
    const { page } = light
    await page.locator('#places details').evaluate(details => details.setAttribute('open', ''))
    const head = page.locator('#table-places thead th').nth(3)
    await head.locator('button').focus()
    await page.keyboard.press('Enter')
    expect(await head.getAttribute('aria-sort')).toBe('descending')
    const down = await numbersIn(page, '#table-places tbody td:nth-child(4)')
    expect(down).toEqual([...down].sort((a, b) => b - a))
    await page.keyboard.press('Enter')
    expect(await head.getAttribute('aria-sort')).toBe('ascending')
    await page.keyboard.press('Enter')
    const names = await page.locator('#table-places tbody th').allTextContents()
    expect(names).toEqual(made.study.places.map(({ name }) => name))
  })

  it('are copied as comma separated values with all their figures', async () => {
    const { page } = light
    await page.evaluate(() => {
      const kept = window as unknown as { copied: string }
      const writeText = async (text: string) => {
        kept.copied = text
      }
      const clipboard = { writeText }
      Object.defineProperty(navigator, 'clipboard', { value: clipboard, configurable: true })
    })
    await page.locator('#places .copy').click()
    await page.waitForFunction(() => 'copied' in window)
    const rows = (await page.evaluate(() => (window as unknown as { copied: string }).copied)).split('\r\n')
    expect(rows[0]).toBe(
      'place,kind,capacity [wafers],wafers [mean],wafers low [mean],wafers high [mean],stay [min],stay low [min],stay high [min]',
    )
    const at = made.study.places.findIndex(({ name }) => name === MARKUP)
    const wip = Number(made.study.places[at]?.wip.mean.toPrecision(8))
    expect(rows[at + 1]).toContain(`"${MARKUP.replaceAll('"', '""')}",step,,${wip},`)
    expect(rows).toHaveLength(made.study.places.length + 2)
  })
})

describe('the player', () => {
  beforeAll(() => readThrough(light.page))

  it('shows what was recorded, sample by sample', async () => {
    const { page } = light
    const slider = page.locator('#player input[type=range]')
    await slider.focus()
    const tones = ['productive', 'starved', 'blocked', 'unscheduledDown', 'scheduledDown', 'waitingForCrew']
    for (const sample of [0, 7, 100]) {
      await slider.fill(String(sample))
      const fills = await page
        .locator('#player g.step rect.tool')
        .evaluateAll(tools => tools.map(tool => tool.getAttribute('fill')))
      const wanted = made.recording.stations.flatMap(({ tools }) =>
        tools.map(states => `url(#tone-${tones[Number(states[sample])]})`),
      )
      expect(fills).toEqual(wanted)
    }
    await page.keyboard.press('ArrowRight')
    expect(await slider.inputValue()).toBe('101')
    expect(await slider.getAttribute('aria-valuetext')).toMatch(
      /^day \d+, \d\d:\d\d:\d\d; [\d,]+ good cells\/h/,
    )
  })

  it('fills the stores to the recorded level', async () => {
    const { page } = light
    await page.locator('#player input[type=range]').fill('50')
    const share = await page
      .locator('#player g.store')
      .first()
      .evaluate(store => {
        const height = (name: string) => Number(store.querySelector(name)?.getAttribute('height'))
        return height('.level') / height('.inside')
      })
    const [first] = made.recording.stores
    const level = first?.changes.slice(0, 51).reduce((sum, change) => sum + change, 0) ?? 0
    expect(share).toBeCloseTo(level / (first?.capacity ?? 1), 2)
  })

  it('plays, faster or slower, and pauses', async () => {
    const { page } = light
    const slider = page.locator('#player input[type=range]')
    await slider.fill('0')
    await page.locator('#player select').selectOption('60')
    const button = page.locator('#player button.play')
    await button.focus()
    await page.keyboard.press('Enter')
    expect(await button.textContent()).toBe('Pause')
    await page.waitForFunction(
      () => Number(document.querySelector<HTMLInputElement>('#player input[type=range]')?.value) >= 5,
    )
    await page.keyboard.press('Enter')
    expect(await button.textContent()).toBe('Play')
    const stopped = await slider.inputValue()
    await page.waitForTimeout(150)
    expect(await slider.inputValue()).toBe(stopped)
  })

  it('has a table of the shift', async () => {
    const { page } = light
    const good = await numbersIn(page, '#table-shift tbody tr:first-child td:last-child')
    expect(good).toEqual([0])
    const tools = await numbersIn(page, '#table-shift tbody tr:first-child td:not(:last-child)')
    expect(tools.reduce((sum, count) => sum + count, 0)).toBe(
      made.recording.stations.reduce((sum, { tools: all }) => sum + all.length, 0),
    )
  })
})

describe('light, dark and paper', () => {
  const colours = (page: Page) =>
    page.evaluate(() => {
      const style = getComputedStyle(document.body)
      const label = document.querySelector('[data-chart=states] svg text')
      return [style.backgroundColor, style.color, label && getComputedStyle(label).fill]
    })

  it('differ, charts with them', async () => {
    await readThrough(dark.page)
    const [inLight, inDark] = [await colours(light.page), await colours(dark.page)]
    inLight.forEach((colour, index) => {
      expect(colour).not.toBe(inDark[index])
    })
    expect(dark.told).toEqual([])
  })

  it('are chosen by a button', async () => {
    const button = dark.page.locator('#scheme')
    await button.click()
    expect(await button.getAttribute('aria-label')).toBe('Colours: light')
    expect(await colours(dark.page)).toEqual(await colours(light.page))
    await button.click()
    await button.click()
    expect(await colours(dark.page)).not.toEqual(await colours(light.page))
  })
})

describe('for everybody', () => {
  for (const scheme of ['light', 'dark'] as const) {
    it(`axe finds nothing serious in ${scheme}`, async () => {
      const { page } = scheme === 'light' ? light : dark
      await readThrough(page)
      await page.evaluate(axe.source)
      const found = await page.evaluate(async () => {
        const run = (window as unknown as { axe: typeof axe }).axe.run
        const { violations } = await run(document, { resultTypes: ['violations'] })
        return violations.map(({ id, impact, nodes }) => `${impact} ${id}: ${nodes[0]?.html}`)
      })
      expect(found.filter(text => /^(serious|critical)/.test(text))).toEqual([])
    })
  }
})

describe('lines of any length', () => {
  for (const [steps, days] of [
    [3, 0.05],
    [300, 0.01],
  ] as const) {
    it(`${steps} steps are drawn whole`, async () => {
      const { html } = await madePage(chain(steps), days, 2)
      expect(Buffer.byteLength(html)).toBeLessThan(3e6)
      reader.keep('chain', html)
      const { page, told } = await reader.open('chain')
      expect(told).toEqual([])
      const found = await page.evaluate(() => {
        const svg = document.querySelector('#picture svg') as SVGSVGElement
        const outer = svg.getBoundingClientRect()
        const inside = [...svg.querySelectorAll('g.step')].filter(step => {
          const box = step.getBoundingClientRect()
          return box.left >= outer.left && box.right <= outer.right && box.bottom <= outer.bottom
        })
        return { inside: inside.length, wide: document.documentElement.scrollWidth }
      })
      expect(found.inside).toBe(steps)
      expect(found.wide).toBeLessThanOrEqual(1280)
      await page.close()
    })
  }
})
