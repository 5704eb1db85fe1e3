import { expect, it } from 'vitest'
import { inProcessRunner } from '../../sim/study/in-process.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

const route = (atMost: `${number} min`) => [
  { step: 'etch', belt: { spacing: '10 s', transit: '10 min' } },
  { buffer: 'store', capacity: 100, leastDwell: '5 min' },
  { step: 'coat', cycle: '5 s', timeLimits: [{ after: 'etch', atMost, late: 'scrap' }] },
]

const warned = async (value: object, days: number) => {
  const options = { ...optionsOf({ days, replications: 2 }), cap: 10 }
  const { warnings } = await runStudy(checked(value), options, {}, inProcessRunner())
  return warnings.filter(({ code }) => code === 'no output').map(({ text, hint }) => `${text} ${hint}`)
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
