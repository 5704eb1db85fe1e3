import { describe, expect, it } from 'vitest'
import { problemsIn, stepWith, stopWith } from './lines.ts'

/** Problems of distributions. Texts as they are shown. */

describe('a distribution', () => {
  it.each<[unknown, string[]]>([
    [
      stepWith({ cycle: null }),
      [
        'route[0] "print" → cycle: found null, expected a time such as "3 s" (units: ms, s, min, h, d), or a distribution such as { exponential: "3 s" }',
      ],
    ],
    [
      stepWith({ cycle: {} }),
      [
        'route[0] "print" → cycle: found an empty object, expected a distribution, by exactly one of the keys exponential, lognormal, gamma, weibull, normal, triangular, uniform, geometric, observed and replayed',
      ],
    ],
    [
      stepWith({ cycle: { exponentail: '2 s' } }),
      [
        'route[0] "print" → cycle: found an object with exponentail, expected a distribution, by exactly one of the keys exponential, lognormal, gamma, weibull, normal, triangular, uniform, geometric, observed and replayed (did you mean "exponential" instead of "exponentail"?)',
      ],
    ],
    [
      stepWith({ cycle: { exponential: '2 s', gamma: '2 s' } }),
      [
        'route[0] "print" → cycle: found exponential and gamma, expected a distribution, by exactly one of the keys exponential, lognormal, gamma, weibull, normal, triangular, uniform, geometric, observed and replayed',
      ],
    ],
    [
      stepWith({ cycle: { exponential: 2 } }),
      [
        'route[0] "print" → cycle → exponential: found 2, expected a time such as "3 s" (units: ms, s, min, h, d) (its unit is missing)',
      ],
    ],
    [
      stepWith({ cycle: { exponential: '0 s' } }),
      ['route[0] "print" → cycle → exponential: found "0 s", expected a time from 0.001 ms to 36500 d'],
    ],
    [
      stepWith({ cycle: { lognormal: '2 s' } }),
      ['route[0] "print" → cycle → cv: found nothing, expected a number from 0 to 10'],
    ],
    [
      stepWith({ cycle: { lognormal: '2 s', cv: -1 } }),
      ['route[0] "print" → cycle → cv: found -1, expected a number from 0 to 10'],
    ],
    [
      stepWith({ cycle: { lognormal: '2 s', cv: '0.5' } }),
      [
        'route[0] "print" → cycle → cv: found "0.5", expected a number from 0 to 10 (write it without quotes)',
      ],
    ],
    [
      stepWith({ cycle: { lognormal: '2 s', vc: 0.5 } }),
      [
        'route[0] "print" → cycle → vc: found an unknown key, expected one of lognormal, cv (did you mean "cv"?)',
      ],
    ],
    [
      stepWith({ cycle: { gamma: '2 s', cv: 11 } }),
      ['route[0] "print" → cycle → cv: found 11, expected a number from 0 to 10'],
    ],
    [
      stepWith({ cycle: { weibull: '2 s', shape: 0 } }),
      ['route[0] "print" → cycle → shape: found 0, expected a number from 0.1 to 1000'],
    ],
    [
      stepWith({ cycle: { normal: '2 s', sd: '-1 s' } }),
      [
        'route[0] "print" → cycle → sd: found "-1 s", expected a time such as "3 s" (units: ms, s, min, h, d) (it must not be below zero)',
      ],
    ],
    [
      stepWith({ cycle: { normal: '2 s', sd: '1 s', least: '3 s', most: '3 s' } }),
      ['route[0] "print" → cycle: found least 3 s, most 3 s, expected "least" below "most"'],
    ],
    [
      stepWith({ cycle: { normal: '2 s', sd: '1 s', least: '9 s' } }),
      ['route[0] "print" → cycle: found mean 2 s, sd 1 s, expected a cut that leaves something of the law'],
    ],
    [
      stepWith({ cycle: { normal: '90 s', sd: '1 s', most: '9 s' } }),
      ['route[0] "print" → cycle: found mean 90 s, sd 1 s, expected a cut that leaves something of the law'],
    ],
    [
      stepWith({ cycle: { triangular: ['1 s', '2 s'] } }),
      [
        'route[0] "print" → cycle → triangular: found a list of 2, expected three values in rising order: least, most likely, largest',
      ],
    ],
    [
      stepWith({ cycle: { triangular: ['1 s', '3 s', '2 s'] } }),
      [
        'route[0] "print" → cycle → triangular: found ["1 s","3 s","2 s"], expected three values in rising order: least, most likely, largest',
      ],
    ],
    [
      stepWith({ cycle: { triangular: ['1 s', '1 s', '1 s'] } }),
      [
        'route[0] "print" → cycle → triangular: found ["1 s","1 s","1 s"], expected three values in rising order: least, most likely, largest',
      ],
    ],
    [
      stepWith({ cycle: { triangular: ['1 s', '2 x', '3 s'] } }),
      [
        'route[0] "print" → cycle → triangular[1]: found "2 x", expected a time such as "3 s" (units: ms, s, min, h, d) ("x" is not a unit of time)',
      ],
    ],
    [
      stepWith({ cycle: { uniform: ['2 s', '1 s'] } }),
      [
        'route[0] "print" → cycle → uniform: found ["2 s","1 s"], expected two values in rising order: smallest, largest',
      ],
    ],
    [
      stepWith({ cycle: { uniform: ['0 s', '0.0001 ms'] } }),
      [
        'route[0] "print" → cycle → uniform: found a list of 2, expected a largest value of at least 0.001 ms',
      ],
    ],
    [
      stepWith({ cycle: { geometric: '2 s', step: '3 s' } }),
      ['route[0] "print" → cycle: found 2 s, expected a mean of at least one step, 3 s'],
    ],
    [
      stepWith({ cycle: { geometric: '0.5 s' } }),
      [
        'route[0] "print" → cycle: found 0.5 s, expected a mean of at least one step, 1 s (the step is 1 s unless given)',
      ],
    ],
    [
      stepWith({ cycle: { observed: [] } }),
      [
        'route[0] "print" → cycle → observed: found an empty list, expected a list of values, each a time such as "3 s" (units: ms, s, min, h, d)',
      ],
    ],
    [
      stepWith({ cycle: { observed: ['1 s', '0 s'] } }),
      ['route[0] "print" → cycle → observed[1]: found "0 s", expected a time from 0.001 ms to 36500 d'],
    ],
    [
      stopWith({ every: { replayed: ['0 s', '0 s'] } }),
      [
        'route[0] "print" → stops[0] "jam" → every → replayed: found a list of 2, expected at least one value above 0 s',
      ],
    ],
    [
      stopWith({ counts: 'wafers', every: { observed: [1.5] } }),
      [
        'route[0] "print" → stops[0] "jam" → every → observed[0]: found 1.5, expected a whole number of wafers',
      ],
    ],
    [
      stopWith({ counts: 'wafers', every: { geometric: 2, step: 5 } }),
      ['route[0] "print" → stops[0] "jam" → every: found 2, expected a mean of at least one step, 5'],
    ],
    [
      stopWith({ counts: 'wafers', every: null }),
      [
        'route[0] "print" → stops[0] "jam" → every: found null, expected a number of wafers, or a distribution such as { exponential: 500 }',
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })
})
