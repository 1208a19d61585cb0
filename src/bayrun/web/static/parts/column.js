/** The side column: what can be done now, and the facts of what is chosen. */
import { html } from '../ui.js';
import { EnclosureCard, HoleCard, ObstacleCard, RunCard } from './cards.js';
import { FindingCard, FindingsList } from './findings.js';
import { DoingForm, DrawMenu } from './draw.js';
import { LocationCard, LocationsList } from './locations.js';
import { OpeningCard } from './openings.js';
import { RoomCard } from './rooms.js';
import { WallCard, WallsList } from './walls.js';

/** @param {{desk: import('../desk.js').Desk, view: string}} props */
export function Column({ desk, view }) {
  const { choice, house, plan, doing } = desk.state;
  /** @returns {unknown} */
  function card() {
    if (choice.what === 'nothing') return null;
    /** @template {{id: string}} T @param {T[] | undefined} records @returns {T | undefined} */
    const find = (records) => records?.find((one) => one.id === choice.id);
    switch (choice.what) {
      case 'location': { const found = find(house.locations); return found && html`<${LocationCard} key=${found.id} desk=${desk} location=${found} />`; }
      case 'hole': { const found = find(plan?.holes); return found && html`<${HoleCard} desk=${desk} hole=${found} />`; }
      case 'run': { const found = find(plan?.runs); return found && html`<${RunCard} desk=${desk} run=${found} />`; }
      case 'wall': { const found = find(house.walls); return found && html`<${WallCard} key=${found.id} desk=${desk} wall=${found} />`; }
      case 'opening': { const found = find(house.openings); return found && html`<${OpeningCard} key=${found.id} desk=${desk} opening=${found} />`; }
      case 'enclosure': { const found = find(house.enclosures); return found && html`<${EnclosureCard} desk=${desk} enclosure=${found} />`; }
      case 'finding': { const found = find(plan?.findings); return found && html`<${FindingCard} desk=${desk} finding=${found} />`; }
      case 'obstacle': { const found = find(house.obstacles); return found && html`<${ObstacleCard} desk=${desk} obstacle=${found} />`; }
      case 'room': {
        const found = house.rooms.find((room) => `${room.level}/${room.name}` === choice.id);
        return found && html`<${RoomCard} key=${choice.id} desk=${desk} room=${found} />`;
      }
      default: return null;
    }
  }
  const shown = card();
  return html`
    <aside class="column" aria-label="What is chosen, and what to do">
      ${shown && html`
        <div class="chosen">
          ${shown}
          <button class="quiet back" onClick=${() => desk.choose({ what: 'nothing' })}>Back to the list</button>
        </div>`}
      ${!shown && html`
        ${doing.what !== 'look' && view === 'plan' ? html`<${DoingForm} desk=${desk} />` : html`<${DrawMenu} desk=${desk} />`}
        <${FindingsList} desk=${desk} />
        <${LocationsList} desk=${desk} />
        <${WallsList} desk=${desk} />
        ${house.assumptions.length > 0 && html`
          <details class="card">
            <summary><h2>Nobody measured (${house.assumptions.length})</h2></summary>
            <ul class="plain">${house.assumptions.map((a) => html`<li key=${a.id}>${a.says}${a.where ? ` (${a.where})` : ''}</li>`)}</ul>
          </details>`}
      `}
    </aside>`;
}
