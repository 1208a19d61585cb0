/** The plan: one level on a drawing board that pans and zooms; choose, drag a location along its wall, place one. */
import { tape } from '../lengths.js';
import { html, useEffect, useRef } from '../ui.js';
import { PlanBoard } from './plan_board.js';
import { inches } from './locations.js';

/** @type {[string, string][]} */
const LAYERS = [['names', 'Room names'], ['joists', 'Joists and trusses'], ['runs', 'Runs'], ['holes', 'Holes'], ['obstacles', 'Other trades']];

/** @type {Record<string, string>} */
const HINTS = {
  place: "Touch a wall on its room's side.",
  wall: 'Touch where the wall begins, then where it ends. Typing a length sets it.',
  opening: 'Touch the wall where the middle shall be.',
  trade: 'Touch two opposite corners.',
  enclosure: "Touch a stud bay on its room's side.",
};

/** @param {{desk: import('../desk.js').Desk}} props */
export function PlanView({ desk }) {
  const { house, level, shown, doing } = desk.state;
  const box = useRef(/** @type {HTMLDivElement | null} */ (null));
  const board = useRef(/** @type {PlanBoard | null} */ (null));
  useEffect(() => {
    if (!box.current) return undefined;
    /** @param {Promise<unknown>} done */
    const tell = (done) => { done.catch((error) => desk.tell(error)); };
    const made = new PlanBoard(box.current, {
      wall: (from, to) => tell(desk.edit('add_wall', [desk.state.level, ...from, ...to, desk.state.doing.wallKind], 'draw a wall')),
      shift: (wall, by) => desk.edit('move_wall', [wall.id, by], `move ${wall.name} by ${tape(Math.abs(by))}`),
      opening: (wall, at) => tell(inches(desk.state.doing.openingWidth).then((width) => desk.edit('add_opening', [wall.id, desk.state.doing.openingKind, at, width], 'an opening'))),
      trade: (from, to) => tell(desk.edit('add_obstacle', [desk.state.level, desk.state.doing.tradeKind || 'other trade', ...from, ...to], 'something of another trade')),
      enclosure: (wall, at, side) => tell(desk.edit('place_enclosure', [wall.id, at, side], 'place the enclosure')),
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
    desk.reach = (length) => made.reach(length);
    made.show(desk.state);
    const stop = desk.listen(() => made.show(desk.state));
    return () => { stop(); desk.reach = null; made.close(); };
  }, [desk]);
  const at = house.levels.find((one) => one.id === level);
  return html`
    <div class=${`plan-view${doing.what === 'look' ? '' : ' placing'}`}>
      <div class="plan-bar">
        <span class="levels" role="group" aria-label="Level">
          ${house.levels.map((one) => html`<button key=${one.id} aria-pressed=${one.id === level} onClick=${() => desk.set({ level: one.id })}>Level ${one.id}</button>`)}
        </span>
        <details class="show">
          <summary>Show</summary>
          <div class="layers" role="group" aria-label="Show on the plan">${LAYERS.map(([name, words]) => html`<label key=${name}><input type="checkbox" checked=${shown[name]} onChange=${(/** @type {any} */ e) => desk.set({ shown: { ...shown, [name]: e.target.checked } })} /> ${words}</label>`)}</div>
        </details>
        <span class="zoom" role="group" aria-label="Size">
          <button onClick=${() => board.current?.zoom(1.5)} aria-label="Smaller">−</button>
          <button onClick=${() => board.current?.fit()}>Fit</button>
          <button onClick=${() => board.current?.zoom(1 / 1.5)} aria-label="Larger">+</button>
        </span>
      </div>
      <div class="board" ref=${box} tabindex="0" role="application" aria-label=${`Plan of ${at?.says ?? level}. Arrow keys move the sheet, plus and minus change its size; the lists beside it choose things.`}></div>
      ${HINTS[doing.what] && html`<p class="hint" role="status">${HINTS[doing.what]} Esc ends it.</p>`}
      ${house.walls.length === 0 && doing.what === 'look' && html`<p class="hint">Nothing is drawn yet. Press W and draw the outside walls.</p>`}
    </div>`;
}
