/** What can be drawn: the words that begin it with their keys, and the form beside each. */
import { html, useState } from '../ui.js';
import { GRIDS } from './plan_board.js';
import { PlaceForm, inches } from './locations.js';

/**
 * @typedef {import('../desk.js').Desk} Desk
 * @typedef {import('../types').Doing} Doing
 */

/** @type {Record<string, Doing['what']>} */
export const KEYS = { l: 'place', w: 'wall', o: 'opening', t: 'trade', e: 'enclosure' };

/** Begin drawing something: on the plan, whatever view was open. @param {Desk} desk @param {Doing['what']} what */
export function begin(desk, what) {
  desk.set({ doing: { ...desk.state.doing, what }, choice: { what: 'nothing' } });
  location.hash = `#/job/${desk.state.job.id}/plan`;
}

export const WALL_KINDS = ['outside 2x6', 'outside 2x4', 'inside 2x4', 'inside 2x6'];
export const OPENING_KINDS = ['door', 'outside door', 'cased opening', 'window', 'overhead door'];
const FRAME_KINDS = ['roof trusses', 'ceiling joists', 'sawn joists', 'I-joists', 'open-web floor trusses'];
const SPACING = /** @type {Record<string, string>} */ ({ 'roof trusses': '24"', 'open-web floor trusses': '19.2"' });
const TRADES = ['duct', 'vent pipe', 'water pipe', 'gas pipe', 'flue', 'kitchen cabinets', 'power panel', 'water heater'];

/** @param {{desk: Desk}} props */
export function DrawMenu({ desk }) {
  const { house } = desk.state;
  /** @type {[Doing['what'], string, string][]} */
  const words = [['place', 'Place a location', 'L'], ['wall', 'Draw walls', 'W'], ['opening', 'Doors and windows', 'O'], ['trade', 'Mark another trade', 'T'], ['enclosure', house.enclosures.length ? 'Move the enclosure' : 'Place the enclosure', 'E']];
  const empty = house.walls.length === 0;
  return html`
    <section class="card" aria-labelledby="do-head">
      <h2 id="do-head">What to do</h2>
      ${empty && html`<p>Draw the outside walls first, then the inside ones. Rooms are found by themselves. Then doors, what lies overhead, the enclosure, locations.</p>`}
      <div class="menu">
        ${words.map(([what, says, key]) => html`<button key=${what} disabled=${empty && what !== 'wall'} onClick=${() => begin(desk, what)}>${says} <kbd>${key}</kbd></button>`)}
      </div>
      <${Overhead} desk=${desk} />
    </section>`;
}

/** Joists, trusses and levels: facts of the house that are not touched on the plan. @param {{desk: Desk}} props */
function Overhead({ desk }) {
  const { house, level } = desk.state;
  const frame = house.frames.find((f) => f.above === level);
  const [kind, setKind] = useState(frame?.kind ?? 'roof trusses');
  const [way, setWay] = useState(frame?.direction ?? 'y');
  const [spacing, setSpacing] = useState('24"');
  const [name, setName] = useState('');
  const [plates, setPlates] = useState("8' 1-1/8\"");
  const [bad, setBad] = useState('');
  /** @param {() => Promise<unknown>} act */
  const send = async (act) => { try { setBad(''); await act(); } catch (error) { setBad(error instanceof Error ? error.message : String(error)); } };
  return html`
    <details>
      <summary>Overhead, and levels</summary>
      <form onSubmit=${(/** @type {Event} */ e) => { e.preventDefault(); void send(async () => desk.edit('lay_frame', [level, kind, way, await inches(spacing)], `${kind} over level ${level}`)); }}>
        <h3>Over level ${level}${frame ? `: ${frame.kind} now` : ': nothing yet'}</h3>
        <div class="field"><label for="frame-kind">Kind</label>
          <select id="frame-kind" value=${kind} onChange=${(/** @type {any} */ e) => { setKind(e.target.value); setSpacing(SPACING[e.target.value] ?? '16"'); }}>${FRAME_KINDS.map((k) => html`<option key=${k}>${k}</option>`)}</select></div>
        <div class="field"><label for="frame-way">Members run</label>
          <select id="frame-way" value=${way} onChange=${(/** @type {any} */ e) => setWay(e.target.value)}><option value="x">along the front (left to right)</option><option value="y">front to back</option></select></div>
        <div class="field"><label for="frame-spacing">On center</label><input id="frame-spacing" value=${spacing} onInput=${(/** @type {any} */ e) => setSpacing(e.target.value)} /></div>
        <button disabled=${!house.walls.some((w) => w.level === level)}>Lay them over level ${level}</button>
      </form>
      <form onSubmit=${(/** @type {Event} */ e) => { e.preventDefault(); void send(async () => { if (await desk.edit('add_level', [name.trim(), await inches(plates)], `level ${name} on top`)) { desk.set({ level: name.trim() }); setName(''); } }); }}>
        <h3>One level more, on top</h3>
        <div class="field"><label for="level-name">Its name</label><input id="level-name" maxlength="12" value=${name} placeholder="2" onInput=${(/** @type {any} */ e) => setName(e.target.value)} /></div>
        <div class="field"><label for="level-plates">Top of its plates above the subfloor</label><input id="level-plates" value=${plates} onInput=${(/** @type {any} */ e) => setPlates(e.target.value)} /></div>
        <button disabled=${!name.trim()}>Add the level</button>
      </form>
      ${bad && html`<p class="bad" role="alert">${bad}</p>`}
    </details>`;
}

/** The form of what is being drawn. @param {{desk: Desk}} props */
export function DoingForm({ desk }) {
  const { doing } = desk.state;
  const done = html`<button class="quiet back" onClick=${() => desk.set({ doing: { ...doing, what: 'look' } })}>Done <kbd>Esc</kbd></button>`;
  /** @type {Record<string, any>} */
  const forms = { place: PlaceForm, wall: WallForm, opening: OpeningForm, trade: TradeForm, enclosure: EnclosureForm };
  const Form = forms[doing.what];
  return html`<${Form} desk=${desk} />${done}`;
}

/** @param {{desk: Desk, name: keyof Doing, label: string, list: string[]}} props */
function Pick({ desk, name, label, list }) {
  const { doing } = desk.state;
  return html`<div class="field"><label for=${`do-${name}`}>${label}</label>
    <select id=${`do-${name}`} value=${doing[name]} onChange=${(/** @type {any} */ e) => desk.set({ doing: { ...doing, [name]: e.target.value } })}>
      ${list.map((one) => html`<option key=${one}>${one}</option>`)}
    </select></div>`;
}

/** @param {{desk: Desk}} props */
function WallForm({ desk }) {
  const [length, setLength] = useState('');
  const [from, setFrom] = useState("0', 0'");
  const [way, setWay] = useState('right');
  const [bad, setBad] = useState('');
  /** @param {Event} event @param {boolean} here */
  async function send(event, here) {
    event.preventDefault();
    try {
      setBad('');
      const far = await inches(length);
      if (here && desk.reach?.(far)) { setLength(''); return; }
      if (here) { setBad('Touch where the wall begins first, then type its length; or say all of it below.'); return; }
      const [x, y] = await Promise.all(from.split(',').map((part) => inches(part)));
      const [dx, dy] = /** @type {Record<string, number[]>} */ ({ right: [1, 0], left: [-1, 0], back: [0, 1], front: [0, -1] })[way];
      const end = [x + dx * far, y + dy * far];
      if (await desk.edit('add_wall', [desk.state.level, x, y, end[0], end[1], desk.state.doing.wallKind], 'draw a wall')) {
        setFrom(end.map((v) => `${v}"`).join(', '));
      }
    } catch (error) {
      setBad(error instanceof Error ? error.message : String(error));
    }
  }
  return html`
    <section class="card" aria-labelledby="wall-form">
      <h2 id="wall-form">Draw walls</h2>
      <p>By their center lines: touch where one begins and where it ends. The next one goes on from there; touching a wall, or the same place again, ends the row.</p>
      <${Pick} desk=${desk} name="wallKind" label="Kind" list=${WALL_KINDS} />
      <${Pick} desk=${desk} name="grid" label="Points fall on every" list=${Object.keys(GRIDS)} />
      <form onSubmit=${(/** @type {Event} */ e) => send(e, true)}>
        <div class="field"><label for="wall-length">Length of this wall</label>
          <input id="wall-length" value=${length} placeholder="12' 6" onInput=${(/** @type {any} */ e) => setLength(e.target.value)} /></div>
      </form>
      <details><summary>Without a pointer</summary>
        <form onSubmit=${(/** @type {Event} */ e) => send(e, false)}>
          <div class="field"><label for="wall-from">From (right of, behind the front left corner)</label><input id="wall-from" value=${from} onInput=${(/** @type {any} */ e) => setFrom(e.target.value)} /></div>
          <div class="field"><label for="wall-way">Toward the</label>
            <select id="wall-way" value=${way} onChange=${(/** @type {any} */ e) => setWay(e.target.value)}>${['right', 'back', 'left', 'front'].map((w) => html`<option key=${w}>${w}</option>`)}</select></div>
          <div class="field"><label for="wall-far">Length</label><input id="wall-far" value=${length} placeholder="12' 6" onInput=${(/** @type {any} */ e) => setLength(e.target.value)} /></div>
          <button disabled=${!length}>Draw it</button>
        </form>
      </details>
      ${bad && html`<p class="bad" role="alert">${bad}</p>`}
    </section>`;
}

/** @param {{desk: Desk}} props */
function OpeningForm({ desk }) {
  const { doing } = desk.state;
  return html`
    <section class="card" aria-labelledby="opening-form">
      <h2 id="opening-form">Doors and windows</h2>
      <p>Choose the kind and the width of the rough opening, then touch the wall where its middle shall be.</p>
      <${Pick} desk=${desk} name="openingKind" label="Kind" list=${OPENING_KINDS} />
      <div class="field"><label for="opening-wide">Rough opening, wide</label><input id="opening-wide" value=${doing.openingWidth} onInput=${(/** @type {any} */ e) => desk.set({ doing: { ...doing, openingWidth: e.target.value } })} /></div>
      <p class="faint">Without a pointer: choose a wall in the list of walls; its card adds openings too.</p>
    </section>`;
}

/** @param {{desk: Desk}} props */
function TradeForm({ desk }) {
  const { doing } = desk.state;
  return html`
    <section class="card" aria-labelledby="trade-form">
      <h2 id="trade-form">Mark another trade</h2>
      <p>What cables and holes must keep clear of: touch two opposite corners of it.</p>
      <div class="field"><label for="trade-kind">What it is</label>
        <input id="trade-kind" list="trades" maxlength="60" value=${doing.tradeKind} onInput=${(/** @type {any} */ e) => desk.set({ doing: { ...doing, tradeKind: e.target.value } })} />
        <datalist id="trades">${TRADES.map((t) => html`<option key=${t} value=${t}></option>`)}</datalist></div>
      <p class="faint">What stands behind a wall may be live, hot or under pressure: look before anybody drills.</p>
    </section>`;
}

/** @param {{desk: Desk}} props */
function EnclosureForm({ desk }) {
  return html`
    <section class="card" aria-labelledby="enclosure-form">
      <h2 id="enclosure-form">${desk.state.house.enclosures.length ? 'Move the enclosure' : 'Place the enclosure'}</h2>
      <p>Touch a stud bay on the side of the room it opens into. Out of wet rooms, outside walls and rated walls.</p>
      <p class="faint">The 120 V feed is the licensed electrician's.</p>
    </section>`;
}
