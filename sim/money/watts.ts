/** Irradiance of standard test conditions [W/m2]. Source: IEC 60904-3. */
const IRRADIANCE = 1000

/** Power of a cell at standard test conditions [W], from its area [m2] and efficiency (fraction). */
export function cellWatts(area: number, efficiency: number): number {
  return area * efficiency * IRRADIANCE
}
