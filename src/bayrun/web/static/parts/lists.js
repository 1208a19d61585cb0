/** The lists of the pack: filtered by a word, sorted by a head. */
import { ask } from '../api.js';
import { countOf } from '../lengths.js';
import { Words, html, useEffect, useMemo, useState } from '../ui.js';

/** @param {string | number} a @param {string | number} b */
function compare(a, b) {
  if (typeof a === 'number' && typeof b === 'number') return a - b;
  return String(a).localeCompare(String(b), 'en', { numeric: true });
}

/** @param {{desk: import('../desk.js').Desk}} props */
export function ListsView({ desk }) {
  const { job, planned } = desk.state;
  const [names, setNames] = useState(/** @type {import('../types').ListName[] | null} */ (null));
  const [name, setName] = useState('');
  const [table, setTable] = useState(/** @type {import('../types').ListTable | null} */ (null));
  const [word, setWord] = useState('');
  const [sort, setSort] = useState(/** @type {{head: number, down: boolean} | null} */ (null));
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    if (planned === null) return undefined;
    const waiting = new AbortController();
    ask('GET', `/jobs/${job.id}/lists?wait=20`, undefined, waiting.signal).then(({ data }) => {
      if (!data.lists) return;
      setNames(data.lists);
      setName((was) => was || data.lists.find((/** @type {any} */ l) => l.rows)?.name || data.lists[0]?.name || '');
    }, (error) => { if (!waiting.signal.aborted) setTrouble(error.message); });
    return () => waiting.abort();
  }, [job.id, planned]);
  useEffect(() => {
    if (!name || planned === null) return undefined;
    const waiting = new AbortController();
    ask('GET', `/jobs/${job.id}/lists/${name}?wait=20`, undefined, waiting.signal).then(
      ({ data }) => { if (data.heads) { setTable(data); setTrouble(''); } },
      (error) => { if (!waiting.signal.aborted) setTrouble(error.message); },
    );
    return () => waiting.abort();
  }, [job.id, name, planned]);
  useEffect(() => { setSort(null); setWord(''); }, [name]);
  const rows = useMemo(() => {
    if (!table) return [];
    const wanted = word.trim().toLowerCase();
    const found = table.rows.filter((row) => !wanted || row.some(([text]) => text.toLowerCase().includes(wanted)));
    if (!sort) return found;
    const ordered = [...found].sort((a, b) => compare(a[sort.head][1], b[sort.head][1]));
    return sort.down ? ordered.reverse() : ordered;
  }, [table, word, sort]);
  if (trouble) return html`<p class="empty bad" role="alert">${trouble}</p>`;
  if (!names) return html`<p class="empty" role="status">The lists come with the plan.</p>`;
  return html`
    <div class="list-view">
      <div class="sheet-bar">
        <label>List
          <select value=${name} onChange=${(/** @type {any} */ e) => setName(e.target.value)}>
            ${names.map((n) => html`<option key=${n.name} value=${n.name}>${n.title} (${n.rows})</option>`)}
          </select></label>
        <label>Rows with <input type="search" value=${word} onInput=${(/** @type {any} */ e) => setWord(e.target.value)} placeholder="a room, an id …" /></label>
        <span class="faint" role="status">${table ? (rows.length === table.rows.length ? countOf(rows.length, 'row') : `${rows.length} of ${countOf(table.rows.length, 'row')}`) : ''}</span>
      </div>
      ${table && (table.rows.length === 0
        ? html`<p class="empty">Nothing on this list in the plan as it stands.</p>`
        : html`<div class="table-box" tabindex="0" role="region" aria-label=${table.title}>
            <table>
              <caption>${table.title}</caption>
              <thead><tr>${table.heads.map((head, i) => html`
                <th key=${i} scope="col" class=${table.numbers[i] ? 'right' : ''} aria-sort=${sort?.head === i ? (sort.down ? 'descending' : 'ascending') : 'none'}>
                  <button onClick=${() => setSort(sort?.head === i ? (sort.down ? null : { head: i, down: true }) : { head: i, down: false })}>${head}${sort?.head === i ? (sort.down ? ' ↓' : ' ↑') : ''}</button>
                </th>`)}</tr></thead>
              <tbody>${rows.map((row, r) => html`<tr key=${r}>${row.map(([text], i) => html`<td key=${i} class=${table.numbers[i] ? 'right' : text.length > 24 ? 'long' : ''}><${Words} text=${text} /></td>`)}</tr>`)}</tbody>
            </table>
          </div>`)}
    </div>`;
}
