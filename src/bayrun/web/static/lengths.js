/** Lengths as a tape reads them, for previews; what counts is what the server reads and prints. */

/**
 * @param {number} inches
 * @returns {string} such as 7' 3-1/2"
 */
export function tape(inches) {
  const sixteenths = Math.round(Math.abs(inches) * 16);
  const sign = inches < 0 && sixteenths ? '-' : '';
  const feet = Math.floor(sixteenths / 192);
  const rest = sixteenths - feet * 192;
  const whole = Math.floor(rest / 16);
  let top = rest % 16;
  let under = 16;
  while (top && top % 2 === 0) { top /= 2; under /= 2; }
  const part = top ? `${whole ? `${whole}-` : ''}${top}/${under}` : `${whole}`;
  return feet ? `${sign}${feet}'\u00a0${part}"` : `${sign}${part}"`;
}

/**
 * A text cut so that no length breaks over two lines: odd parts are lengths.
 * @param {string} text
 * @returns {string[]}
 */
export function partsOf(text) {
  return text.split(/((?:\d+'[ \u00a0])?(?:\d+-)?\d+(?:\/\d+)?"|\d+'(?:[ \u00a0]\d+(?:-\d+\/\d+)?")?)/);
}

/** @param {number} n @param {string} one @param {string} [many] */
export function countOf(n, one, many) {
  return `${n.toLocaleString('en-US')} ${n === 1 ? one : many ?? `${one}s`}`;
}
