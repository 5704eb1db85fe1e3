/** A distribution in base units (seconds for times, pieces for counts), as plain data. */
export type Law =
  | { readonly kind: 'fixed'; readonly value: number }
  | { readonly kind: 'exponential'; readonly mean: number }
  | { readonly kind: 'lognormal'; readonly mean: number; readonly cv: number }
  | { readonly kind: 'gamma'; readonly mean: number; readonly cv: number }
  | { readonly kind: 'weibull'; readonly mean: number; readonly shape: number }
  /** `mean` and `sd` of the uncut law. `most` may be Infinity. */
  | { readonly kind: 'normal'; readonly mean: number; readonly sd: number; readonly least: number; readonly most: number }
  | { readonly kind: 'triangular'; readonly least: number; readonly mode: number; readonly most: number }
  | { readonly kind: 'uniform'; readonly least: number; readonly most: number }
  | { readonly kind: 'geometric'; readonly mean: number; readonly step: number }
  | { readonly kind: 'observed'; readonly values: readonly number[] }
  | { readonly kind: 'replayed'; readonly values: readonly number[] }
