/** The pack: made on request, with its progress and a way to stop; every file downloads from here. */
import { ask } from '../api.js';
import { html, useEffect, useState } from '../ui.js';

/** @param {number} bytes */
function size(bytes) {
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** @type {Record<string, string>} */
const WORDS = {
  'pack.pdf': 'Every sheet, to print',
  'lists.xlsx': 'Every list, as a workbook',
  'job.yaml': 'The job file',
  'plan.json': 'The plan, for programs',
  'cost-check.json': 'Proof of the cost check',
};

/** @param {{desk: import('../desk.js').Desk}} props */
export function PackView({ desk }) {
  const { job } = desk.state;
  const [pack, setPack] = useState(/** @type {import('../types').PackState | null} */ (null));
  const [trouble, setTrouble] = useState('');
  const path = `/jobs/${job.id}/pack`;
  useEffect(() => {
    let gone = false;
    setPack(null);
    setTrouble('');
    ask('GET', path).then(({ data }) => { if (!gone) setPack(data.begun ? data : null); }, (error) => { if (!gone) setTrouble(error.message); });
    return () => { gone = true; };
  }, [path, job.version]);
  const running = pack !== null && !pack.made && !pack.failed;
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => ask('GET', path).then(({ data }) => setPack(data), (error) => { setPack(null); setTrouble(error.message); }), 400);
    return () => clearInterval(timer);
  }, [running, path]);
  /** @param {string} method */
  const act = (method) => ask(method, path).then(({ data }) => { setPack(data); setTrouble(''); }, (error) => setTrouble(error.message));
  const rank = (/** @type {string} */ name) => (name in WORDS ? Object.keys(WORDS).indexOf(name) : 9);
  return html`
    <div class="pack-view">
      <h2>The pack of this job, as it stands now</h2>
      <p>Cover, walk sheet, drawings, drill, pull and material lists, labels and findings: what a crew carries.</p>
      ${trouble && html`<p class="bad" role="alert">${trouble}</p>`}
      ${!pack && html`<button class="large" onClick=${() => act('POST')}>Make the pack</button>`}
      ${running && html`
        <p role="status">${pack.working.of > 1 ? `${pack.working.says}: ${pack.working.done} of ${pack.working.of}` : `${pack.working.says} …`}</p>
        <button onClick=${() => act('DELETE')}>Stop</button>`}
      ${pack?.failed && html`<p class="bad" role="alert">${pack.failed}</p><button onClick=${() => act('POST')}>Make it again</button>`}
      ${pack?.made && html`
        <p class="do">
          <a class="button large" href=${`/api${path}/files/pack.pdf`} download>Download the PDF</a>
          <a class="button" href=${`/api${path}/files/pack.zip`} download>Everything in one file</a>
        </p>
        <table class="files"><caption>Files of the pack</caption>
          <thead><tr><th scope="col">File</th><th scope="col">What it is</th><th scope="col" class="right">Size</th></tr></thead>
          <tbody>${[...pack.files].sort((a, b) => rank(a.name) - rank(b.name) || a.name.localeCompare(b.name)).map((file) => html`
            <tr key=${file.name}><td><a href=${`/api${path}/files/${file.name}`} download>${file.name}</a></td>
              <td>${WORDS[file.name] ?? (file.name.endsWith('.dxf') ? 'A drawing, true size' : file.name.endsWith('.svg') ? 'A drawing' : file.name.endsWith('.csv') ? 'A list' : '')}</td>
              <td class="right">${size(file.bytes)}</td></tr>`)}</tbody>
        </table>`}
    </div>`;
}
