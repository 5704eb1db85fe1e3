import { describe, expect, it } from 'vitest'
import { runFiles } from '../../reports/csv/run-files.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { singleReplication, study } from './fixture.ts'

function linesOf(name: string, result: RunStudy = study): string[] {
  const text = runFiles(result).find(file => file.name === name)?.text ?? ''
  expect(text.endsWith('\n'), name).toBe(true)
  return text.trimEnd().split('\n')
}

describe('the tables', () => {
  it('are these, bins only where there are bins', () => {
    const names = ['summary.csv', 'steps.csv', 'states.csv', 'stops.csv', 'places.csv', 'wip.csv']
    expect(runFiles(study).map(({ name }) => name)).toEqual([...names, 'bins.csv'])
    expect(runFiles({ ...study, bins: [] }).map(({ name }) => name)).toEqual(names)
  })

  it('carry their units in their heads', () => {
    const heads = runFiles(study).map(({ name, text }) => `${name}: ${text.split('\n')[0]}`)
    const three = (name: string, unit: string) =>
      `${name} [${unit}],${name} low [${unit}],${name} high [${unit}]`
    const fractions = (...names: string[]) => names.map(name => three(name, 'fraction')).join(',')
    expect(heads).toEqual([
      'summary.csv: name,mean,low,high,n,unit',
      `steps.csv: step,kind,tools,${three('started', 'wafers/h')},${three('passed', 'wafers/h')},static rate over all hours [wafers/h],` +
        `${fractions('availability', 'performance', 'quality', 'OEE', 'broken', 'rejected', 'reworked', 'set-up wafers', 'lost to stops', 'yield')},` +
        `${three('WIP', 'wafers')},${three('piles up behind', 'wafers/h')},${three('filled with dummies', 'places/day')},${three('dummies worn out', 'wafers/day')}`,
      `states.csv: step,state,${fractions('share of time')}`,
      `stops.csv: step,stop,kind,${three('stops', '1/day')},${three('down', 'tool-hours/day')},${three('of it waiting for people', 'tool-hours/day')},` +
        `${three('mean length', 'min')},` +
        `longest [min],${three('wafers lost', 'wafers/day')}`,
      `places.csv: place,kind,capacity [wafers],${three('WIP', 'wafers')},${three('stay', 'h')},` +
        `${three('cleaned', 'carriers/day')},${three('replaced', 'carriers/day')}`,
      'wip.csv: end of interval [h],good output [cells/h],in the line [wafers],gate [wafers],texture [wafers],' +
        `"'=HYPERLINK(""x"") [wafers]",diffusion [wafers],printer queue [wafers],front print [wafers]`,
      `bins.csv: bin,colour,from efficiency [fraction],to efficiency [fraction],${fractions('share of cells')}`,
    ])
  })

  it('keep twelve digits, without the rounding of sums', () => {
    expect(study.goodOutput.perHour.low).toBe(6493.9400000000005)
    expect(linesOf('summary.csv')[1]).toBe('good output,6512.34,6493.94,6530.74,10,cells/h')
    const third = { ...study, yield: { mean: 1 / 3, n: 1 } }
    expect(linesOf('summary.csv', third)).toContain('yield,0.333333333333,,,1,fraction')
  })

  it('give edges of bins as they are written', () => {
    const [low, first] = study.bins
    if (!low || !first) throw new Error('the fixture has bins')
    const [from, to] = [0.208 + 8 * 0.002, 0.208 + 9 * 0.002]
    expect(String(from)).toBe('0.22399999999999998')
    expect(linesOf('bins.csv', { ...study, bins: [low, { ...first, from, to }] })[2]).toContain(
      ',0.224,0.226,',
    )
  })

  it('leave cells empty where there is no interval', () => {
    expect(linesOf('summary.csv', singleReplication())[1]).toBe('good output,6512.34,,,1,cells/h')
    expect(linesOf('places.csv', singleReplication())[2]).toBe('texture,step,480,431.7,,,0.0655,,,,,,,,')
  })

  it('leave cells empty for what is no number and for what is unlimited', () => {
    const never = linesOf('stops.csv').find(line => line.includes('never seen'))
    expect(never).toBe('test and sort,never seen,unscheduled,0,0,0,0,0,0,0,0,0,,,,61.27,18.6,17.7,19.5')
    expect(linesOf('places.csv')[1]).toBe('gate,gate,,0,0,0,0,0,0,,,,,,')
  })

  it('disarm formulas in names, and leave numbers below zero alone', () => {
    expect(linesOf('places.csv')[3]).toMatch(/^"'=HYPERLINK\(""x""\)",buffer,2000,/)
    const [first] = study.steps
    if (first === undefined) throw new Error('the fixture has steps')
    const below = { ...first, name: '-1+1', broken: { mean: 0.0001, low: -0.0002, high: 0.0004, n: 2 } }
    const row = linesOf('steps.csv', { ...study, steps: [below] })[1]
    expect(row).toMatch(/^'-1\+1,/)
    expect(row).toContain(',0.0001,-0.0002,0.0004,')
  })

  it('give eight states per step that add up to the whole', () => {
    const rows = linesOf('states.csv').slice(1)
    expect(rows).toHaveLength(8 * study.steps.length)
    const texture = rows
      .filter(row => row.startsWith('texture,'))
      .map(row => Number(row.replace(/"[^"]*"/, '').split(',')[2]))
    expect(texture.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12)
  })

  it('give bins by colour, and boxes, where there are any', () => {
    const [low, first] = study.bins
    if (!low || !first) throw new Error('the fixture has bins')
    const colours = ['light', 'dark'].map(colour => ({ colour, share: { mean: 0.0625, n: 1 } }))
    const sorted: typeof study = {
      ...study,
      bins: [low, { ...first, colours }],
      boxes: { outputs: 3, swapsPerDay: { mean: 1390, n: 1 }, heldHoursPerDay: { mean: 0.25, n: 1 } },
    }
    expect(linesOf('bins.csv', sorted).slice(2)).toEqual([
      '1,light,0.22,0.224,0.0625,,',
      '1,dark,0.22,0.224,0.0625,,',
    ])
    expect(linesOf('summary.csv', sorted).slice(-2)).toEqual([
      'boxes swapped,1390,,,1,boxes/day',
      'held by full boxes,0.25,,,1,tool-h/day',
    ])
  })

  it('have as many cells in every row as in the head', () => {
    for (const { name, text } of runFiles(study)) {
      const counts = text
        .trimEnd()
        .split('\n')
        .map(line => line.replace(/"(?:[^"]|"")*"/g, 'x').split(',').length)
      expect(new Set(counts).size, name).toBe(1)
    }
  })

  it('follow the places over time', () => {
    expect(linesOf('wip.csv').slice(1)).toEqual([
      '1,0,3100,0,430,100,2500,40,2',
      '2,5120.5,6720,0,431,700,5500,80,3',
      '3,6498,6950,0,432,812,5600,93,3',
    ])
  })
})
