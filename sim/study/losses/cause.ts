import type { Line } from '../../line/types.ts'

export type CauseKind =
  | 'stop'
  | 'other stops'
  | 'left out'
  | 'breakage'
  | 'reject'
  | 'rework'
  | 'defects'
  | 'late'
  | 'feed'
  | 'buffers'
  | 'carriers'
  | 'boats'
  | 'caps'
  | 'people'
  | 'calendar'
  | 'events'

/** Something that costs output, and the line without it. */
export interface Cause {
  readonly name: string
  readonly kind: CauseKind
  readonly without: (line: Line) => Line
}
