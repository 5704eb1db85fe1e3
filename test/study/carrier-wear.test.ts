import pc from 'picocolors'
import { expect, it } from 'vitest'
import { placesCsv } from '../../reports/csv/places.ts'
import { summary } from '../../reports/terminal/summary.ts'
import { courseSections } from '../../reports/view/course-sections.ts'
import { runView } from '../../reports/view/run-view.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

/** A carrier of one wafer, filled each 28 s: 5 s on the way, then 20 s to be cleaned and 3 s back. */
const route = (wear: object) => [
  { step: 'in', cycle: '1 s' },
  { carriers: 'cassettes', holds: 1, number: 1, moved: { takes: '5 s' }, back: '3 s', ...wear },
  { step: 'out', cycle: '1 s' },
]
const cleaning = { every: 1, lasts: '20 s' }
const run = (wear: object) =>
  runStudy(checked({ route: route(wear) }), { ...optionsOf({ replications: 2 }), cap: 2 })

it('carriers that are cleaned are counted, and shown', async () => {
  const study = await run({ cleaning })
  const cassettes = study.places.find(place => place.kind === 'carriers')
  expect(Math.abs((cassettes?.wear?.cleanedPerDay.mean ?? 0) / (86_400 / 28) - 1)).toBeLessThan(0.001)
  expect(cassettes?.wear?.replacedPerDay.mean).toBe(0)
  const text = summary(runView(study, { fingerprint: 'x' }), pc.createColors(false))
  expect(text).toMatch(/\ncarriers +cleaned\/day +replaced\/day\ncassettes +3,08\d\S* +0\n/)
  const row = placesCsv(study)
    .split('\n')
    .find(line => line.startsWith('cassettes,'))
  expect(Number(row?.split(',').at(-6))).toBe(cassettes?.wear?.cleanedPerDay.mean)
  const table = courseSections(study).find(({ id }) => id === 'places')?.table
  expect(table?.columns.slice(-2).map(({ head }) => head)).toEqual(['cleaned', 'replaced'])
  expect(table?.rows.find(([name]) => name.text === 'cassettes')?.at(-2)?.value).toBeCloseTo(86_400 / 28, -1)
  expect(table?.rows.find(([name]) => name.text === 'in')?.at(-2)?.value).toBeUndefined()
})

it('carriers that do not wear have no such figures', async () => {
  const study = await run({})
  expect(study.places.some(place => place.wear)).toBe(false)
  const table = courseSections(study).find(({ id }) => id === 'places')?.table
  expect(table?.columns.map(({ head }) => head)).not.toContain('cleaned')
  expect(runView(study, { fingerprint: 'x' }).carriers).toEqual([])
})
