import { pageAssets } from '../../../reports/cli/page-assets.ts'
import { pageHtml } from '../../../reports/html/page-html.ts'
import { answerPage, type PageParts } from '../../../reports/view/answer-pages/answer-page.ts'
import { compareParts } from '../../../reports/view/answer-pages/compare-page.ts'
import { constraintParts } from '../../../reports/view/answer-pages/constraint-page.ts'
import { curveParts } from '../../../reports/view/answer-pages/curve-page.ts'
import { lossesParts } from '../../../reports/view/answer-pages/losses-page.ts'
import { paybackParts } from '../../../reports/view/answer-pages/payback-page.ts'
import { sizeParts } from '../../../reports/view/answer-pages/size-page.ts'
import { checkLine } from '../../../sim/line/check.ts'
import type { Line, Money } from '../../../sim/line/types.ts'
import { compareDesigns } from '../../../sim/study/compare/compare.ts'
import { constraintStudy } from '../../../sim/study/constraint/constraint.ts'
import { inProcessRunner } from '../../../sim/study/in-process.ts'
import { curveStudy, spacedValues, type Varied } from '../../../sim/study/losses/curve.ts'
import { lossesStudy } from '../../../sim/study/losses/losses.ts'
import { variedOf } from '../../../sim/study/losses/varied.ts'
import { paybackStudy } from '../../../sim/study/payback/payback.ts'
import { sizeStudy } from '../../../sim/study/size/size.ts'

/** A line of two steps, one of them slow, with all the money that the studies ask for; figures are invented. */
const given: Line = {
  line: 'Two steps and <b>money</b>',
  from: 'invented',
  target: '1500 wafers/h',
  wafer: { area: '330 cm2', efficiency: { mean: '23 %' } },
  route: [
    {
      step: 'coat',
      cycle: { exponential: '2 s' },
      breakage: '0.3 %',
      stops: [{ stop: 'jam', every: { exponential: '30 min' }, lasts: { exponential: '3 min' } }],
    },
    { buffer: 'store', capacity: 20 },
    { step: 'print', tools: 2, cycle: { exponential: '5.2 s' } },
  ],
  money: {
    currency: 'EUR',
    pricePerCell: 0.7,
    wafer: 0.4,
    discountRate: '8 %',
    years: 7,
    tools: { coat: { price: 400_000, upkeep: '4 %' }, print: { price: 250_000, upkeep: '4 %' } },
    places: { store: 40 },
  },
  sizing: { tools: { coat: [1, 2], print: [1, 4] }, buffers: { store: [10, 20, 80] } },
}

const options = {
  days: 0.3,
  replications: 4,
  seed: 'studies',
  drive: 'eager' as const,
  level: 0.95,
  version: '0.1.0',
}

/** A study with its page, by the name of its command. */
export interface StudyPage {
  readonly name: string
  readonly study: object
  readonly html: string
}

/** A small study of each kind and its page. The words are stand-ins: pages take them from the views of the answers. */
export async function studyPages(): Promise<StudyPage[]> {
  const { line, problems } = checkLine(given)
  if (!line) throw new Error(JSON.stringify(problems))
  const priced = line as Line & { readonly money: Money }
  const means = { runner: inProcessRunner() }
  const words = {
    headline: ['One sentence.', 'Another.'],
    warnings: [{ text: 'Something to know.', hint: 'What helps.' }],
    basis: ['Basis.'],
    notes: ['A note.'],
    caution: 'Care.',
  }
  const { script, style } = await pageAssets()
  const page = (name: string, study: object, parts: PageParts): StudyPage => {
    const context = {
      name,
      line,
      fingerprint: '0123456789ab',
      seed: options.seed,
      version: options.version,
      command: `linewright ${name} a.ts`,
    }
    return { name, study, html: pageHtml(answerPage(words, parts, context), { script, style }) }
  }
  const varied = variedOf(line, 'stop jam: lasts') as Varied
  const faster = checkLine({ ...given, line: 'three printers', route: withPrinters(3) }).line as Line
  const designs = [
    { name: 'as it is', line },
    { name: 'three printers', line: faster },
  ]
  const constraint = await constraintStudy(line, options, means)
  const losses = await lossesStudy(line, options, means)
  const curve = await curveStudy(line, varied, spacedValues(varied, 60, 600, 4), options, means)
  const payback = await paybackStudy(priced, options, means)
  const goal = { targetPerHour: 1450, tolerance: 15, most: 12 }
  const size = await sizeStudy(priced, goal, { ...options, days: 0.1, replications: 3 }, means)
  const compare = await compareDesigns(designs, options, means)
  return [
    page('constraint', constraint, constraintParts(constraint, line)),
    page('losses', losses, lossesParts(losses, line)),
    page('curve', curve, curveParts(curve, line)),
    page('payback', payback, paybackParts(payback, line)),
    page('size', size, sizeParts(size, line)),
    page('compare', compare, compareParts(compare, line)),
  ]
}

function withPrinters(tools: number): Line['route'] {
  return given.route.map(item => ('step' in item && item.step === 'print' ? { ...item, tools } : item))
}
