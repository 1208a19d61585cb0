/** One room: its name, its kind, what stands in it. */
import { html, useState } from '../ui.js';

export const KINDS = ['bed', 'bath', 'hall', 'closet', 'living', 'kitchen', 'dining', 'office', 'laundry', 'garage', 'storage', 'mechanical', 'stair', 'porch'];

/** @param {{desk: import('../desk.js').Desk, room: import('../types').Room}} props */
export function RoomCard({ desk, room }) {
  const [name, setName] = useState(room.name);
  const [kind, setKind] = useState(room.kind);
  const here = desk.state.house.locations.filter((q) => q.room === room.name && q.level === room.level);
  /** @param {Event} event */
  async function send(event) {
    event.preventDefault();
    if (await desk.edit('name_room', [room.level, room.name, name, kind], `${room.name} is now ${name}`)) {
      desk.choose({ what: 'room', id: `${room.level}/${name.trim().replace(/\s+/g, ' ')}` });
    }
  }
  return html`
    <section class="card" aria-labelledby="room-head">
      <h2 id="room-head">${room.name}</h2>
      <p class="place">level ${room.level}, ${room.area_ft2.toLocaleString('en-US')} sq ft to the middle of its walls</p>
      <form onSubmit=${send}>
        <div class="field"><label for="room-name">Name</label><input id="room-name" maxlength="60" value=${name} onInput=${(/** @type {any} */ e) => setName(e.target.value)} /></div>
        <div class="field"><label for="room-kind">Kind</label>
          <select id="room-kind" value=${kind} onChange=${(/** @type {any} */ e) => setKind(e.target.value)}>
            ${[...new Set([...KINDS, room.kind])].map((one) => html`<option key=${one}>${one}</option>`)}
          </select></div>
        <button disabled=${!name.trim() || (name === room.name && kind === room.kind)}>Change the room</button>
      </form>
      ${here.length > 0 && html`<h3>Locations</h3><p class="chips">${here.map((q) => html`<button key=${q.id} class="chip" onClick=${() => desk.choose({ what: 'location', id: q.id })}>${q.id}</button>`)}</p>`}
    </section>`;
}
