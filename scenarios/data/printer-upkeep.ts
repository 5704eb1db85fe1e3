import type { Stop } from 'linewright'
import { BACK, MECHATRONICS } from './people.ts'
import { about, INVENTED, planned, untilStarved } from './stops.ts'

interface Upkeep {
  /** Time of a print [s]. */
  readonly index: number
  /** Prints of a screen, and of a squeegee. */
  readonly screen: number
  readonly squeegee: number
  /** Printing time of a paste cartridge [min]. */
  readonly paste: number
}

/**
 * Upkeep of a print station. Changes wait for a moment without a wafer: that of the screen for 600
 * prints at most, of the squeegee for 3000, of the paste for 10 min. The screen change includes a
 * minute of alignment. A worn screen prints 0.5 % of the wafers badly, which is invented. A new
 * screen is set up by ten wafers; paste that has dried on an idle one is wiped off.
 */
export function printerUpkeep({ index, screen, squeegee, paste }: Upkeep): Stop[] {
  const change = { kind: 'supply', skill: BACK, from: INVENTED } as const
  return [
    {
      stop: 'screen change',
      counts: 'wafers',
      every: about(screen),
      lasts: '7 min',
      ...untilStarved(`${600 * index} s`),
      overdue: '0.5 %',
      setUpWafers: 10,
      ...change,
    },
    {
      stop: 'squeegee change',
      counts: 'wafers',
      every: about(squeegee),
      lasts: '5 min',
      ...untilStarved(`${3000 * index} s`),
      ...change,
    },
    {
      stop: 'paste cartridge change',
      every: `${paste} min`,
      lasts: '1.2 min',
      ...untilStarved('10 min'),
      ...change,
    },
    {
      stop: 'wipe of dried paste',
      afterIdle: '15 min',
      lasts: '0.8 min',
      setUpWafers: 5,
      ...change,
      from: 'limit and set-up wafers: common practice, no source; length invented',
    },
    planned('clean nest and camera', '12 h', '8 min', BACK),
    planned('weekly maintenance', '168 h', '60 min', MECHATRONICS),
  ]
}
