/** Steps and saves: what was done to the job, and the states a person named. */
import { ask } from '../api.js';
import { html, useEffect, useState } from '../ui.js';

/** @param {string} stamp */
const when = (stamp) => new Date(stamp).toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short' });

/** @param {{desk: import('../desk.js').Desk}} props */
export function StepsView({ desk }) {
  const { job } = desk.state;
  const [steps, setSteps] = useState(/** @type {{now: number, steps: import('../types').Step[]} | null} */ (null));
  const [saves, setSaves] = useState(/** @type {import('../types').SaveRow[]} */ ([]));
  const [name, setName] = useState('');
  const [trouble, setTrouble] = useState('');
  const load = () => Promise.all([ask('GET', `/jobs/${job.id}/steps`), ask('GET', `/jobs/${job.id}/saves`)]).then(
    ([a, b]) => { setSteps(a.data); setSaves(b.data.saves); }, (error) => setTrouble(error.message),
  );
  useEffect(() => { void load(); }, [job.id, job.version]);
  /** @param {Event} event */
  async function save(event) {
    event.preventDefault();
    try {
      await ask('POST', `/jobs/${job.id}/saves`, { name });
      setName('');
      setTrouble('');
      await load();
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`
    <div class="pack-view">
      <h2>Saves with a name</h2>
      <form class="row-field" onSubmit=${save}>
        <label>Name of this state <input value=${name} maxlength="120" placeholder="before the framing walk" onInput=${(/** @type {any} */ e) => setName(e.target.value)} /></label>
        <button disabled=${!name.trim()}>Save under this name</button>
      </form>
      ${trouble && html`<p class="bad" role="alert">${trouble}</p>`}
      ${saves.length === 0 ? html`<p class="faint">None yet. Every edit is kept anyway; a name makes a state easy to find again.</p>` : html`
        <ul class="plain saves">${saves.map((s) => html`<li key=${s.number}><b>${s.name}</b> <span class="faint">${when(s.at)}</span>
          <button class="quiet" onClick=${() => desk.change('/restore', { number: s.number }, `go back to “${s.name}”`)}>Go back to it</button></li>`)}</ul>`}
      <h2>Steps</h2>
      <ol class="steps">
        ${steps && [...steps.steps].reverse().map((s) => html`
          <li key=${s.number} class=${s.number > steps.now ? 'undone' : ''} aria-current=${s.number === steps.now ? 'step' : undefined}>
            ${s.says} <span class="faint">${when(s.at)}</span>${s.number === steps.now ? html` <b>now</b>` : s.number > steps.now ? html` <em>taken back</em>` : ''}
          </li>`)}
      </ol>
      <p><a href=${`/api/jobs/${job.id}/file`} download="job.yaml">Download the job file</a></p>
    </div>`;
}
