/** Stands wherever stops are weighed: a reader might else conclude that planned work is better left out. */
export const PLANNED_WORK =
  'Planned work prevents only the stops that it "renews" in the scenario: all else of it costs its time, and saves no failure.'

/** Stands on every report: what the figures are for, and what they do not replace. */
export const CAUTION =
  'Estimates for planning. The processes involve silane, phosphorus oxychloride, hydrofluoric acid, ' +
  'hot furnaces and lasers: staffing, maintenance intervals and access must follow local codes, ' +
  "the tool makers' manuals, lock-out/tag-out practice and licensed professionals."
