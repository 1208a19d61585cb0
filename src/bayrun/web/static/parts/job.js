/** One job: top line, the work area with one of its views, the side column, the result strip. */
import { html, useEffect, useReducer } from '../ui.js';
import { Column } from './column.js';
import { KEYS, begin } from './draw.js';
import { DrawingsView } from './drawings.js';
import { ListsView } from './lists.js';
import { PackView } from './pack.js';
import { PlanView } from './plan_view.js';
import { StepsView } from './steps.js';
import { Strip } from './strip.js';
import { Theme } from './theme.js';
import { TurnView } from './turn.js';

/** @typedef {import('../desk.js').Desk} Desk */

/** @type {[string, string, any][]} */
const VIEWS = [
  ['plan', 'Plan', PlanView],
  ['drawings', 'Drawings', DrawingsView],
  ['turn', '3-D', TurnView],
  ['lists', 'Lists', ListsView],
  ['steps', 'Steps and saves', StepsView],
  ['pack', 'Pack', PackView],
];

/** @param {{desk: Desk, view: string}} props */
export function JobPage({ desk, view }) {
  const [, again] = useReducer((/** @type {number} */ n) => n + 1, 0);
  useEffect(() => desk.listen(() => again(undefined)), [desk]);
  useEffect(() => {
    const look = () => { if (document.visibilityState === 'visible') void desk.look(); };
    const timer = setInterval(look, 15_000);
    document.addEventListener('visibilitychange', look);
    addEventListener('focus', look);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', look);
      removeEventListener('focus', look);
    };
  }, [desk]);
  useEffect(() => {
    /** @param {KeyboardEvent} event */
    const key = (event) => {
      const typing = event.target instanceof HTMLElement && event.target.matches('input, textarea, select');
      if ((event.ctrlKey || event.metaKey) && !event.altKey && event.key.toLowerCase() === 'z') {
        if (typing) return;
        event.preventDefault();
        void (event.shiftKey ? desk.redo() : desk.undo());
      } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'y' && !typing) {
        event.preventDefault();
        void desk.redo();
      } else if (event.key === 'Escape') {
        if (desk.state.doing.what !== 'look') desk.set({ doing: { ...desk.state.doing, what: 'look' } });
        else desk.choose({ what: 'nothing' });
      } else if (!typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
        const what = KEYS[event.key.toLowerCase()];
        if (what) begin(desk, what);
      }
    };
    addEventListener('keydown', key);
    return () => removeEventListener('keydown', key);
  }, [desk]);
  const { job, conflict } = desk.state;
  const [, , View] = VIEWS.find(([name]) => name === view) ?? VIEWS[0];
  return html`
    <div class="job">
      <a class="skip" href="#work" onClick=${(/** @type {Event} */ e) => { e.preventDefault(); document.getElementById('work')?.focus(); }}>To the work area</a>
      <header class="top">
        <a class="home" href="#/" aria-label="Bayrun, all jobs">Bayrun</a>
        <h1>${job.name}</h1>
        <nav aria-label="Views">
          ${VIEWS.map(([name, words]) => html`<a key=${name} href=${`#/job/${job.id}/${name}`} aria-current=${name === view ? 'page' : undefined}>${words}</a>`)}
        </nav>
        <div class="top-do">
          <button class="quiet" disabled=${!job.can_undo} onClick=${() => desk.undo()} title="Ctrl+Z">Undo</button>
          <button class="quiet" disabled=${!job.can_redo} onClick=${() => desk.redo()} title="Ctrl+Shift+Z">Redo</button>
          <${Theme} />
        </div>
      </header>
      <main class="work" id="work" tabindex="-1" aria-label=${VIEWS.find(([name]) => name === view)?.[1] ?? 'Plan'}>
        ${conflict && html`
          <div class="conflict" role="alertdialog" aria-label="The job was changed meanwhile">
            <p>${conflict.says}</p>
            <button onClick=${() => conflict.again()}>Do it on the job as it stands now</button>
            <button class="quiet" onClick=${() => desk.set({ conflict: null })}>Leave it</button>
          </div>`}
        <${View} desk=${desk} />
      </main>
      <${Column} desk=${desk} view=${view} />
      <${Strip} desk=${desk} />
    </div>`;
}
