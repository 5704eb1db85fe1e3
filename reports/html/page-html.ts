import { createHash } from 'node:crypto'
import type { KeyFigure, Page, Section } from '../view/page.ts'
import { assumptionsHtml } from './assumptions-html.ts'
import { html, jsonBlock, type Markup, scriptBlock, styleBlock } from './markup.ts'
import { tableHtml } from './table-html.ts'

/** What runs and what dresses a page; both go into it. */
export interface PageAssets {
  readonly script: string
  readonly style: string
}

/**
 * A page as one self-contained HTML text. Its policy allows no request at all, and no
 * script but the one it carries.
 */
export function pageHtml(page: Page, assets: PageAssets): string {
  const script = scriptBlock(assets.script)
  const hash = createHash('sha256').update(script.text).digest('base64')
  const policy = `default-src 'none'; script-src 'sha256-${hash}'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'`
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="generator" content="linewright">
<title>${page.title}: ${page.answer[0]}</title>
<style>${styleBlock(assets.style)}</style>
</head>
<body>
<a class="skip" href="#content">To the result</a>
${top(page)}
<main id="content">
${firstScreen(page)}
${contents(page)}
${page.sections.map(sectionHtml)}
${page.shift && shiftHtml()}
${assumptionsHtml(page.assumptions)}
<section class="block" id="cautions" aria-labelledby="cautions-title">
<h2 id="cautions-title">Cautions</h2>
<p class="caution">${page.caution}</p>
</section>
</main>
<div id="said" class="unseen" role="status" aria-live="polite"></div>
<script type="application/json" id="page-data">${jsonBlock(dataOf(page))}</script>
<script>${script}</script>
</body>
</html>
`.text
}

/** What the script draws; all else is in the markup. */
function dataOf(page: Page) {
  const charts = page.sections.filter(({ chart }) => chart).map(({ id, chart }) => [id, chart])
  return { picture: page.picture, shift: page.shift, charts: Object.fromEntries(charts) }
}

function top(page: Page): Markup {
  return html`<header class="top">
<p class="made"><b>Linewright</b> ${page.command}</p>
<h1>${page.title}</h1>
<button type="button" id="scheme" class="quiet" aria-label="Colours: as the system has them">◐</button>
</header>`
}

function firstScreen(page: Page): Markup {
  const [answer, ...more] = page.answer
  return html`<section class="first" id="result" aria-label="Result">
<div class="answer"><p class="says">${answer}</p>
${more.map(sentence => html`<p class="limit">${sentence}</p>`)}</div>
<dl class="figures">${page.figures.map(figureHtml)}</dl>
${page.warnings.length > 0 ? warnings(page) : undefined}
${page.picture && pictureHtml(page.picture.words)}
</section>`
}

function figureHtml({ label, figure, unit, note, estimate, scale }: KeyFigure): Markup {
  const interval = figure.interval === '' ? undefined : html`<span class="interval">${figure.interval}</span>`
  const value = estimate.n === 0 ? '' : estimate.mean * scale
  return html`<div class="figure"><dt>${label}</dt>
<dd><data value="${value}">${figure.text}</data> <span class="unit">${unit}</span>${interval}${note === undefined ? undefined : html`<span class="note">${note}</span>`}</dd></div>`
}

function warnings(page: Page): Markup {
  return html`<ul class="warnings">${page.warnings.map(({ text, hint }) => html`<li><b>Warning.</b> ${text} ${hint}</li>`)}</ul>`
}

function pictureHtml(words: string): Markup {
  return html`<figure class="line" id="line">
<div class="picture" id="picture" tabindex="0" role="group" aria-roledescription="drawing of the line" aria-label="${words} Arrow keys go from item to item."></div>
<figcaption><div class="legend" id="picture-legend"></div><p class="readout" id="picture-readout"></p></figcaption>
</figure>`
}

function contents(page: Page): Markup {
  const links = page.sections.map(({ id, title }) => html`<li><a href="#${id}">${title}</a></li>`)
  const shift = page.shift && html`<li><a href="#shift">One shift, played</a></li>`
  return html`<nav class="contents" aria-label="Contents"><ul>${links}${shift}<li><a href="#scenario">What it rests on</a></li><li><a href="#cautions">Cautions</a></li></ul></nav>`
}

function sectionHtml({ id, title, lead, chart, table }: Section): Markup {
  const drawn =
    chart &&
    html`<figure class="chart" data-chart="${id}">
<figcaption class="chart-title">${chart.title}</figcaption>
<div class="legend"></div>
<div class="canvas" tabindex="0" role="group" aria-roledescription="chart" aria-label="${chart.title}. Arrow keys go from value to value; the table below has them all."></div>
<p class="readout"></p>
</figure>`
  const behind =
    table &&
    html`<details class="numbers"${chart ? undefined : html` open`}><summary>Table: ${table.caption}</summary>
<p class="tools"></p>${tableHtml(table, `table-${id}`)}</details>`
  return html`<section class="block" id="${id}" aria-labelledby="${id}-title">
<h2 id="${id}-title">${title}</h2>
<p class="lead">${lead}</p>
${drawn}${behind}
</section>
`
}

function shiftHtml(): Markup {
  return html`<section class="block" id="shift" aria-labelledby="shift-title">
<h2 id="shift-title">One shift, played</h2>
<p class="lead" id="shift-lead">A stretch of the first replication as it was simulated: the state of every tool and the wafers in every store, sample by sample. Nothing is filled in between samples.</p>
<div class="player" id="player" role="group" aria-label="Player of one shift"></div>
<details class="numbers"><summary>Table: what the tools did, and the output, through the shift</summary>
<p class="tools"></p><div id="shift-table"></div></details>
</section>`
}
