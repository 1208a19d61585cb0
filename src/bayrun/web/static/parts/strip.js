/** The result strip: what the plan comes to, what the last edit changed, what is being done. */
import { countOf } from '../lengths.js';
import { html, useState } from '../ui.js';

/** @param {{desk: import('../desk.js').Desk}} props */
export function Strip({ desk }) {
  const { plan, working, trouble, said, planned, job } = desk.state;
  const [why, setWhy] = useState('');
  const t = plan?.totals;
  /** @type {[string, string, string][]} */
  const numbers = !t ? [] : [
    ['runs', t.runs.toLocaleString('en-US'), t.unreached ? `runs, ${t.unreached} with no way` : t.runs === 1 ? 'run' : 'runs'],
    ['feet', Math.round(t.feet).toLocaleString('en-US'), 'feet of cable'],
    ['holes', `${t.holes}`, t.holes === 1 ? 'hole' : 'holes'],
    ['plates', `${t.plates}`, t.plates === 1 ? 'nail plate' : 'nail plates'],
    ['stops', `${t.stops}`, t.stops === 1 ? 'stop' : 'stops'],
    ['price', t.price, `${t.currency} of material`],
  ];
  const old = planned !== null && planned !== job.version;
  return html`
    <footer class="strip" aria-label="Result">
      <div class=${`numbers${old || working ? ' old' : ''}`}>
        ${numbers.map(([name, value, words]) => html`
          <button key=${name} class=${`number ${name === 'stops' && t && t.stops ? 'has-stops' : ''}`} aria-expanded=${why === name}
            onClick=${() => setWhy(why === name ? '' : name)} title="Why this number?">
            <b>${value}</b> <span>${words}</span>
          </button>`)}
      </div>
      <p class="strip-said" role="status" aria-live="polite">
        ${working ? html`<span class="working">${working.of > 1 ? `${working.says}: ${working.done} of ${working.of}` : `${working.says} …`}</span>`
          : trouble ? html`<span class="bad">${trouble}</span>`
          : said ? html`<span class=${said.bad ? 'bad' : ''}>${said.says}</span>${' '}${!said.bad && plan?.change ? html`<b>${plan.change}</b>` : ''}`
          : plan ? `${countOf(plan.findings.length, 'finding')}. Choose something on the plan, or a finding.`
          : ''}
      </p>
      ${t && why && html`<p class="why"><b>Why:</b> ${t.why[why]} <button class="quiet" onClick=${() => setWhy('')}>Close</button></p>`}
    </footer>`;
}
