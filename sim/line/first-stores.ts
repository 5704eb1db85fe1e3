import type { Place } from './outline.ts'

/**
 * The buffers that wafers come to before any step, in lanes too, each of which has one. A feed
 * that is as fast as wafers are taken fills them at once: without an end it would go on for ever.
 */
export function buffersBeforeSteps(route: readonly Place[]): readonly Place[] {
  // What could not be read may be a step.
  const end = route.findIndex(({ kind }) => kind === undefined || kind === 'step' || kind === 'group')
  const first = end < 0 ? route : route.slice(0, end)
  const lanes = route[end]?.lanes ?? []
  return [
    ...first.filter(({ kind }) => kind === 'buffer'),
    ...lanes.flatMap(lane => buffersBeforeSteps(lane.route)),
  ]
}
