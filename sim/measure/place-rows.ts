export interface PlaceRows {
  /** Coarse rows: area of wafers there; wafers that left it. */
  readonly area: Float64Array
  readonly left: Float64Array
  /** Fine rows: wafers there. */
  readonly level: Float64Array
  /** Coarse rows, of carriers that wear: taken to be filled after they were cleaned, or in place of broken ones. */
  readonly wear?: { readonly cleaned: Float64Array; readonly replaced: Float64Array }
}
