/** The page: the list of jobs, or one job. Addresses are #/ and #/job/ID/VIEW. */
import { Refusal, ask } from './api.js';
import { Desk } from './desk.js';
import { html, render, useEffect, useState } from './ui.js';
import { JobPage } from './parts/job.js';
import { StartPage } from './parts/start.js';

/** @returns {{job: string, view: string}} */
function address() {
  const [, what, job, view] = location.hash.split('/');
  return what === 'job' && job ? { job, view: view || 'plan' } : { job: '', view: '' };
}

function Page() {
  const [at, setAt] = useState(address());
  const [desk, setDesk] = useState(/** @type {Desk | null} */ (null));
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    const moved = () => setAt(address());
    addEventListener('hashchange', moved);
    return () => removeEventListener('hashchange', moved);
  }, []);
  useEffect(() => {
    setTrouble('');
    if (!at.job) { setDesk(null); document.title = 'Bayrun'; return undefined; }
    let gone = false;
    /** @type {Desk | null} */
    let opened = null;
    ask('GET', `/jobs/${at.job}`).then(({ data }) => {
      if (gone) return;
      opened = new Desk(data.job, data.house);
      document.title = `${data.job.name} · Bayrun`;
      setDesk(opened);
      void opened.plan();
    }, (error) => setTrouble(error instanceof Refusal ? error.message : String(error)));
    return () => { gone = true; opened?.close(); setDesk(null); };
  }, [at.job]);
  if (!at.job) return html`<${StartPage} />`;
  if (trouble) return html`<main class="start"><p role="alert">${trouble}</p><p><a href="#/">All jobs</a></p></main>`;
  if (!desk || desk.state.job.id !== at.job) return html`<p class="empty" role="status">Opening the job …</p>`;
  return html`<${JobPage} desk=${desk} view=${at.view} />`;
}

const root = document.getElementById('page');
if (root) {
  root.replaceChildren();
  render(html`<${Page} />`, root);
}
