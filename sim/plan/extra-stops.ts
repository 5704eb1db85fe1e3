import type { ToolPlan } from './plan.ts'

/** What takes a tool down besides the stops of its plan; counted after those, in this order. */
export type ExtraStop = 'clearing' | 'warm-up' | 'coating'

export function extraStops(plan: ToolPlan): readonly ExtraStop[] {
  const { clearing } = plan.outcome
  const coating = plan.kind === 'batch' && plan.boats?.cleaning?.coating
  return [
    ...(clearing ? (['clearing'] as const) : []),
    ...(plan.warmUp ? (['warm-up'] as const) : []),
    ...(coating ? (['coating'] as const) : []),
  ]
}
