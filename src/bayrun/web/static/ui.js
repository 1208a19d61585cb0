/** What the page is built with: elements as tagged templates, and hooks. */
import { Fragment, h, render } from './vendor/preact/dist/preact.module.js';
import { useCallback, useEffect, useMemo, useReducer, useRef, useState } from './vendor/preact/hooks/dist/hooks.module.js';
import { partsOf } from './lengths.js';
import htm from './vendor/htm/dist/htm.module.js';

/** @typedef {import('./vendor/preact/dist/preact.module.js').ComponentChildren} Children */

/** A text in which no length breaks over two lines. @param {{text: string}} props */
export function Words({ text }) {
  return html`${partsOf(text).map((part, i) => (i % 2 ? html`<span class="nb" key=${i}>${part}</span>` : part))}`;
}

export const html = htm.bind(h);
export { Fragment, h, render, useCallback, useEffect, useMemo, useReducer, useRef, useState };
