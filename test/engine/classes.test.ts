import { expect, it } from 'vitest'
import { STAYS, WAITS } from '../../sim/engine/classes.ts'

it.each([
  ['stays', STAYS],
  ['waits', WAITS],
])('classes of %s begin at their edges, whichever is looked at first', (_, classes) => {
  for (let index = 1; index < classes.count; index++) {
    const edge = classes.edge(index)
    const below = edge * (1 - Number.EPSILON)
    for (const likely of [0, index - 1, index, classes.count - 1])
      expect([classes.of(below, likely), classes.of(edge, likely)]).toEqual([index - 1, index])
  }
  expect(classes.of(classes.edge(classes.count) * 4)).toBe(classes.count - 1)
})
