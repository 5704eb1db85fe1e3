import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import type { Step, Stop } from './types.ts'

/** What cannot be in the stops of a step with exactly one way to work. */
export function checkStops(step: Step, path: Path): Problem[] {
  const stops = step.stops ?? []
  return stops.flatMap((stop, index) => {
    const stopPath = [...path, 'stops', index, { name: stop.stop }]
    const first = stops.findIndex(other => other.stop === stop.stop)
    const twice =
      first < index
        ? [problemAt([...stopPath, 'stop'], quoted(stop.stop), 'a name of its own', `stops[${first}] has it`)]
        : []
    return [...twice, ...checkCount(step, stop, stopPath), ...checkFate(step, stop, stopPath)]
  })
}

function checkCount(step: Step, { counts }: Stop, path: Path): Problem[] {
  if (counts === 'loads' && !step.batch)
    return [problemAt([...path, 'counts'], '"loads"', '"wafers"', 'only batch tools work in loads')]
  if (counts === 'wafers' && step.batch)
    return [problemAt([...path, 'counts'], '"wafers"', '"loads"', 'a batch tool works in loads')]
  return []
}

function checkFate(step: Step, { inside }: Stop, path: Path): Problem[] {
  if (inside === 'run out' && !step.belt)
    return [
      problemAt(
        [...path, 'inside'],
        '"run out"',
        '"resume", "restart" or "lose"',
        'only the wafers on a belt can run out',
      ),
    ]
  if (inside === 'restart' && step.belt)
    return [
      problemAt(
        [...path, 'inside'],
        '"restart"',
        '"run out", "resume" or "lose"',
        'the wafers on a belt cannot begin anew',
      ),
    ]
  return []
}
