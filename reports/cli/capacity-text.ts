import type { CapacityRow } from '../../sim/line/capacity.ts'
import type { Colours } from '../terminal/summary.ts'
import { type Column, tableLines } from '../terminal/table.ts'
import { grouped, significant } from '../view/format.ts'
import { shortened, wrapped } from '../view/width.ts'

const WIDTH = 80
const NAME_WIDTH = 30

/**
 * The static capacity of a line as text of at most 80 columns: its answer first, then its titles.
 *
 * @param fed good cells an hour that the feed allows; undefined where it has no pace
 */
export function capacityText(
  titles: readonly string[],
  rows: readonly CapacityRow[],
  fed: number | undefined,
  colours: Colours,
): string {
  const withTarget = rows.some(row => row.target !== undefined)
  const paragraphs = [
    [lowestSentence(rows), ...feedSentence(rows, fed)]
      .flatMap(sentence => wrapped(sentence, WIDTH))
      .map(line => colours.bold(line)),
    titles.flatMap(title => wrapped(title, WIDTH)).map(line => colours.dim(line)),
    table(rows, withTarget),
    wrapped(explanation(withTarget, rows[0]?.openShare ?? 1), WIDTH).map(line => colours.dim(line)),
  ]
  return `${paragraphs.map(lines => lines.join('\n')).join('\n\n')}\n`
}

function lowestSentence(rows: readonly CapacityRow[]): string {
  const lowest = rows.filter(row => row.lowest)
  const [first] = lowest
  if (first === undefined) return 'The line has no steps.'
  const names = lowest.map(row => `"${shortened(row.step, NAME_WIDTH)}"`).join(', ')
  const allows = lowest.length === 1 ? 'allows' : 'allow'
  const load = first.target?.load
  const share = load === undefined ? '' : `, load ${grouped(load * 100, 1)} %`
  const against = load !== undefined && load > 1 ? `${share}: below the target` : share
  return `On paper ${names} ${allows} the fewest good cells: ${significant(first.goodPerHour, 4)}/h${against}.`
}

function feedSentence(rows: readonly CapacityRow[], fed: number | undefined): string[] {
  if (fed === undefined || rows.some(row => row.goodPerHour <= fed)) return []
  return [`The feed allows fewer still: ${significant(fed, 4)}/h.`]
}

function table(rows: readonly CapacityRow[], withTarget: boolean): string[] {
  const columns: Column[] = [
    { head: 'step', align: 'left' },
    { head: 'tools', align: 'right' },
    { head: 'one tool/h', align: 'right' },
    { head: 'up %', align: 'right' },
    { head: 'net/h', align: 'right' },
    { head: 'yield %', align: 'right' },
    { head: 'good/h', align: 'right' },
    ...(withTarget ? [{ head: 'load %', align: 'right' } as const] : []),
  ]
  const cells = rows.map(row => [
    row.step,
    grouped(row.tools, 0),
    significant(row.toolPerHour, 4),
    grouped(row.availability * 100, 1),
    significant(row.netPerHour, 4),
    grouped(row.yield * 100, 2),
    significant(row.goodPerHour, 4),
    ...(row.target === undefined ? [] : [grouped(row.target.load * 100, 1)]),
  ])
  return tableLines(WIDTH, columns, cells)
}

function explanation(withTarget: boolean, openShare: number): string {
  const load = withTarget ? ' A load above 100 % cannot make the target.' : ''
  return (
    `From mean values; tools do not wait on one another here. One tool: nameplate. Net: all tools, net of stops${openShare < 1 ? ', in an hour in which the line is open' : ''}. ` +
    `Good: good cells if this step alone limited the line${openShare < 1 ? `, over all hours, of which it is open ${grouped(openShare * 100, 1)} %` : ''}.${load} What the line makes is less: run it.`
  )
}
