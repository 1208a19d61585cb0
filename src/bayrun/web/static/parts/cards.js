/** Facts of what is chosen: a hole with its cross-section, a run, a wall, an enclosure place. */
import { Words, html } from '../ui.js';

/** @typedef {import('../desk.js').Desk} Desk */

/** A hole cut across, its cables to scale. @param {{hole: import('../types').Hole, kinds: Map<string, string>}} props */
function CrossSection({ hole, kinds }) {
  const r = hole.diameter / 2;
  const size = r * 2.3;
  return html`
    <svg class="section" viewBox=${`${-size / 2} ${-size / 2} ${size} ${size}`} role="img"
      aria-label=${`Hole ${hole.id}, ${hole.size} in, with ${hole.occupants.length} cables in it`}>
      <circle cx="0" cy="0" r=${r} class="section-hole" stroke-width=${size / 160} />
      ${hole.circles.map(([x, y, cable], i) => html`
        <g key=${i}>
          <circle cx=${x} cy=${-y} r=${cable} class="section-cable" stroke-width=${size / 220} />
          <text x=${x} y=${-y} font-size=${Math.min(cable * 1.1, size / 9)} text-anchor="middle" dominant-baseline="central">${kinds.get(hole.occupants[i]) ?? ''}</text>
        </g>`)}
    </svg>`;
}

/** @param {{desk: Desk, hole: import('../types').Hole}} props */
export function HoleCard({ desk, hole }) {
  const kinds = new Map(desk.state.plan?.runs.map((run) => [run.id, run.kind]));
  const area = hole.circles.reduce((sum, [, , r]) => sum + r * r, 0) / ((hole.diameter / 2) ** 2);
  return html`
    <section class="card" aria-labelledby="hole-head">
      <h2 id="hole-head">${hole.id}: ${hole.open ? 'way through, nothing to drill' : `${hole.size} in hole`}</h2>
      <p class="place"><${Words} text=${hole.place} /></p>
      ${hole.circles.length > 0 && html`<${CrossSection} hole=${hole} kinds=${kinds} />`}
      <dl class="facts">
        <dt>Cables</dt><dd>${hole.occupants.length}</dd>
        ${!hole.open && html`<dt>Filled</dt><dd>${Math.round(area * 100)} % of its area</dd>`}
        ${hole.steel.map((words, i) => html`<dt key=${i}>Steel</dt><dd>${words}</dd>`)}
      </dl>
      <p class="faint">Look above, below and behind before drilling.</p>
      <h3>Runs in it</h3>
      <ul class="plain">${hole.occupants.map((id) => html`<li key=${id}><button class="row" onClick=${() => desk.choose({ what: 'run', id })}><b>${id}</b></button></li>`)}</ul>
    </section>`;
}

/** @param {{desk: Desk, run: import('../types').Run}} props */
export function RunCard({ desk, run }) {
  return html`
    <section class="card" aria-labelledby="run-head">
      <h2 id="run-head">${run.id}: ${run.length}</h2>
      <p class="place">${run.from} to ${run.to}</p>
      <p><${Words} text=${run.way} /></p>
      ${run.reason && html`<p>${run.reason}</p>`}
      <p class="faint"><b>Why this length:</b> ${run.why}.</p>
      ${run.holes.length > 0 && html`
        <h3>Through</h3>
        <p class="chips">${run.holes.map((id) => html`<button key=${id} class="chip" onClick=${() => desk.choose({ what: 'hole', id })}>${id}</button>`)}</p>`}
    </section>`;
}

/** @param {{desk: Desk, obstacle: import('../types').Obstacle}} props */
export function ObstacleCard({ desk, obstacle }) {
  return html`
    <section class="card" aria-labelledby="obstacle-head">
      <h2 id="obstacle-head">${obstacle.kind}</h2>
      <p>Of another trade: cables and holes keep clear of it.</p>
      <button class="grave" onClick=${() => desk.edit('remove_obstacle', [obstacle.id], `take ${obstacle.kind} away`).then((done) => { if (done) desk.choose({ what: 'nothing' }); })}>Take it away</button>
    </section>`;
}

/** @param {{desk: Desk, enclosure: import('../types').Enclosure}} props */
export function EnclosureCard({ desk, enclosure }) {
  const { house } = desk.state;
  const others = house.enclosures.filter((e) => e.id !== enclosure.id);
  return html`
    <section class="card" aria-labelledby="enclosure-head">
      <h2 id="enclosure-head">${enclosure.id}, ${enclosure.room}</h2>
      <p>${enclosure.chosen ? 'The place the plan goes with.' : 'Another place for the enclosure.'}</p>
      <p>${enclosure.says}</p>
      <p class="faint">The 120 V feed, its receptacle and every connection are the licensed electrician's.</p>
      ${!enclosure.chosen && html`<button onClick=${() => desk.edit('choose_enclosure', [enclosure.id], `the enclosure in ${enclosure.room}`)}>Plan with this place</button>`}
      ${others.length > 0 && html`<h3>Other places</h3><ul class="plain">${others.map((e) => html`
        <li key=${e.id}><button class="row" onClick=${() => desk.choose({ what: 'enclosure', id: e.id })}><b>${e.id}</b> ${e.room}, level ${e.level}</button></li>`)}</ul>`}
    </section>`;
}
