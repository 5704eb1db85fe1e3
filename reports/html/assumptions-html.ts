import type { Assumptions } from '../view/page.ts'
import { html, type Markup } from './markup.ts'

/** What the figures rest on: the scenario in words, where its figures come from, how they were estimated. */
export function assumptionsHtml(given: Assumptions): Markup {
  return html`<section class="block" id="scenario" aria-labelledby="scenario-title">
<h2 id="scenario-title">What it rests on</h2>
${given.about.map(text => html`<p>${text}</p>`)}
<div class="pair">
<div><h3>How to get the same figures again</h3>
<dl class="facts">${given.facts.map(({ name, text }) => html`<dt>${name}</dt><dd>${text}</dd>`)}</dl></div>
<div><h3>Statistics</h3>
<ul>${given.statistics.map(text => html`<li>${text}</li>`)}</ul></div>
</div>
${given.sources.length > 0 ? sources(given) : undefined}
${given.items.length > 0 ? items(given) : undefined}
</section>`
}

function sources({ sources: list }: Assumptions): Markup {
  return html`<h3>Where the assumptions come from</h3>
<ul class="sources">${list.map(({ from, times }) => html`<li><b>${times}</b> ${from}</li>`)}</ul>`
}

function items({ items: list }: Assumptions): Markup {
  return html`<details class="numbers"><summary>Table: every assumption of the scenario, in words</summary>
<p class="tools"></p>
<div class="table" tabindex="0" role="region" aria-label="Assumptions of the scenario, table">
<table id="table-scenario"><caption>Assumptions of the scenario</caption>
<thead><tr><th scope="col" class="text" data-head="item" data-unit="">item</th><th scope="col" class="text" data-head="kind" data-unit="">kind</th><th scope="col" class="text" data-head="assumed" data-unit="">assumed</th><th scope="col" class="text" data-head="from" data-unit="">from</th></tr></thead>
<tbody>
${list.map(({ item, kind, says, from }) => html`<tr><th scope="row">${item}</th><td class="text">${kind}</td><td class="text">${says.join('; ')}</td><td class="text">${from}</td></tr>\n`)}</tbody>
</table></div></details>`
}
