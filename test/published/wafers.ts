import { readFileSync } from 'node:fs'
import { quantity } from '../../sim/base/quantity.ts'
import type { Area, Share } from '../../sim/base/units.ts'
import { cellWatts } from '../../sim/money/watts.ts'
import type { NumberCheck } from './check.ts'

/** Areas of wafers, and their watts. */

/** Format, area [mm2] of the square clipped by the circle of the ingot, watts at 22.8, 24 and 25.5 %. */
const FORMATS = [
  ['M1', 24284.3534, 5.536833, 5.828245, 6.19251],
  ['M2', 24431.5464, 5.570393, 5.863571, 6.230044],
  ['G1', 25199.2881, 5.745438, 6.047829, 6.425818],
  ['M6', 27415.1819, 6.250661, 6.579644, 6.990871],
  ['M10', 33014.5504, 7.527317, 7.923492, 8.41871],
  ['G12', 44096.0515, 10.0539, 10.583052, 11.244493],
] as const
const EFFICIENCIES: readonly Share[] = ['22.8 %', '24 %', '25.5 %']

/** Half of the last digit that the reference for scenarios prints [mm2]. */
const PRINTED = 0.5

const reference = readFileSync(new URL('../../scenarios/README.md', import.meta.url), 'utf8')

/** The area that the reference for scenarios gives for a format [mm2]. */
function printedArea(format: string): number {
  const row = reference.match(new RegExp(`^\\| ${format} .*\`'(.*)'\` \\|$`, 'm'))
  return row ? squareMillimetres(row[1] as Area) : Number.NaN
}

/** As a scenario is read. */
function squareMillimetres(area: Area): number {
  return quantity('area', area) * 1e6
}

export const WAFERS: readonly NumberCheck[] = [
  {
    id: 'E-06',
    family: 'money',
    what: 'areas of usual wafers, as the reference for scenarios gives them, mm2',
    source:
      'geometry; trade pages print 44096 (G12), 27415 (M6) and 25199 (G1), side and ingot of M10 from a data sheet; formats of the ITRPV',
    figures: FORMATS.map(([format, area]) => ({
      name: format,
      expected: area,
      tolerance: PRINTED / area,
      find: () => printedArea(format),
    })),
  },
  {
    id: 'E-07',
    family: 'money',
    what: 'watts of a wafer at standard test conditions',
    source: 'area x efficiency x 1000 W/m2: IEC 60904-3 (from memory)',
    figures: FORMATS.flatMap(([format, area, ...watts]) =>
      watts.map((expected, index) => ({
        name: `${format}, ${EFFICIENCIES[index]}`,
        expected,
        tolerance: 1e-6,
        find: () => cellWatts(quantity('area', `${area} mm2`), quantity('share', EFFICIENCIES[index])),
      })),
    ),
  },
]
