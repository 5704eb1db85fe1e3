import { step, stop } from 'linewright'

/** Tools of the two layouts that are compared. Invented. */
export const feedIn = step({ step: 'laser', cycle: '0.8 s' })

const jam = stop({ stop: 'jam', every: { exponential: '25 min' }, lasts: { lognormal: '2 min', cv: 0.4 } })
const probes = stop({
  stop: 'probe change',
  every: { uniform: ['25 min', '35 min'] },
  lasts: { lognormal: '3 min', cv: 0.3 },
  kind: 'scheduled',
})

export const backEnd = {
  print: step({ step: 'print', cycle: '3.8 s', stops: [jam] }),
  test: step({ step: 'test', cycle: '2 s', stops: [probes] }),
}
