/** The drawings of the pack, one at a time, as they will be printed. */
import { ask } from '../api.js';
import { html, useEffect, useRef, useState } from '../ui.js';

/** One drawing, put into the page so that it is set in the page's own type. @param {{address: string, size: number, says: string}} props */
function Paper({ address, size, says }) {
  const box = useRef(/** @type {HTMLDivElement | null} */ (null));
  useEffect(() => {
    const waiting = new AbortController();
    fetch(address, { signal: waiting.signal }).then((answer) => answer.text()).then((text) => {
      const made = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
      if (!(made instanceof SVGSVGElement)) return;
      if (!made.hasAttribute('viewBox')) made.setAttribute('viewBox', `0 0 ${parseFloat(made.getAttribute('width') ?? '1') * 72} ${parseFloat(made.getAttribute('height') ?? '1') * 72}`);
      made.removeAttribute('width');
      made.removeAttribute('height');
      made.setAttribute('role', 'img');
      made.setAttribute('aria-label', says);
      box.current?.replaceChildren(document.importNode(made, true));
    }, () => {});
    return () => waiting.abort();
  }, [address, says]);
  return html`<div ref=${box} class=${`size-${size}`}></div>`;
}

/** @param {{desk: import('../desk.js').Desk}} props */
export function DrawingsView({ desk }) {
  const { job, planned, working } = desk.state;
  const [drawings, setDrawings] = useState(/** @type {import('../types').Drawing[] | null} */ (null));
  const [name, setName] = useState('');
  const [size, setSize] = useState(0);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    if (planned === null) return undefined;
    const waiting = new AbortController();
    ask('GET', `/jobs/${job.id}/drawings?wait=20`, undefined, waiting.signal).then(({ data }) => {
      if (!data.drawings) return;
      setDrawings(data.drawings);
      setTrouble('');
      setName((was) => (data.drawings.some((/** @type {any} */ d) => d.name === was) ? was : data.drawings[0]?.name ?? ''));
    }, (error) => { if (!waiting.signal.aborted) setTrouble(error.message); });
    return () => waiting.abort();
  }, [job.id, planned]);
  if (trouble) return html`<p class="empty bad" role="alert">${trouble}</p>`;
  if (!drawings) return html`<p class="empty" role="status">${working ? 'The drawings come with the plan.' : 'Drawing …'}</p>`;
  const shown = drawings.find((d) => d.name === name);
  const step = (/** @type {number} */ by) => setSize(Math.min(Math.max(size + by, -2), 3));
  return html`
    <div class="sheet-view">
      <div class="sheet-bar">
        <label>Drawing
          <select value=${name} onChange=${(/** @type {any} */ e) => setName(e.target.value)}>
            ${drawings.map((d) => html`<option key=${d.name} value=${d.name}>${d.kind}${d.where ? `: ${d.where}` : ''}</option>`)}
          </select></label>
        <span role="group" aria-label="Size">
          <button onClick=${() => step(-1)} aria-label="Smaller">−</button>
          <button onClick=${() => setSize(0)}>Fit</button>
          <button onClick=${() => step(1)} aria-label="Larger">+</button>
        </span>
        ${shown && html`<a class="button" href=${`/api/jobs/${job.id}/drawings/${shown.name}?v=${planned}`} download=${`${shown.name}.svg`}>Download SVG</a>`}
      </div>
      ${shown && html`
        <h2 class="sheet-head">${shown.heading}</h2>
        <div class="sheet-paper" tabindex="0" role="region" aria-label=${shown.says || shown.heading}>
          <${Paper} key=${shown.name} address=${`/api/jobs/${job.id}/drawings/${shown.name}?v=${planned}`} size=${size + 2} says=${shown.says || shown.heading} />
        </div>
        <p class="faint">Scale on paper ${shown.scale}. ${shown.caution}</p>
        ${shown.notes.length > 0 && html`<details><summary>Notes of this drawing (${shown.notes.length})</summary><ul>${shown.notes.map((n, i) => html`<li key=${i}>${n}</li>`)}</ul></details>`}`}
    </div>`;
}
