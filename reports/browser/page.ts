import type { Chart } from '../view/page.ts'
import type { Picture } from '../view/picture.ts'
import type { ShiftView } from '../view/shift.ts'
import { startCharts } from './charts.ts'
import { found } from './elements.ts'
import { whenNear } from './near.ts'
import { startPicture } from './picture.ts'
import { startPlayer } from './player.ts'
import { startScheme } from './scheme.ts'
import { addShiftTable } from './shift-table.ts'
import { startTables } from './table-tools.ts'
import { toneDefinitions } from './tones.ts'

/** Runs in the page: draws what the markup has places for, from the data beside it. */

interface PageData {
  readonly picture?: Picture
  readonly shift?: ShiftView
  readonly charts: Readonly<Record<string, Chart>>
}

/** Tables of so many rows are printed; longer ones stay folded. */
const PRINTED_ROWS = 60

const data = JSON.parse(found(document, '#page-data').textContent ?? '') as PageData

document.body.prepend(toneDefinitions())
startScheme()
if (data.picture) startPicture(data.picture)
// The first screen is there; the rest may come a moment later.
setTimeout(startRest)

function startRest(): void {
  const { picture, shift, charts } = data
  startTables(document)
  if (picture && shift) {
    addShiftTable(shift)
    whenNear(found(document, '#player'), () => startPlayer(picture, shift))
  }
  startCharts(charts)
  unfoldForPrint()
  document.documentElement.dataset.ready = 'yes'
}

function unfoldForPrint(): void {
  const opened = new Set<HTMLDetailsElement>()
  addEventListener('beforeprint', () => {
    for (const details of document.querySelectorAll<HTMLDetailsElement>('details.numbers')) {
      if (details.open || details.querySelectorAll('tbody tr').length > PRINTED_ROWS) continue
      details.open = true
      opened.add(details)
    }
  })
  addEventListener('afterprint', () => {
    for (const details of opened) details.open = false
    opened.clear()
  })
}
