/** The first page: jobs kept here, and ways to begin one. */
import { ask } from '../api.js';
import { html, useEffect, useRef, useState } from '../ui.js';
import { Theme } from './theme.js';

/** @param {string} id */
const open = (id) => { location.hash = `#/job/${id}/plan`; };

/** @param {string} stamp */
function day(stamp) {
  return new Date(stamp).toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short' });
}

/** A house drawn elsewhere: read in the background, with what was understood. @param {{open: (id: string) => void}} props */
function ImportWay({ open }) {
  const input = useRef(/** @type {HTMLInputElement | null} */ (null));
  const [task, setTask] = useState(/** @type {import('../types').ImportState | null} */ (null));
  const [bad, setBad] = useState('');
  const running = task !== null && !task.job && !task.failed;
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => ask('GET', `/imports/${task.id}`).then(({ data }) => setTask(data), (error) => { setTask(null); setBad(error.message); }), 400);
    return () => clearInterval(timer);
  }, [running, task?.id]);
  async function send() {
    const file = input.current?.files?.[0];
    if (!file) return;
    setBad('');
    setTask(null);
    try {
      const answer = await fetch(`/api/imports?file=${encodeURIComponent(file.name.slice(-120))}`, { method: 'POST', body: file });
      const data = await answer.json();
      if (!answer.ok) throw new Error(data.error.says);
      setTask(data);
    } catch (error) {
      setBad(error instanceof Error ? error.message : String(error));
    }
    if (input.current) input.current.value = '';
  }
  return html`
    <div class="way">
      <h3>A house drawn elsewhere</h3>
      <p>IFC, gbXML, DXF, PDF with lines, or rooms walked with a tape. Framing is assumed and named; names in the file are not carried.</p>
      <label>House file <input ref=${input} type="file" accept=".ifc,.ifczip,.xml,.gbxml,.dxf,.pdf,.tape,.txt" onChange=${send} /></label>
      ${running && html`<p role="status">${task.working.says} …</p><button onClick=${() => ask('DELETE', `/imports/${task.id}`).then(({ data }) => setTask(data), () => {})}>Stop</button>`}
      ${(bad || task?.failed) && html`<pre class="said bad" role="alert">${bad || task?.failed}</pre>`}
      ${task?.job && html`
        <p role="status"><b>${task.job.name}</b> is read. Look at the report first: it says what nobody measured.</p>
        <ul>${task.said.slice(0, 6).map((words, i) => html`<li key=${i}>${words}</li>`)}</ul>
        <p class="do"><a class="button" href=${`/api/imports/${task.id}/report`} download>The report</a> <button onClick=${() => open(task.job?.id ?? '')}>Open the job</button></p>`}
    </div>`;
}

export function StartPage() {
  const [jobs, setJobs] = useState(/** @type {import('../types').JobRow[] | null} */ (null));
  const [said, setSaid] = useState('');
  const [busy, setBusy] = useState('');
  const [name, setName] = useState('');
  const file = useRef(/** @type {HTMLInputElement | null} */ (null));
  const load = () => ask('GET', '/jobs').then(({ data }) => setJobs(data.jobs), (error) => setSaid(error.message));
  useEffect(() => { void load(); }, []);
  /** @param {Record<string, string>} body @param {string} words */
  async function begin(body, words) {
    setBusy(words);
    setSaid('');
    try {
      const { data } = await ask('POST', '/jobs', body);
      open(data.job.id);
    } catch (error) {
      setSaid(error instanceof Error ? error.message : String(error));
    } finally {
      setBusy('');
    }
  }
  async function read() {
    const chosen = file.current?.files?.[0];
    if (!chosen) return;
    if (chosen.size > 8_000_000) { setSaid(`${chosen.name} is larger than 8 MB: no job file is.`); return; }
    await begin({ start: 'file', name: chosen.name.slice(0, 80), text: await chosen.text() }, `reading ${chosen.name}`);
    if (file.current) file.current.value = '';
  }
  /** @param {import('../types').JobRow} row */
  async function forget(row) {
    if (!confirm(`Take “${row.name}” away, with every step and save of it? This cannot be undone.`)) return;
    await ask('DELETE', `/jobs/${row.id}`).catch((error) => setSaid(error.message));
    await load();
  }
  return html`
    <main class="start">
      <header class="start-head"><h1>Bayrun</h1><${Theme} /></header>
      <p class="lead">Plan the low-voltage rough-in of a framed house: every cable, hole, plate and list, before the walls close.</p>
      ${said && html`<pre class="said bad" role="alert">${said}</pre>`}
      ${busy && html`<p class="said" role="status">${busy} …</p>`}
      <section aria-labelledby="kept">
        <h2 id="kept">Jobs on this computer</h2>
        ${jobs === null && html`<p role="status">Looking …</p>`}
        ${jobs !== null && jobs.length === 0 && html`<p>None yet. Open a demo house below to look around: it is invented, and yours to change.</p>`}
        ${jobs !== null && jobs.length > 0 && html`
          <ul class="jobs">
            ${jobs.map((row) => html`
              <li key=${row.id}>
                <a href=${`#/job/${row.id}/plan`}>${row.name}</a>
                <span class="faint">changed ${day(row.changed)}</span>
                <button class="quiet" onClick=${() => forget(row)} aria-label=${`Take away ${row.name}`}>Take away</button>
              </li>`)}
          </ul>`}
      </section>
      <section aria-labelledby="begin">
        <h2 id="begin">Begin a job</h2>
        <div class="ways">
          <div class="way">
            <h3>A demo house</h3>
            <p>Three invented houses, wired and ready to be changed.</p>
            <button onClick=${() => begin({ start: 'demo a' }, 'opening house A')}>A: small ranch on a slab</button>
            <button onClick=${() => begin({ start: 'demo b' }, 'opening house B')}>B: two stories, basement</button>
            <button onClick=${() => begin({ start: 'demo c' }, 'opening house C')}>C: row house, three levels</button>
          </div>
          <form class="way" onSubmit=${(/** @type {Event} */ event) => { event.preventDefault(); void begin({ start: 'starter', name }, 'making a starter house'); }}>
            <h3>A new house</h3>
            <p>Draw it from nothing, or begin with a few rooms to rename and grow.</p>
            <label>Name of the job <input name="name" maxlength="80" value=${name} onInput=${(/** @type {any} */ e) => setName(e.target.value)} placeholder="Birch Lane, lot 4" /></label>
            <button type="button" onClick=${() => begin({ start: 'empty', name }, 'making an empty house')}>Draw an empty house</button>
            <button>Start from a few rooms</button>
          </form>
          <div class="way">
            <h3>A job file</h3>
            <p>One that “bayrun new” or “bayrun import” wrote, or that came with a pack (job.yaml).</p>
            <label>Job file <input ref=${file} type="file" accept=".yaml,.yml" onChange=${read} /></label>
          </div>
          <${ImportWay} open=${open} />
        </div>
      </section>
      <p class="faint">Power, structure and fire blocking are the work of licensed trades. The local code and the inspector have the last word.</p>
    </main>`;
}
