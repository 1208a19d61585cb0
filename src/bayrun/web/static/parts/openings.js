/** One door or window: where, how large, which way it swings. */
import { html } from '../ui.js';
import { LengthField } from './locations.js';

/** @param {{desk: import('../desk.js').Desk, opening: import('../types').Opening}} props */
export function OpeningCard({ desk, opening }) {
  const { house } = desk.state;
  const wall = house.walls.find((w) => w.id === opening.wall);
  /** @param {string} fact @param {string} value */
  const set = (fact, value) => desk.edit('set_opening', [opening.id, fact, value], `${fact} of ${opening.id}: ${value}`);
  const rooms = opening.rooms.filter((r) => r !== 'outside');
  return html`
    <section class="card" aria-labelledby="opening-head">
      <h2 id="opening-head">${opening.id}: ${opening.kind}</h2>
      <p class="place">in ${wall?.name ?? opening.wall}</p>
      ${/** @type {[string, string, string][]} */ ([['From the wall\'s start', 'from start', opening.from_start], ['Rough opening, wide', 'width', opening.width], ['Sill above subfloor', 'sill', opening.sill], ['Rough opening, high', 'height', opening.height]]).map(([label, fact, value]) => html`
        <${LengthField} key=${fact} desk=${desk} label=${label} value=${value} change=${(/** @type {number} */ to) => set(fact, `${to}"`)} />`)}
      ${opening.kind.includes('door') && rooms.length > 0 && html`
        <div class="field"><label for="swing-into">Swings into</label>
          <select id="swing-into" value=${opening.swings_into} onChange=${(/** @type {any} */ e) => set('swings into', e.target.value)}>
            <option value="" disabled>nobody said</option>${rooms.map((r) => html`<option key=${r}>${r}</option>`)}</select></div>
        <div class="field"><label for="swing-hinge">Hinged at the end toward the wall's</label>
          <select id="swing-hinge" value=${opening.hinge} onChange=${(/** @type {any} */ e) => set('hinge', e.target.value)}>
            <option value="" disabled>nobody said</option><option value="low">start</option><option value="high">end</option></select></div>`}
      <div class="do">
        ${wall && html`<button onClick=${() => desk.choose({ what: 'wall', id: wall.id })}>To its wall</button>`}
        <button class="grave" onClick=${() => desk.edit('remove_opening', [opening.id], `close ${opening.id}`).then((done) => { if (done) desk.choose({ what: 'nothing' }); })}>Close this opening</button>
      </div>
    </section>`;
}
