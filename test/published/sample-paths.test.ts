import { describe, expect, it } from 'vitest'
import { SAMPLE_PATHS } from './sample-paths.ts'
import { parkMillerServices } from './serial-paths.ts'

describe.each(['strict', 'eager'] as const)('sample paths, %s drive', drive => {
  it.each(SAMPLE_PATHS.map(path => [path.id, path] as const))('%s agrees in every time', (_, path) => {
    expect(path.find(drive)).toEqual(path.expected)
  })
})

it('services by the generator of Park & Miller (1988): its 10 000th value is 1043618065', () => {
  const last = parkMillerServices(2000, 5)[1999][4]
  expect(last).toBe(1 + (1_043_618_065 % 20))
})
