/**
 * Distributions as a planner writes them: the mean first, then what shapes it.
 * `V` is a quantity with its unit for times (`"1.2 min"`), a bare number for
 * counts of wafers or loads.
 *
 * A bare `V` is the fixed value.
 */
export type Spread<V> = V | ShapedSpread<V>

/** A distribution that is more than one fixed value. */
export type ShapedSpread<V> =
  | { readonly exponential: V }
  /** Mean and coefficient of variation (standard deviation / mean). */
  | { readonly lognormal: V; readonly cv: number }
  | { readonly gamma: V; readonly cv: number }
  /** Mean and shape; a shape above 1 wears out, below 1 fails early. */
  | { readonly weibull: V; readonly shape: number }
  /** Normal law cut at `least` (default 0) and at `most`: the moments of the uncut law are given. */
  | { readonly normal: V; readonly sd: V; readonly least?: V; readonly most?: V }
  /** Least, most likely and largest value. */
  | { readonly triangular: readonly [V, V, V] }
  /** Smallest and largest value. */
  | { readonly uniform: readonly [V, V] }
  /** Whole number of `step`s (default one second, or one piece), at least one, with this mean. */
  | { readonly geometric: V; readonly step?: V }
  /** Values seen on a real tool: each draw picks one of them, all equally likely. */
  | { readonly observed: readonly V[] }
  /** Values replayed in the order given, then from the start again. */
  | { readonly replayed: readonly V[] }
