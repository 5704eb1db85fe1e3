/**
 * Cash flows: amounts at the end of year 0, 1, 2, ... Rates are fractions a year.
 * Sources of the definitions: Ross, Westerfield & Jordan, Fundamentals of Corporate
 * Finance, chapter on investment criteria; Park, Contemporary Engineering Economics,
 * chapter on interest factors (both from memory; the checks name what was seen).
 */

/** Net present value: sum of flow_t / (1 + rate)^t. Throws RangeError unless rate > -1. */
export function netPresentValue(flows: readonly number[], rate: number): number {
  needRate(rate)
  return flows.reduce((sum, flow, year) => sum + flow / (1 + rate) ** year, 0)
}

/**
 * Years until the sum of the flows reaches zero, linear within the year in which it does;
 * undefined when it never does. The first flow is the investment, below zero; a sum that
 * falls back below zero later on does not count.
 */
export function paybackYears(flows: readonly number[]): number | undefined {
  let sum = 0
  for (const [year, flow] of flows.entries()) {
    if (sum < 0 && sum + flow >= 0) return year - 1 + -sum / flow
    sum += flow
  }
  return undefined
}

/** The same with each flow brought to its present value. */
export function discountedPaybackYears(flows: readonly number[], rate: number): number | undefined {
  needRate(rate)
  return paybackYears(flows.map((flow, year) => flow / (1 + rate) ** year))
}

/** No project of a factory pays back its price a thousand times each year. */
const HIGHEST_RATE = 1000
const LOWEST_RATE = -0.9999

/**
 * Internal rate of return: the rate at which the net present value is zero, by
 * bisection to the last digits. Undefined when the flows do not change their sign
 * exactly once, since the rate is then absent or may not be the only one (Descartes'
 * rule), and when it lies outside -99.99 % to 100 000 %.
 */
export function internalRate(flows: readonly number[]): number | undefined {
  const signs = flows.filter(flow => flow !== 0).map(Math.sign)
  if (signs.filter((sign, i) => i > 0 && sign !== signs[i - 1]).length !== 1) return undefined
  const rising = signs[0] > 0
  const tooLow = (rate: number) => netPresentValue(flows, rate) > 0 !== rising
  let [low, high] = [LOWEST_RATE, HIGHEST_RATE]
  if (!tooLow(low) || tooLow(high)) return undefined
  for (let halving = 0; halving < 200; halving++) {
    const middle = (low + high) / 2
    if (middle === low || middle === high) break
    if (tooLow(middle)) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** Present value of 1 at the end of each of `years` years, (P/A, rate, years): (1 - (1 + rate)^-years) / rate. */
export function annuityFactor(rate: number, years: number): number {
  needRate(rate)
  return rate === 0 ? years : -Math.expm1(-years * Math.log1p(rate)) / rate
}

/** Yearly amount that has the present value 1, (A/P, rate, years). */
export function capitalRecoveryFactor(rate: number, years: number): number {
  return 1 / annuityFactor(rate, years)
}

/** Yearly amount that grows to 1 at the end of `years` years, (A/F, rate, years). */
export function sinkingFundFactor(rate: number, years: number): number {
  return capitalRecoveryFactor(rate, years) - rate
}

/** An investment that brings the same amount at the end of each of `years` years. */
export function levelFlows(investment: number, perYear: number, years: number): number[] {
  return [-investment, ...Array<number>(years).fill(perYear)]
}

function needRate(rate: number): void {
  if (!(rate > -1)) throw new RangeError(`a rate is above -100 % a year, not ${rate}`)
}
