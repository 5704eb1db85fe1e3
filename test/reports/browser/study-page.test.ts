import axe from 'axe-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { ConstraintStudy } from '../../../sim/study/constraint/constraint.ts'
import { type Reader, readThrough, startReader } from './browser.ts'
import { type StudyPage, studyPages } from './study-pages.ts'

// Figures on the pages are held against the studies that they were made from.

let reader: Reader
let pages: StudyPage[]
beforeAll(async () => {
  ;[reader, pages] = await Promise.all([startReader(), studyPages()])
  for (const { name, html } of pages) reader.keep(name, html)
}, 60_000)
afterAll(() => reader?.close())

for (const name of ['constraint', 'losses', 'curve', 'payback', 'size', 'compare']) {
  it(`the page of ${name} is drawn and told by keys`, async () => {
    const { page, told } = await reader.open(name)
    await readThrough(page)
    const charts = await page.locator('[data-chart]').evaluateAll(all =>
      all.map(chart => ({
        id: chart.getAttribute('data-chart') ?? '',
        marks: [...chart.querySelectorAll('.canvas svg path')].filter(path => {
          const { fill, stroke } = getComputedStyle(path)
          return fill !== 'none' || stroke !== 'none'
        }).length,
        text: chart.querySelector('.canvas svg')?.textContent ?? '',
      })),
    )
    expect(charts.length).toBeGreaterThan(0)
    for (const { id, marks, text } of charts) {
      expect(marks, id).toBeGreaterThan(2)
      expect(text, id).toMatch(/\[[^\]]+\]/)
      const canvas = page.locator(`[data-chart=${id}] .canvas`)
      await canvas.focus()
      await page.keyboard.press('ArrowRight')
      expect(await page.locator(`[data-chart=${id}] .readout`).textContent(), id).toMatch(/: .*-?\d/)
      expect(await page.locator(`#table-${id} tbody tr`).count(), id).toBeGreaterThan(0)
    }
    expect(await page.locator('#picture g.step').count()).toBe(2)
    // How full buffers are is not in these studies, so none is drawn as empty.
    expect(await page.locator('#picture .wall.unknown').count()).toBe(1)
    expect(told).toEqual([])
    await page.context().close()
  })
}

it('the page of constraint has the gains of the study', async () => {
  const study = pages.find(({ name }) => name === 'constraint')?.study as ConstraintStudy
  const { page } = await reader.open('constraint')
  const gains = await page
    .locator('#table-gains tbody td:last-child')
    .evaluateAll(cells => cells.map(cell => Number((cell as HTMLElement).dataset.value)))
  expect(gains).toEqual(study.steps.map(({ gainPerHour }) => Number(gainPerHour.mean.toPrecision(8))))
  const marked = await page.locator('#picture g.near').count()
  expect(marked).toBe(study.held.steps.length)
})

it('axe finds nothing serious in the page with every kind of chart', async () => {
  const { page } = await reader.open('size')
  await readThrough(page)
  await page.evaluate(axe.source)
  const found = await page.evaluate(async () => {
    const { violations } = await (window as unknown as { axe: typeof axe }).axe.run(document)
    return violations.map(({ id, impact }) => `${impact} ${id}`)
  })
  expect(found.filter(text => /^(serious|critical)/.test(text))).toEqual([])
})
