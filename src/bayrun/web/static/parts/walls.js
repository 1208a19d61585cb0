/** One wall: its framing facts, its openings, moving it, taking it away; several at once by kind of fact. */
import { html, useState } from '../ui.js';
import { OPENING_KINDS, WALL_KINDS } from './draw.js';
import { LengthField, inches } from './locations.js';

/**
 * @typedef {import('../desk.js').Desk} Desk
 * @typedef {import('../types').Wall} Wall
 */

/** @param {{desk: Desk, wall: Wall}} props */
export function WallCard({ desk, wall }) {
  const { house, plan } = desk.state;
  const here = house.locations.filter((q) => q.wall === wall.id);
  const gaps = house.openings.filter((o) => o.wall === wall.id);
  const holes = plan?.holes.filter((hole) => hole.place.includes(`(${wall.id})`)) ?? [];
  const alike = house.walls.filter((w) => w.kind === wall.kind && w.level === wall.level).map((w) => w.id);
  const [all, setAll] = useState(false);
  const [by, setBy] = useState('');
  const [bad, setBad] = useState('');
  const [kind, setKind] = useState('door');
  const [wide, setWide] = useState('32"');
  const [at, setAt] = useState('');
  const whom = all ? alike.join(', ') : wall.id;
  /** @param {string} fact @param {string} value */
  const set = (fact, value) => desk.edit('set_wall', [whom, fact, value], `${fact}: ${value}`);
  /** @param {Event} event @param {() => Promise<unknown>} act */
  async function send(event, act) {
    event.preventDefault();
    try { setBad(''); await act(); } catch (error) { setBad(error instanceof Error ? error.message : String(error)); }
  }
  const left = wall.left.join(', ') || 'left';
  const right = wall.right.join(', ') || 'right';
  return html`
    <section class="card" aria-labelledby="wall-head">
      <h2 id="wall-head">${wall.name}</h2>
      <p class="place">${wall.length} long, level ${wall.level}</p>
      ${alike.length > 1 && html`<label class="check"><input type="checkbox" checked=${all} onChange=${(/** @type {any} */ e) => setAll(e.target.checked)} /> Change all ${alike.length} walls of its kind on this level</label>`}
      <div class="field"><label for="wall-kind">Kind</label>
        <select id="wall-kind" value=${wall.kind} onChange=${(/** @type {any} */ e) => set('kind', e.target.value)}>
          ${[...new Set([wall.kind, ...WALL_KINDS])].map((k) => html`<option key=${k}>${k}</option>`)}</select></div>
      <div class="field"><label for="wall-bearing">Carries load</label>
        <select id="wall-bearing" value=${wall.bearing} onChange=${(/** @type {any} */ e) => set('bearing', e.target.value)}>
          ${[['bearing', 'yes'], ['not bearing', 'no'], ['nobody said: counts as bearing', 'nobody said']].map(([words, value]) => html`<option key=${value} value=${value} selected=${wall.bearing === words}>${words}</option>`)}</select></div>
      ${wall.framed && html`
        <${LengthField} desk=${desk} label="Studs on center" value=${`${wall.spacing}"`} change=${(/** @type {number} */ to) => set('spacing', `${to}"`)} />
        <${LengthField} desk=${desk} label="First layout center from the plate end" value=${wall.first_mark} change=${(/** @type {number} */ to) => set('first mark', `${to}"`)} />
        <div class="field"><label for="wall-origin">Laid out from its</label>
          <select id="wall-origin" value=${wall.laid_out_from} onChange=${(/** @type {any} */ e) => set('laid out from', e.target.value)}><option>start</option><option>end</option></select></div>`}
      <form class="row-field" onSubmit=${(/** @type {Event} */ e) => send(e, async () => { if (await desk.edit('move_wall', [wall.id, await inches(by)], `move the wall`)) setBy(''); })}>
        <label for="wall-by">Move toward ${left} (or −, toward ${right})</label>
        <input id="wall-by" value=${by} placeholder='6"' onInput=${(/** @type {any} */ e) => setBy(e.target.value)} /><button disabled=${!by}>Move</button>
      </form>
      <h3>Openings</h3>
      <ul class="plain">${gaps.map((o) => html`<li key=${o.id}><button class="row" onClick=${() => desk.choose({ what: 'opening', id: o.id })}><b>${o.id}</b> ${o.says}</button></li>`)}</ul>
      <form onSubmit=${(/** @type {Event} */ e) => send(e, async () => { const [a, w] = [await inches(at), await inches(wide)]; if (await desk.edit('add_opening', [wall.id, kind, a, w], `a ${kind}`)) setAt(''); })}>
        <div class="two">
          <div class="field"><label for="gap-kind">Another</label><select id="gap-kind" value=${kind} onChange=${(/** @type {any} */ e) => setKind(e.target.value)}>${OPENING_KINDS.map((k) => html`<option key=${k}>${k}</option>`)}</select></div>
          <div class="field"><label for="gap-wide">Wide</label><input id="gap-wide" value=${wide} onInput=${(/** @type {any} */ e) => setWide(e.target.value)} /></div>
        </div>
        <div class="row-field"><label for="gap-at">Its middle, from the wall's start</label><input id="gap-at" value=${at} placeholder="4' 6" onInput=${(/** @type {any} */ e) => setAt(e.target.value)} /><button disabled=${!at}>Add</button></div>
      </form>
      ${bad && html`<p class="bad" role="alert">${bad}</p>`}
      ${here.length > 0 && html`<h3>Locations</h3><p class="chips">${here.map((q) => html`<button key=${q.id} class="chip" onClick=${() => desk.choose({ what: 'location', id: q.id })}>${q.id}</button>`)}</p>`}
      ${holes.length > 0 && html`<h3>Holes</h3><p class="chips">${holes.map((q) => html`<button key=${q.id} class="chip" onClick=${() => desk.choose({ what: 'hole', id: q.id })}>${q.id}</button>`)}</p>`}
      <div class="do"><button class="grave" onClick=${() => desk.edit('remove_wall', [wall.id], `take ${wall.name} away`).then((done) => { if (done) desk.choose({ what: 'nothing' }); })}>Take this wall away</button></div>
    </section>`;
}

/** Walls and rooms of the level, for who does not point at the plan. @param {{desk: Desk}} props */
export function WallsList({ desk }) {
  const { house, level } = desk.state;
  const walls = house.walls.filter((w) => w.level === level);
  const rooms = house.rooms.filter((r) => r.level === level);
  if (walls.length === 0) return null;
  return html`
    <details class="card">
      <summary><h2>Rooms and walls on level ${level}</h2></summary>
      <h3>Rooms</h3>
      <p class="chips">${rooms.map((r) => html`<button key=${r.name} class="chip" onClick=${() => desk.choose({ what: 'room', id: `${r.level}/${r.name}` })}>${r.name}</button>`)}</p>
      <h3>Walls</h3>
      <ul class="plain">${walls.map((w) => html`<li key=${w.id}><button class="row" onClick=${() => desk.choose({ what: 'wall', id: w.id })}><b>${w.id}</b> ${w.name}, ${w.length}</button></li>`)}</ul>
    </details>`;
}
