import type { ShiftView } from '../view/shift.ts'
import { STATE_KEYS } from '../view/states.ts'
import { element, found } from './elements.ts'
import { clockText, type Frames, framesOf } from './shift-frames.ts'
import { makeSortable } from './table-tools.ts'

/** Rows of the table of the shift. */
const MOST_ROWS = 48

/** Writes the table of the recorded stretch when it is unfolded. */
export function addShiftTable(shift: ShiftView): void {
  const place = found(document, '#shift-table')
  const details = place.closest('details')
  const fill = () => {
    if (place.firstChild !== null) return
    place.append(tableOf(shift, framesOf(shift)))
    makeSortable(found<HTMLTableElement>(place, 'table'))
  }
  details?.addEventListener('toggle', fill)
}

/** The stretch as a table: tools in each state and the output, at equal distances. */
function tableOf(shift: ShiftView, frames: Frames): HTMLElement {
  const stride = Math.max(1, Math.ceil(shift.samples / MOST_ROWS))
  const heads = ['time', ...shift.states.map(({ name }) => name), 'good cells so far']
  const head = element(
    'tr',
    {},
    ...heads.map((name, at) =>
      element(
        'th',
        {
          scope: 'col',
          class: at === 0 ? 'text' : 'number',
          'data-head': name,
          'data-unit': at === 0 ? '' : unitOf(at, heads.length),
        },
        name,
      ),
    ),
  )
  const body = element('tbody')
  for (let sample = 0; sample < frames.count; sample += stride) {
    const counts = frames.counts(sample)
    const numbers = [
      ...shift.states.map(({ key }) => counts[STATE_KEYS.indexOf(key)] ?? 0),
      frames.good(sample),
    ]
    const cells = numbers.map(value =>
      element('td', { class: 'number', 'data-value': value }, value.toLocaleString('en')),
    )
    body.append(element('tr', {}, element('th', { scope: 'row' }, clockText(frames.hours(sample))), ...cells))
  }
  const caption = element(
    'caption',
    {},
    'Tools in each state through the shift, and good cells since its start',
  )
  const table = element('table', { id: 'table-shift' }, caption, element('thead', {}, head), body)
  return element('div', { class: 'table', tabindex: 0, role: 'region', 'aria-label': 'Shift, table' }, table)
}

function unitOf(at: number, count: number): string {
  return at === count - 1 ? 'cells' : 'tools'
}
