/** The plan: one level on a drawing board that pans and zooms; choose, drag a location along its wall, place one. */
import { tape } from '../lengths.js';
import { html, useEffect, useRef } from '../ui.js';
import { PlanBoard } from './plan_board.js';
import { inches } from './locations.js';

/** @type {[string, string][]} */
const LAYERS = [['names', 'Room names'], ['joists', 'Joists and trusses'], ['runs', 'Runs'], ['holes', 'Holes'], ['obstacles', 'Other trades']];

/** @param {{desk: import('../desk.js').Desk}} props */
export function PlanView({ desk }) {
  const { house, level, shown, doing } = desk.state;
  const box = useRef(/** @type {HTMLDivElement | null} */ (null));
  const board = useRef(/** @type {PlanBoard | null} */ (null));
  useEffect(() => {
    if (!box.current) return undefined;
    const made = new PlanBoard(box.current, {
      choose: (choice) => desk.choose(choice),
      move: (location, to) => desk.edit('move_location', [location.id, to], `move ${location.id} to ${tape(to)}`),
      place: async (wall, at, side) => {
        const now = desk.state.doing;
        try {
          await desk.edit('add_location', [wall.id, at, side, await inches(now.height), now.kind], 'place a location');
        } catch (error) {
          desk.tell(error);
        }
      },
    });
    board.current = made;
    made.show(desk.state);
    const stop = desk.listen(() => made.show(desk.state));
    return () => { stop(); made.close(); };
  }, [desk]);
  const at = house.levels.find((one) => one.id === level);
  return html`
    <div class=${`plan-view${doing.what === 'place' ? ' placing' : ''}`}>
      <div class="plan-bar">
        <span class="levels" role="group" aria-label="Level">
          ${house.levels.map((one) => html`<button key=${one.id} aria-pressed=${one.id === level} onClick=${() => desk.set({ level: one.id })}>Level ${one.id}</button>`)}
        </span>
        <span class="layers" role="group" aria-label="Show">
          ${LAYERS.map(([name, words]) => html`<label key=${name}><input type="checkbox" checked=${shown[name]} onChange=${(/** @type {any} */ e) => desk.set({ shown: { ...shown, [name]: e.target.checked } })} /> ${words}</label>`)}
        </span>
        <span class="zoom" role="group" aria-label="Size">
          <button onClick=${() => board.current?.zoom(1.5)} aria-label="Smaller">−</button>
          <button onClick=${() => board.current?.fit()}>Fit</button>
          <button onClick=${() => board.current?.zoom(1 / 1.5)} aria-label="Larger">+</button>
        </span>
      </div>
      <div class="board" ref=${box} tabindex="0" role="application" aria-label=${`Plan of ${at?.says ?? level}. Arrow keys move the sheet, plus and minus change its size; the lists beside it choose things.`}></div>
      ${doing.what === 'place' && html`<p class="hint" role="status">Touch a wall on its room's side. Esc ends placing.</p>`}
    </div>`;
}
