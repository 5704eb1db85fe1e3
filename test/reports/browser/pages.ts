import { pageAssets } from '../../../reports/cli/page-assets.ts'
import { pageHtml } from '../../../reports/html/page-html.ts'
import { runPage } from '../../../reports/view/run-page.ts'
import { checkLine } from '../../../sim/line/check.ts'
import type { Line, Route } from '../../../sim/line/types.ts'
import type { Recording } from '../../../sim/measure/recording.ts'
import { recordShift } from '../../../sim/study/record-shift.ts'
import { runStudy } from '../../../sim/study/replicate.ts'
import type { RunStudy } from '../../../sim/study/run-study.ts'

/** A simulated line and its page. */
export interface MadePage {
  readonly study: RunStudy
  readonly recording: Recording
  readonly html: string
}

/** Simulates a line in little time and makes its page, as the command does. */
export async function madePage(given: Line, days: number, replications: number): Promise<MadePage> {
  const { line, problems } = checkLine(given)
  if (!line) throw new Error(JSON.stringify(problems))
  const options = {
    days,
    replications,
    seed: 'pages',
    drive: 'eager' as const,
    cap: 200,
    level: 0.95,
    version: '0.1.0',
  }
  const study = await runStudy(line, options)
  const recording = recordShift(line, options, study)
  const context = { line, recording, fingerprint: '0123456789ab', command: 'linewright run a.ts', seconds: 1 }
  return { study, recording, html: pageHtml(runPage(study, context), await pageAssets()) }
}

/** A name that is markup, should anybody take it for that. */
export const MARKUP = 'wash <img src=x onerror=alert(1)> & "dry"'

/** A line with a bit of everything that a page shows: lanes, stores, batches, stops, people, time limits, bins. */
export const LITTLE_OF_ALL: Line = {
  line: `Little of all </script><b>bold</b>`,
  from: 'invented',
  notes: [`A note with <i>markup</i>.`],
  target: '1500 wafers/h',
  wafer: { area: '330 cm2', efficiency: { mean: '23 %', sd: '0.1 %' } },
  bins: { first: '22.8 %', width: '0.1 %', count: 4 },
  crews: { fitters: { heads: 1, reach: '1 min' } },
  route: [
    { step: MARKUP, belt: { spacing: '2 s', transit: '60 s' }, breakage: '0.2 %', from: 'invented' },
    { buffer: 'before diffusion', capacity: 400 },
    { step: 'diffusion', tools: 2, batch: { load: 100, time: '5 min', tubes: 3 } },
    { buffer: 'after diffusion', capacity: 300 },
    {
      group: 'print lanes',
      lanes: ['A', 'B'],
      each: [
        {
          step: 'print',
          cycle: '4 s',
          reject: '0.1 %',
          stops: [
            {
              ...{ stop: 'jam', every: { exponential: '20 min' }, lasts: { exponential: '2 min' } },
              skill: 'fitters',
            },
            { stop: 'screen', counts: 'wafers', every: 900, lasts: '4 min', kind: 'scheduled' },
          ],
        },
        { conveyor: 'dryer', transit: '30 s', capacity: 20 },
      ],
    },
    {
      step: 'test',
      tools: 2,
      cycle: '3.6 s',
      test: { noise: '0.02 %', rejectBelow: '22.7 %' },
      timeLimits: [{ after: 'diffusion', atMost: '5 min', late: { loses: '0.1 %' } }],
    },
  ],
}

/** Three steps; and a line of so many. */
export function chain(steps: number): Line {
  const route: Route = Array.from({ length: steps }, (_, index) => [
    { step: `step ${index + 1}`, tools: 1 + (index % 3), cycle: `${2 * (1 + (index % 3))} s` as const },
    ...(index + 1 < steps ? [{ buffer: `buffer ${index + 1}`, capacity: 20 }] : []),
  ]).flat()
  return { line: `A chain of ${steps}`, route }
}
