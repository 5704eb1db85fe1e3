import { describe, expect, it } from 'vitest'
import { resolvedLine, resolveRecipe } from '../../sim/line/recipes.ts'
import type { Line, Step } from '../../sim/line/types.ts'

const furnace: Step = {
  step: 'fire',
  belt: { length: '12 m', speed: '6 m/min', pitch: '0.2 m' },
  reject: '0.1 %',
  recipes: {
    fast: { belt: { speed: '7 m/min' }, effect: { shift: '-0.05 %' }, from: 'invented' },
    careful: { reject: '0.02 %' },
  },
}

describe('a recipe', () => {
  it('changes nothing unless it is picked', () => {
    const { recipes: _recipes, ...own } = furnace
    expect(resolveRecipe(furnace)).toEqual(own)
    expect(resolveRecipe({ step: 'print', cycle: '2 s' })).toEqual({ step: 'print', cycle: '2 s' })
  })

  it('replaces entries of the step, those of a belt key by key', () => {
    expect(resolveRecipe({ ...furnace, recipe: 'fast' })).toEqual({
      step: 'fire',
      belt: { length: '12 m', speed: '7 m/min', pitch: '0.2 m' },
      reject: '0.1 %',
      effect: { shift: '-0.05 %' },
    })
    expect(resolveRecipe({ ...furnace, recipe: 'careful' }).reject).toBe('0.02 %')
  })

  it('of a batch tool gives another time; one cycle time replaces those of the tools', () => {
    const tube: Step = {
      step: 't',
      batch: { load: 100, time: '1 h' },
      recipes: { b: { batch: { time: '2 h' } } },
    }
    expect(resolveRecipe({ ...tube, recipe: 'b' }).batch).toEqual({ load: 100, time: '2 h' })
    const printers: Step = {
      step: 'p',
      tools: 2,
      cycles: ['1 s', '2 s'],
      recipes: { same: { cycle: '3 s' } },
    }
    expect(resolveRecipe({ ...printers, recipe: 'same' })).toEqual({ step: 'p', tools: 2, cycle: '3 s' })
  })

  it('is found in lanes, and the order of lanes is kept', () => {
    const line: Line = {
      line: 'x',
      route: [
        { group: 'g', lanes: { b: [{ ...furnace, recipe: 'fast' }], a: [{ step: 'print', cycle: '2 s' }] } },
        { group: 'h', lanes: ['one'], each: [{ ...furnace, recipe: 'careful' }] },
      ],
    }
    const { route } = resolvedLine(line)
    expect(JSON.stringify(route)).not.toContain('recipe')
    expect(route[0]).toMatchObject({ lanes: { b: [{ belt: { speed: '7 m/min' } }] } })
    expect(Object.keys((route[0] as { lanes: object }).lanes)).toEqual(['b', 'a'])
    expect(route[1]).toMatchObject({ each: [{ reject: '0.02 %' }] })
  })
})
