/** Normal or sun: the sun theme is black on white with heavier lines, for noon on a roof. */
import { html, useEffect, useState } from '../ui.js';

const KEY = 'bayrun-theme';

/** @returns {string} */
function kept() {
  try { return localStorage.getItem(KEY) ?? 'normal'; } catch { return 'normal'; }
}

export function Theme() {
  const [theme, setTheme] = useState(kept());
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
    try { localStorage.setItem(KEY, theme); } catch { /* a browser that keeps nothing */ }
  }, [theme]);
  const sun = theme === 'sun';
  return html`<button class="quiet" aria-pressed=${sun} onClick=${() => setTheme(sun ? 'normal' : 'sun')}>Sun</button>`;
}
