/** How a plan looks: ink first; cable kinds by letter and dash, findings and boxes by shape. Sizes in screen pixels unless said. */
import CircleStyle from '../vendor/ol/style/Circle.js';
import Fill from '../vendor/ol/style/Fill.js';
import PointGeometry from '../vendor/ol/geom/Point.js';
import RegularShape from '../vendor/ol/style/RegularShape.js';
import Stroke from '../vendor/ol/style/Stroke.js';
import Style from '../vendor/ol/style/Style.js';
import Text from '../vendor/ol/style/Text.js';

/** @typedef {import('../vendor/ol/Feature.js').default} Feature */

const INK = '#20242a';
const FAINT = '#6b7077';
const RULE = '#c9c4b8';
const PAPER = '#fdfcf8';
const WOOD = '#eadfc8';
const ACCENT = '#1b4f7a';
const FONT = 'Bayrun Sans, sans-serif';

/** @type {Record<string, number[]>} */
const DASHES = { solid: [], 'long dash': [12, 5], 'dash dot': [10, 4, 2, 4], 'dotted double': [2, 4], 'short dash': [5, 4] };

const NOTHING = new Style({});

/** @param {string} words @param {Partial<{size: number, bold: boolean, color: string, dy: number, dx: number, box: boolean, always: boolean}>} [more] */
function text(words, more = {}) {
  return new Text({
    text: words,
    font: `${more.bold ? 'bold ' : ''}${more.size ?? 13}px ${FONT}`,
    fill: new Fill({ color: more.color ?? INK }),
    stroke: more.box ? undefined : new Stroke({ color: PAPER, width: 3.5 }),
    backgroundFill: more.box ? new Fill({ color: PAPER }) : undefined,
    backgroundStroke: more.box ? new Stroke({ color: ACCENT, width: 1 }) : undefined,
    padding: more.box ? [3, 6, 2, 6] : undefined,
    offsetY: more.dy ?? 0,
    offsetX: more.dx ?? 0,
    overflow: true,
    declutterMode: more.always ? 'none' : 'declutter',
  });
}

/** @param {string} color @param {number} width @param {number[]} [lineDash] */
const stroke = (color, width, lineDash) => new Stroke({ color, width, lineDash, lineCap: lineDash?.length ? 'butt' : 'round' });

/**
 * @param {Feature} feature
 * @param {number} resolution inches to a pixel
 * @param {import('../desk.js').State | null} state
 * @returns {Style | Style[]}
 */
export function look(feature, resolution, state) {
  const as = feature.get('as');
  const record = feature.get('record');
  const chosen = state && state.choice.what === feature.get('what') && 'id' in state.choice && state.choice.id === feature.get('id');
  switch (as) {
    case 'room': {
      const styles = [new Style({ fill: new Fill({ color: chosen ? '#e7eef4' : PAPER }) })];
      const wide = Math.sqrt(record.area_ft2 * 144) / resolution;
      if (state?.shown.names && wide > record.name.length * 5) {
        styles.push(new Style({ text: text(record.name, { size: 13, color: FAINT }) }));
      }
      return styles;
    }
    case 'wall':
      return new Style({
        fill: new Fill({ color: chosen ? '#c9dbe9' : record.framed ? WOOD : '#dcdad3' }),
        stroke: stroke(chosen ? ACCENT : INK, chosen ? 2.5 : 1.2),
      });
    case 'gap':
      return new Style({ fill: new Fill({ color: PAPER }), stroke: stroke(chosen ? ACCENT : FAINT, chosen ? 3 : 1) });
    case 'window':
      return new Style({ fill: new Fill({ color: '#ffffff' }), stroke: stroke(chosen ? ACCENT : INK, chosen ? 3 : 1) });
    case 'swing':
      return new Style({ stroke: stroke(FAINT, 1) });
    case 'stair':
      return new Style({ stroke: stroke(FAINT, 1, [6, 4]), text: text(record.what.split(',')[0], { size: 12, color: FAINT }) });
    case 'joists':
      return new Style({ stroke: stroke(RULE, 1, [14, 4, 3, 4]) });
    case 'obstacle':
      return new Style({
        fill: new Fill({ color: 'rgba(107,112,119,0.12)' }),
        stroke: stroke(chosen ? ACCENT : FAINT, chosen ? 2.5 : 1, [3, 3]),
        text: resolution < 0.6 ? text(record.kind, { size: 11, color: FAINT }) : undefined,
      });
    case 'power':
      return new Style({ stroke: stroke(chosen ? ACCENT : FAINT, chosen ? 2.5 : 1.2, [5, 4]) });
    case 'bundle': {
      const mine = state && state.choice.what === 'run' && record.runs.includes(state.choice.id);
      const theirs = state && state.choice.what === 'location' && state.plan?.runs.some(
        (run) => record.runs.includes(run.id) && run.ends.includes(/** @type {any} */ (state.choice).id));
      const width = Math.min(1.4 + 0.55 * record.runs.length, 7);
      const kind = record.kinds.length === 1 ? state?.house.cables.find((c) => c.letter === record.kinds[0])?.line : 'solid';
      const [[x0, y0], [x1, y1]] = record.line;
      const long = Math.hypot(x1 - x0, y1 - y0) / resolution;
      const styles = [new Style({
        stroke: stroke(mine || theirs ? ACCENT : INK, mine || theirs ? width + 2 : width, DASHES[kind ?? 'solid'] ?? []),
        zIndex: mine || theirs ? 2 : 1,
      })];
      if (long > 60) {
        styles.push(new Style({
          geometry: new PointGeometry([(x0 + x1) / 2, (y0 + y1) / 2]),
          text: text(record.says, { size: 12, bold: true, color: mine || theirs ? ACCENT : INK }),
          zIndex: 3,
        }));
      }
      return styles;
    }
    case 'hole': {
      const small = record.diameter / 2 / resolution < 3;
      const ink = stroke(chosen ? ACCENT : INK, chosen ? 3 : 1.4);
      const paper = new Fill({ color: PAPER });
      const styles = [new Style(small
        ? { geometry: new PointGeometry(record.at.slice(0, 2)), image: new CircleStyle({ radius: 3, fill: paper, stroke: ink, declutterMode: 'none' }), zIndex: 4 }
        : { fill: paper, stroke: ink, zIndex: 4 })];
      if (resolution < 0.34 || chosen) {
        styles.push(new Style({
          geometry: new PointGeometry(record.at.slice(0, 2)),
          text: text(record.id, { size: 11, dy: -11, color: chosen ? ACCENT : INK }),
          zIndex: 5,
        }));
      }
      return styles;
    }
    case 'enclosure':
      return new Style({
        fill: new Fill({ color: record.chosen ? INK : PAPER }),
        stroke: stroke(chosen ? ACCENT : INK, chosen ? 4 : 2, record.chosen ? [] : [4, 3]),
        text: text(record.id, { size: 13, bold: true, dy: -16 }),
        zIndex: 6,
      });
    case 'location': return location(record, Boolean(chosen), resolution);
    case 'ghost':
      return [
        new Style({ image: square(11, ACCENT, 2.5, '#ffffff'), text: text(feature.get('letter') ?? '', { size: 12, bold: true, color: ACCENT, always: true }), zIndex: 9 }),
        new Style({ text: text(feature.get('says'), { size: 14, bold: true, box: true, dy: -30, color: ACCENT, always: true }), zIndex: 10 }),
      ];
    case 'rubber':
      return [
        new Style({ stroke: stroke(ACCENT, 3, [8, 5]), zIndex: 9 }),
        new Style({ geometry: new PointGeometry(feature.get('at')), text: text(feature.get('says'), { size: 14, bold: true, box: true, color: ACCENT, always: true, dy: -18 }), zIndex: 10 }),
      ];
    case 'node':
      return new Style({ image: new CircleStyle({ radius: 6, stroke: stroke(ACCENT, 2), fill: new Fill({ color: '#ffffff' }), declutterMode: 'none' }), zIndex: 9 });
    case 'pin':
      return new Style({ image: new CircleStyle({ declutterMode: 'none', radius: 16, stroke: stroke(ACCENT, 3) }), zIndex: 8 });
    default: return NOTHING;
  }
}

/** @param {number} radius @param {string} color @param {number} width @param {string} fill */
const square = (radius, color, width, fill) => new RegularShape({ declutterMode: 'none', points: 4, radius: radius * 1.2, angle: Math.PI / 4, fill: new Fill({ color: fill }), stroke: new Stroke({ color, width }) });

/** A square on a wall, a circle in a ceiling, with the letters of its cables. @param {import('../types').Location} q @param {boolean} chosen @param {number} resolution */
function location(q, chosen, resolution) {
  const color = chosen ? ACCENT : INK;
  const fill = chosen ? '#e7eef4' : '#ffffff';
  const r = resolution > 2.4 && !chosen ? 6 : 9;
  const round = q.mount === 'ceiling' || q.mount === 'soffit';
  const image = round
    ? new CircleStyle({ declutterMode: 'none', radius: r, fill: new Fill({ color: fill }), stroke: new Stroke({ color, width: chosen ? 3 : 1.6 }) })
    : square(r, color, chosen ? 3 : 1.6, fill);
  const letters = [...new Set(q.ports.map((p) => p.kind))];
  const styles = [new Style({ image, text: new Text({ text: letters[0] ?? '', font: `bold ${r > 7 ? 12 : 9}px ${FONT}`, fill: new Fill({ color }), offsetY: 1, declutterMode: 'none' }), zIndex: chosen ? 8 : 7 })];
  if (resolution < 0.8 || chosen) {
    styles.push(new Style({ text: text(q.id, { size: 11, dy: 19, color }), zIndex: chosen ? 8 : 7 }));
  }
  return styles;
}
