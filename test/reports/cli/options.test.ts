import { describe, expect, it } from 'vitest'
import type { Arguments } from '../../../reports/cli/arguments.ts'
import { Failure } from '../../../reports/cli/failure.ts'
import { readRunRequest, runOptions } from '../../../reports/cli/run-request.ts'
import { madeUp } from './surroundings.ts'

function read(given: Record<string, unknown>) {
  return readRunRequest(madeUp().surroundings, { _: ['run'], ...given } as Arguments)
}

function refusal(given: Record<string, unknown>): string {
  try {
    read(given)
  } catch (error) {
    if (error instanceof Failure) {
      expect(error.exitCode).toBe(2)
      return error.message
    }
    throw error
  }
  throw new Error('it was taken')
}

describe('options of run', () => {
  it('are read', () => {
    const request = read({
      days: '0.5',
      replications: '20',
      precision: '0.5 %',
      level: '99%',
      seed: '007',
      drive: 'strict',
    })
    expect(request).toMatchObject({
      days: 0.5,
      replications: 20,
      precision: 0.005,
      level: 0.99,
      seed: '007',
      drive: 'strict',
    })
    expect(read({ days: '1e1' }).days).toBe(10)
  })

  it.each(['abc', 'NaN', '-5', '0', 'Infinity', '1e99', '0x10', '1,5', '3 d', '36501'])(
    'refuse --days %s',
    days => {
      expect(refusal({ days })).toBe(`--days: found "${days}"; allowed is a number above 0, at most 36500`)
    },
  )

  it.each(['0', '-1', '2.5', '1e9', 'ten', 'NaN'])('refuse --replications %s', replications => {
    const text = `--replications: found "${replications}"; allowed is a whole number from 1 to 10000`
    expect(refusal({ replications })).toBe(text)
  })

  it.each(['0.5', '0 %', '-1 %', '100 %', 'NaN %', '%', '5 % %', '0.5 percent'])(
    'refuse --precision "%s"',
    precision => {
      expect(refusal({ precision })).toBe(
        `--precision: found "${precision}"; allowed is a share with its unit, above 0 % and below 100 %, such as "0.5 %"`,
      )
    },
  )

  it.each(['95', '0.95', '50 %', '100 %'])('refuse --level "%s"', level => {
    expect(refusal({ level })).toContain(`--level: found "${level}"; allowed is a share with its unit`)
  })

  it('refuse what has no value, or two', () => {
    expect(refusal({ days: '' })).toBe('--days: no value found; allowed is a number above 0, at most 36500')
    expect(refusal({ seed: '' })).toBe('--seed: no value found; allowed is any text')
    expect(refusal({ out: ' ' })).toBe('--out: no value found; allowed is the name of a folder')
    expect(refusal({ days: ['1', '2'] })).toBe('--days: given 2 times; give it once')
  })

  it('refuse another drive, and a precision from one replication', () => {
    expect(refusal({ drive: 'fast' })).toBe('--drive: found "fast"; allowed is eager or strict')
    expect(refusal({ precision: '1 %', replications: '1' })).toContain(
      'an interval needs at least 2 replications',
    )
  })
})

describe('what to run', () => {
  it('comes from the command line, then the scenario, then the program', () => {
    const scenario = { days: 30, replications: 5, seed: 'a' }
    expect(runOptions(read({}), undefined, '1.2.3')).toEqual({
      days: 10,
      replications: 10,
      seed: '1',
      drive: 'eager',
      cap: 200,
      level: 0.95,
      version: '1.2.3',
    })
    expect(runOptions(read({}), scenario, '1.2.3')).toMatchObject(scenario)
    expect(runOptions(read({ days: '2', seed: 'b' }), scenario, '1.2.3')).toMatchObject({
      days: 2,
      replications: 5,
      seed: 'b',
    })
  })

  it('with a precision starts from two replications at least, and stops at 200 or at what was asked for', () => {
    expect(runOptions(read({ precision: '1 %' }), { replications: 1 }, '')).toMatchObject({
      replications: 2,
      cap: 200,
    })
    expect(runOptions(read({ precision: '1 %', replications: '300' }), {}, '')).toMatchObject({
      replications: 300,
      cap: 300,
    })
  })
})
