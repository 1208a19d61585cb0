/** Findings: the list, and one finding with what was measured, the limit, the source and its fixes. */
import { Words, html, useState } from '../ui.js';

/** @typedef {import('../types').Finding} Finding */

/** @type {Record<string, string>} */
const MANY = { stop: 'stops', 'fix soon': 'to fix soon', 'cannot tell': 'cannot tell', note: 'notes' };
const ORDER = ['stop', 'fix soon', 'cannot tell', 'note'];

/** The mark of a severity: filled, half, open square, question; the word is always beside it. @param {{severity: string}} props */
export function Mark({ severity }) {
  return html`<span class=${`mark mark-${severity.replace(' ', '-')}`} aria-hidden="true"></span>`;
}

/** @param {{desk: import('../desk.js').Desk}} props */
export function FindingsList({ desk }) {
  const { plan, working } = desk.state;
  const [only, setOnly] = useState('');
  if (!plan) return html`<section class="card"><h2>Findings</h2><p class="faint">${working ? 'They come with the plan.' : 'No plan yet.'}</p></section>`;
  const counts = ORDER.map((severity) => /** @type {[string, number]} */ ([severity, plan.findings.filter((f) => f.severity === severity).length]));
  const shown = plan.findings.filter((f) => !only || f.severity === only);
  return html`
    <section class="card" aria-labelledby="findings-head">
      <h2 id="findings-head">Findings</h2>
      <div class="chips" role="group" aria-label="Show only">
        ${counts.filter(([, n]) => n > 0).map(([severity, n]) => html`
          <button key=${severity} class="chip" aria-pressed=${only === severity} onClick=${() => setOnly(only === severity ? '' : severity)}>
            <${Mark} severity=${severity} /> ${n} ${n > 1 ? MANY[severity] : severity}
          </button>`)}
      </div>
      ${plan.unreached.length > 0 && html`
        <ul class="plain">${plan.unreached.map((u) => html`<li key=${u.run}><${Mark} severity="stop" /> <b>${u.run}</b> has no way: it came to ${u.last_place}; ${u.barred_by}</li>`)}</ul>`}
      ${plan.findings.length === 0 && html`<p>Nothing found: every rule that could be judged is kept. The inspector has the last word.</p>`}
      <ol class="findings">
        ${shown.map((finding) => html`
          <li key=${finding.id}>
            <button class="row" onClick=${() => desk.choose({ what: 'finding', id: finding.id })}>
              <span class="row-head"><${Mark} severity=${finding.severity} /> <b>${finding.severity}</b>${finding.since === 'by your edit' ? html` <em>by your edit</em>` : ''}</span>
              <span class="row-place"><${Words} text=${finding.place} /></span>
              <span class="row-says"><${Words} text=${finding.says} /></span>
            </button>
          </li>`)}
      </ol>
    </section>`;
}

/** @param {{desk: import('../desk.js').Desk, finding: Finding}} props */
export function FindingCard({ desk, finding }) {
  return html`
    <section class="card finding" aria-labelledby="finding-head">
      <h2 id="finding-head"><${Mark} severity=${finding.severity} /> ${finding.severity}</h2>
      <p class="place"><${Words} text=${finding.place} /></p>
      <p><${Words} text=${finding.says} /></p>
      <dl class="facts">
        ${finding.measured && html`<dt>Measured</dt><dd>${finding.measured}</dd>`}
        ${finding.limit && html`<dt>Limit</dt><dd>${finding.limit}</dd>`}
        ${finding.source && html`<dt>Source</dt><dd>${finding.source}</dd>`}
        <dt>Rule</dt><dd>${finding.rule}</dd>
        ${finding.since && html`<dt>Since</dt><dd>${finding.since}</dd>`}
      </dl>
      ${finding.fixes.length > 0 ? html`<h3>What cures it</h3>` : html`<p class="faint">No fix can be offered: it takes a person's answer or another plan.</p>`}
      ${finding.fixes.map((fix, i) => html`
        <button key=${i} class="fix" onClick=${async () => { if (await desk.applyFix(finding, i)) desk.choose({ what: 'nothing' }); }}>
          ${fix.says}${fix.request_to ? html` <em>(asks the ${fix.request_to}; the finding stays until the answer is written down)</em>` : ''}
        </button>`)}
    </section>`;
}
