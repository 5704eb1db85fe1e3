import { expect, it } from 'vitest'
import { inProcessRunner } from '../../sim/study/in-process.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

const route = (atMost: `${number} min`) => [
  { step: 'etch', belt: { spacing: '10 s', transit: '10 min' } },
  { buffer: 'store', capacity: 100, leastDwell: '5 min' },
  { step: 'coat', cycle: '5 s', timeLimits: [{ after: 'etch', atMost, late: 'scrap' }] },
]

const warned = async (value: object, days: number, wanted = 'no output') => {
  const options = { ...optionsOf({ days, replications: 2 }), cap: 10 }
  const { warnings } = await runStudy(checked(value), options, {}, inProcessRunner())
  return warnings.filter(({ code }) => code === wanted).map(({ text, hint }) => `${text} ${hint}`)
}

it('a line that scraps all its wafers is told where, not to run longer', async () => {
  expect(await warned({ route: route('1 min') }, 0.1)).toEqual([
    'No good cell left the line in the measured 2.40 h. "coat" loses all wafers: they come too late after "etch". Look there first.',
  ])
})

it('a run that is too short is told to be longer', async () => {
  const [text] = await warned({ route: route('60 min') }, 0.005)
  expect(text).toMatch(/^No good cell left the line .* Run longer than a wafer needs through the line/)
})

it('a line that waits for people who never come is told who is called', async () => {
  const jam = { stop: 'jam', every: '10 min', lasts: '1 min', skill: 'techs' }
  const value = { crews: { techs: { heads: 0 } }, route: [{ step: 'print', cycle: '10 s', stops: [jam] }] }
  const [text] = await warned(value, 0.1, 'line at rest')
  expect(text).toMatch(/The line cannot move: nothing happens from 0\.16\d h on\./)
  expect(text).toContain('Nobody ever comes to calls for "techs": look at the heads of the crews')
})
