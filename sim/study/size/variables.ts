import type { Group, Line } from '../../line/types.ts'
import { equalGroups, stepsOf, withCapacity, withHeads, withLanes, withTools } from '../designs/changes.ts'

/** Something whose number may be chosen. */
export interface Variable {
  /** As the scenario and its reports say it: `print: tools`. */
  readonly name: string
  readonly kind: 'tools' | 'lanes' | 'capacity' | 'heads'
  /** In rising order; more never makes the line slower (what is blocked or starved less is so at no cost). */
  readonly values: readonly number[]
  readonly set: (line: Line, value: number) => Line
}

/** A choice for each variable: the index of its value. */
export type Choice = readonly number[]

/** What the scenario's `sizing` leaves open. */
export function variablesOf(line: Line): Variable[] {
  const { tools = {}, lanes = {}, buffers = {}, heads = {} } = line.sizing ?? {}
  return [
    ...Object.entries(lanes).map(([name, span]): Variable => {
      const group = equalGroups(line).find(one => one.group === name) as Group
      return {
        name: `${name}: lanes`,
        kind: 'lanes',
        values: range(span),
        set: (changed, value) => withLanes(changed, group, value),
      }
    }),
    ...Object.entries(tools).map(([name, span]): Variable => {
      const step = stepsOf(line).find(one => one.step === name)
      return {
        name: `${name}: tools`,
        kind: 'tools',
        values: range(span),
        set: (changed, value) => (step === undefined ? changed : withTools(changed, step, value)),
      }
    }),
    ...Object.entries(buffers).map(
      ([name, values]): Variable => ({
        name: `${name}: capacity`,
        kind: 'capacity',
        values,
        set: (changed, value) => withCapacity(changed, name, value),
      }),
    ),
    ...Object.entries(heads).map(
      ([name, values]): Variable => ({
        name: `${name}: heads`,
        kind: 'heads',
        values,
        set: (changed, value) => withHeads(changed, name, () => value),
      }),
    ),
  ]
}

function range([least, most]: readonly [number, number]): number[] {
  return Array.from({ length: most - least + 1 }, (_, i) => least + i)
}

/** The line with every variable at its choice. */
export function lineOf(line: Line, variables: readonly Variable[], choice: Choice): Line {
  return variables.reduce((made, { values, set }, v) => set(made, values[choice[v]]), line)
}

/** A choice in words: `print: tools 3, magazine: capacity 80`. */
export function choiceText(variables: readonly Variable[], choice: Choice): string {
  return variables.map(({ name, values }, v) => `${name} ${values[choice[v]]}`).join(', ')
}

/** Designs that the variables allow in all. */
export function countOf(variables: readonly Variable[]): number {
  return variables.reduce((product, { values }) => product * values.length, 1)
}

/** A number that was chosen at an end of what `sizing` allows: beyond it nothing was tried. */
export interface NumberAtEnd {
  readonly name: string
  readonly value: number
  readonly end: 'least' | 'most'
}

/**
 * The numbers of a choice that lie at an end of what they may be. Not those that are not open at all,
 * nor the fewest that there can be: no step without a tool, no crew without a head.
 */
export function endsOf(variables: readonly Variable[], choice: Choice): NumberAtEnd[] {
  return variables.flatMap(({ name, kind, values }, v): NumberAtEnd[] => {
    if (values.length === 1) return []
    const value = values[choice[v]]
    if (choice[v] === values.length - 1) return [{ name, value, end: 'most' }]
    return choice[v] === 0 && value > (kind === 'capacity' ? 0 : 1) ? [{ name, value, end: 'least' }] : []
  })
}
