/**
 * Standard normal score z with P(Z <= z) = p. Relative accuracy about 1e-15 over
 * all doubles p; -Infinity at 0 and Infinity at 1.
 *
 * Source: Wichura, M. J. (1988), Algorithm AS 241: The Percentage Points of the
 * Normal Distribution, Applied Statistics 37(3), 477-484, routine PPND16 (its
 * coefficients rounded to doubles).
 */
export function normalScore(p: number): number {
  const q = p - 0.5
  if (q < -0.425) return -tailScore(p)
  if (q > 0.425) return tailScore(1 - p)
  return middleScore(q)
}

/** Score of the share 0.5 + q, |q| at most 0.425. */
function middleScore(q: number): number {
  const r = 0.180625 - q * q
  // Written out: as calls of `polynomial` they cost a quarter of a draw.
  let over = 2509.0809287301227
  over = over * r + 33430.57558358813
  over = over * r + 67265.7709270087
  over = over * r + 45921.95393154987
  over = over * r + 13731.69376550946
  over = over * r + 1971.5909503065513
  over = over * r + 133.14166789178438
  over = over * r + 3.3871328727963665
  let under = 5226.495278852854
  under = under * r + 28729.085735721943
  under = under * r + 39307.89580009271
  under = under * r + 21213.794301586597
  under = under * r + 5394.196021424751
  under = under * r + 687.1870074920579
  under = under * r + 42.31333070160091
  under = under * r + 1
  return (q * over) / under
}

/** Score z > 0 that the share `above`, at most 0.075, exceeds. */
function tailScore(above: number): number {
  if (above <= 0) return Infinity
  const depth = Math.sqrt(-Math.log(above))
  if (depth > 5) return farTailScore(depth - 5)
  const r = depth - 1.6
  return (
    polynomial(
      r,
      1.4234371107496835,
      4.630337846156546,
      5.769497221460691,
      3.6478483247632045,
      1.2704582524523684,
      0.2417807251774506,
      0.022723844989269184,
      0.0007745450142783414,
    ) /
    polynomial(
      r,
      1,
      2.053191626637759,
      1.6763848301838038,
      0.6897673349851,
      0.14810397642748008,
      0.015198666563616457,
      0.0005475938084995345,
      1.0507500716444169e-9,
    )
  )
}

/** Where the share above is below exp(-25). */
function farTailScore(r: number): number {
  return (
    polynomial(
      r,
      6.657904643501103,
      5.463784911164114,
      1.7848265399172913,
      0.29656057182850487,
      0.026532189526576124,
      0.0012426609473880784,
      2.7115555687434876e-5,
      2.0103343992922881e-7,
    ) /
    polynomial(
      r,
      1,
      0.599832206555888,
      0.1369298809227358,
      0.014875361290850615,
      0.0007868691311456133,
      1.8463183175100548e-5,
      1.421511758316446e-7,
      2.0442631033899397e-15,
    )
  )
}

/** a + b r + c r^2 + ... + h r^7, by Horner's rule. */
function polynomial(
  r: number,
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  f: number,
  g: number,
  h: number,
): number {
  return ((((((h * r + g) * r + f) * r + e) * r + d) * r + c) * r + b) * r + a
}
