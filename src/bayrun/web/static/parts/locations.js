/** Locations: the list by room, one location with its ports, and the form that places a new one. */
import { ask } from '../api.js';
import { tape } from '../lengths.js';
import { Words, html, useEffect, useState } from '../ui.js';

/**
 * @typedef {import('../desk.js').Desk} Desk
 * @typedef {import('../types').Location} Location
 */

/** Read a length as typed; the server reads it, so that there is one reading. @param {string} text */
export async function inches(text) {
  const { data } = await ask('POST', '/length', { text });
  return /** @type {number} */ (data.inches);
}

/** A length that is changed by typing: Enter or leaving the field sends it.
 * @param {{label: string, value: string, change: (inches: number) => Promise<unknown>, desk: Desk}} props */
export function LengthField({ label, value, change, desk }) {
  const [text, setText] = useState(value);
  const [bad, setBad] = useState('');
  useEffect(() => { setText(value); setBad(''); }, [value]);
  async function send() {
    if (text.trim() === value.replace('\u00a0', ' ').trim() || text === value) { setBad(''); return; }
    try {
      const read = await inches(text);
      setBad('');
      await change(read);
    } catch (error) {
      setBad(error instanceof Error ? error.message : String(error));
    }
  }
  const id = `length-${label.replace(/\W+/g, '-').toLowerCase()}`;
  return html`
    <div class="field">
      <label for=${id}>${label}</label>
      <input id=${id} value=${text} inputmode="text" autocomplete="off" spellcheck=${false}
        aria-invalid=${bad ? 'true' : undefined} aria-describedby=${bad ? `${id}-bad` : undefined}
        onInput=${(/** @type {any} */ e) => setText(e.target.value)} onBlur=${send}
        onKeyDown=${(/** @type {KeyboardEvent} */ e) => { if (e.key === 'Enter') { e.preventDefault(); void send(); } }} />
      ${bad && html`<span class="bad" id=${`${id}-bad`} role="alert">${bad}</span>`}
    </div>`;
}

/** @param {{desk: Desk, location: Location}} props */
export function LocationCard({ desk, location }) {
  const { house, plan } = desk.state;
  const runs = plan?.runs.filter((run) => run.ends.includes(location.id)) ?? [];
  const wall = house.walls.find((w) => w.id === location.wall);
  const [kind, setKind] = useState('');
  const others = house.cables.filter((c) => !location.ports.some((p) => p.kind === c.letter));
  /** @param {number} by */
  const nudge = (by) => desk.edit('move_location', [location.id, (location.offset ?? 0) + by], `move ${location.id} ${tape(by)}`);
  /** @param {string} letter @param {number} count */
  const ports = (letter, count) => desk.edit('set_ports', [location.id, letter, count], `${count} ${letter} at ${location.id}`);
  return html`
    <section class="card" aria-labelledby="location-head">
      <h2 id="location-head">${location.id}, ${location.room}</h2>
      <p class="place"><${Words} text=${location.place} /></p>
      ${location.reason && html`<p class="faint">Proposed: ${location.reason}</p>`}
      ${location.note && html`<p>${location.note}</p>`}
      ${wall && location.offset !== null && html`
        <${LengthField} desk=${desk} label="From the wall's start" value=${tape(location.offset)}
          change=${(/** @type {number} */ to) => desk.edit('move_location', [location.id, to], `move ${location.id}`)} />
        <div class="nudge" role="group" aria-label="Move along the wall">
          ${[-12, -1, 1, 12].map((by) => html`<button key=${by} onClick=${() => nudge(by)}>${by < 0 ? '−' : '+'}${tape(Math.abs(by))}</button>`)}
        </div>`}
      ${wall && html`<${LengthField} desk=${desk} label="Height above finished floor" value=${location.height}
        change=${(/** @type {number} */ to) => desk.edit('set_height', [location.id, to], `height of ${location.id}`)} />`}
      <h3>Ports</h3>
      <ul class="ports">
        ${location.ports.map((port) => {
          const cable = house.cables.find((c) => c.letter === port.kind);
          return html`<li key=${port.kind}>
            <span><b>${port.count}${port.kind}</b> ${cable?.name ?? ''}</span>
            <span class="pm">
              <button aria-label=${`One ${port.kind} fewer`} onClick=${() => ports(port.kind, port.count - 1)}>−</button>
              <button aria-label=${`One ${port.kind} more`} onClick=${() => ports(port.kind, port.count + 1)}>+</button>
            </span>
          </li>`;
        })}
        ${location.ports.length === 0 && html`<li class="faint">No ports: nothing is pulled here.</li>`}
      </ul>
      <div class="field row-field">
        <label for="new-port">Another cable</label>
        <select id="new-port" value=${kind} onChange=${(/** @type {any} */ e) => setKind(e.target.value)}>
          <option value="">choose</option>
          ${others.map((c) => html`<option key=${c.letter} value=${c.letter}>${c.letter} ${c.name}</option>`)}
        </select>
        <button disabled=${!kind} onClick=${() => { void ports(kind, 1); setKind(''); }}>Add</button>
      </div>
      ${runs.length > 0 && html`
        <h3>Runs</h3>
        <ul class="plain">${runs.map((run) => html`
          <li key=${run.id}><button class="row" onClick=${() => desk.choose({ what: 'run', id: run.id })}>
            <span class="row-head"><b>${run.id}</b> ${run.length}</span><span class="row-says">${run.way}</span>
          </button></li>`)}</ul>`}
      <div class="do">
        ${wall && (location.side === 'left' || location.side === 'right') && html`
          <button onClick=${() => desk.edit('turn_location', [location.id], `turn ${location.id}`)}>Turn to the other room</button>`}
        <button class="grave" onClick=${() => desk.edit('remove_location', [location.id], `strike ${location.id}`).then((done) => { if (done) desk.choose({ what: 'nothing' }); })}>Strike this location</button>
      </div>
    </section>`;
}

/** @param {{desk: Desk}} props */
export function LocationsList({ desk }) {
  const { house, level } = desk.state;
  const here = house.locations.filter((q) => q.level === level);
  /** @type {Map<string, Location[]>} */
  const rooms = new Map();
  for (const q of here) rooms.set(q.room, [...(rooms.get(q.room) ?? []), q]);
  return html`
    <details class="card">
      <summary><h2>Locations on level ${level} (${here.length})</h2></summary>
      ${here.length === 0 && html`<p class="faint">None yet. Press L, then choose a wall.</p>`}
      ${[...rooms].map(([room, found]) => html`
        <h3 key=${room}>${room}</h3>
        <ul class="plain">${found.map((q) => html`
          <li key=${q.id}><button class="row" onClick=${() => desk.choose({ what: 'location', id: q.id })}>
            <span class="row-head"><b>${q.id}</b> ${q.ports.map((p) => `${p.count}${p.kind}`).join(' ') || 'no ports'}</span>
            <span class="row-says">${q.mount === 'wall' ? `${q.height} above finished floor` : q.mount}</span>
          </button></li>`)}</ul>`)}
    </details>`;
}

/** Place a location: click a wall's face on the plan, or choose wall, side and offset here.
 * @param {{desk: Desk}} props */
export function PlaceForm({ desk }) {
  const { house, doing, level } = desk.state;
  const [wall, setWall] = useState('');
  const [side, setSide] = useState('left');
  const [offset, setOffset] = useState('');
  const [bad, setBad] = useState('');
  const walls = house.walls.filter((w) => w.level === level && (w.left.some(inside) || w.right.some(inside)));
  const chosen = walls.find((w) => w.id === wall);
  /** @param {string} room */
  function inside(room) { return room !== 'outside'; }
  /** @param {Event} event */
  async function place(event) {
    event.preventDefault();
    try {
      setBad('');
      const [at, height] = [await inches(offset), await inches(doing.height)];
      await desk.edit('add_location', [wall, at, side, height, doing.kind], 'place a location');
    } catch (error) {
      setBad(error instanceof Error ? error.message : String(error));
    }
  }
  return html`
    <form class="card" onSubmit=${place} aria-labelledby="place-head">
      <h2 id="place-head">Place a location</h2>
      <p>Choose the cable and the height, then touch a wall on its room's side.</p>
      <div class="field"><label for="place-kind">Cable</label>
        <select id="place-kind" value=${doing.kind} onChange=${(/** @type {any} */ e) => desk.set({ doing: { ...doing, kind: e.target.value } })}>
          ${house.cables.map((c) => html`<option key=${c.letter} value=${c.letter}>${c.letter} ${c.name}</option>`)}
        </select></div>
      <div class="field"><label for="place-height">Height above finished floor</label>
        <input id="place-height" value=${doing.height} onInput=${(/** @type {any} */ e) => desk.set({ doing: { ...doing, height: e.target.value } })} /></div>
      <details>
        <summary>Without a pointer: by wall and offset</summary>
        <div class="field"><label for="place-wall">Wall</label>
          <select id="place-wall" value=${wall} onChange=${(/** @type {any} */ e) => setWall(e.target.value)}>
            <option value="">choose</option>
            ${walls.map((w) => html`<option key=${w.id} value=${w.id}>${w.name}</option>`)}
          </select></div>
        <div class="field"><label for="place-side">Seen from</label>
          <select id="place-side" value=${side} onChange=${(/** @type {any} */ e) => setSide(e.target.value)}>
            <option value="left">${chosen?.left.join(', ') || 'left'}</option>
            <option value="right">${chosen?.right.join(', ') || 'right'}</option>
          </select></div>
        <div class="field"><label for="place-offset">From the wall's start</label>
          <input id="place-offset" value=${offset} placeholder="4' 6-1/2" onInput=${(/** @type {any} */ e) => setOffset(e.target.value)} /></div>
        <button disabled=${!wall || !offset}>Place it</button>
      </details>
      ${bad && html`<p class="bad" role="alert">${bad}</p>`}
    </form>`;
}
