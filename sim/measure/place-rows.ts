export interface PlaceRows {
  /** Coarse rows: area of wafers there; wafers that left it. */
  readonly area: Float64Array
  readonly left: Float64Array
  /** Fine rows: wafers there. */
  readonly level: Float64Array
}
