/** The drawing board of a plan: features from the state, styles from the look, pointer to verbs. No state of its own but the view. */
import Feature from '../vendor/ol/Feature.js';
import OlMap from '../vendor/ol/Map.js';
import View from '../vendor/ol/View.js';
import { createEmpty, extend, isEmpty } from '../vendor/ol/extent.js';
import CircleGeometry from '../vendor/ol/geom/Circle.js';
import LineString from '../vendor/ol/geom/LineString.js';
import MultiLineString from '../vendor/ol/geom/MultiLineString.js';
import PointGeometry from '../vendor/ol/geom/Point.js';
import Polygon from '../vendor/ol/geom/Polygon.js';
import PointerInteraction from '../vendor/ol/interaction/Pointer.js';
import { defaults } from '../vendor/ol/interaction/defaults.js';
import VectorLayer from '../vendor/ol/layer/Vector.js';
import Projection from '../vendor/ol/proj/Projection.js';
import VectorSource from '../vendor/ol/source/Vector.js';
import { tape } from '../lengths.js';
import { look } from './plan_look.js';

/**
 * @typedef {import('../desk.js').State} State
 * @typedef {import('../types').Location} Location
 * @typedef {import('../types').Wall} Wall
 * @typedef {import('../types').Point} Point
 * @typedef {object} Verbs
 * @property {(choice: import('../types').Choice) => void} choose
 * @property {(location: Location, to: number) => Promise<boolean>} move
 * @property {(wall: Wall, at: number, side: string) => void} place
 * @property {(from: Point, to: Point) => void} wall
 * @property {(wall: Wall, by: number) => Promise<boolean>} shift
 * @property {(wall: Wall, at: number) => void} opening
 * @property {(from: Point, to: Point) => void} trade
 * @property {(wall: Wall, at: number, side: string) => void} enclosure
 */

const SNAP_IN = 0.5;
/** @type {Record<string, number>} */
export const GRIDS = { '1/16"': 1 / 16, '1/2"': 0.5, '1"': 1, '6"': 6, "1'": 12 };
const LAYERS = ['rooms', 'joists', 'obstacles', 'walls', 'openings', 'runs', 'holes', 'boxes', 'hand'];
const HIT = ['boxes', 'holes', 'runs', 'openings', 'obstacles', 'walls', 'rooms'];

/** Where a point lies along a wall, and how far to its left. @param {Wall} wall @param {number[]} point @returns {[number, number]} */
export function onWall(wall, point) {
  const [dx, dy] = [wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]];
  const length = Math.hypot(dx, dy) || 1;
  const [px, py] = [point[0] - wall.start[0], point[1] - wall.start[1]];
  return [(px * dx + py * dy) / length, (py * dx - px * dy) / length];
}

/** @param {Wall} wall @param {number} along @param {number} left @returns {Point} */
export function wallPoint(wall, along, left) {
  const [dx, dy] = [wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]];
  const length = Math.hypot(dx, dy) || 1;
  return [wall.start[0] + (dx * along - dy * left) / length, wall.start[1] + (dy * along + dx * left) / length];
}

/** Closed ring of points. @param {number[][]} points */
const ring = (points) => [[...points, points[0]]];

/** @param {number[]} r x0 y0 x1 y1 */
const rectRing = ([x0, y0, x1, y1]) => ring([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]);

export class PlanBoard {
  /** @param {HTMLElement} box @param {Verbs} verbs */
  constructor(box, verbs) {
    this.verbs = verbs;
    /** @type {State | null} */
    this.state = null;
    /** @type {Record<string, VectorSource>} */
    this.sources = {};
    /** @type {Record<string, VectorLayer>} */
    this.layers = {};
    const layers = LAYERS.map((name) => {
      const source = new VectorSource({ wrapX: false });
      this.sources[name] = source;
      const layer = new VectorLayer({
        source,
        style: (feature, resolution) => look(/** @type {Feature} */ (feature), resolution, this.state),
        declutter: 'labels',
        updateWhileInteracting: true,
        updateWhileAnimating: true,
      });
      this.layers[name] = layer;
      return layer;
    });
    const extent = [-20000, -20000, 20000, 20000];
    this.map = new OlMap({
      target: box,
      layers,
      controls: [],
      interactions: defaults({ altShiftDragRotate: false, pinchRotate: false, doubleClickZoom: false }),
      view: new View({
        projection: new Projection({ code: 'plan-inches', units: 'm', extent, global: false }),
        center: [0, 0],
        resolution: 1,
        minResolution: 0.02,
        maxResolution: 12,
        constrainResolution: false,
        showFullExtent: true,
      }),
    });
    this.map.addInteraction(this.hand());
    this.map.on('click', (event) => this.clicked(event));
    this.map.on('pointermove', (event) => {
      if (event.dragging) return;
      const found = this.under(event.pixel);
      box.classList.toggle('can-choose', found !== null);
      this.hover(event.coordinate);
    });
    box.addEventListener('keydown', this.keys);
    this.box = box;
    /** @type {any} */ (box).board = this; // so that a test can ask where things stand
    this.sized = new ResizeObserver(() => { this.map.updateSize(); if (!this.fitted) this.fit(); });
    this.sized.observe(box);
    this.fitted = false;
    /** Where the wall or the rectangle being drawn begins. @type {Point | null} */
    this.begun = null;
    /** Where the pointer is, on the plan. @type {number[]} */
    this.at = [0, 0];
    /** @type {{house: unknown, plan: unknown, level: string, shown: unknown, choice: unknown, doing: import('../types').Doing | null}} */
    this.drawn = { house: null, plan: null, level: '', shown: null, choice: null, doing: null };
  }

  /** @param {KeyboardEvent} event */
  keys = (event) => {
    const view = this.map.getView();
    const step = (view.getResolution() ?? 1) * 60;
    const [x, y] = view.getCenter() ?? [0, 0];
    /** @type {Record<string, () => void>} */
    const moves = {
      ArrowLeft: () => view.setCenter([x - step, y]),
      ArrowRight: () => view.setCenter([x + step, y]),
      ArrowUp: () => view.setCenter([x, y + step]),
      ArrowDown: () => view.setCenter([x, y - step]),
      '+': () => this.zoom(1 / 1.5),
      '=': () => this.zoom(1 / 1.5),
      '-': () => this.zoom(1.5),
      0: () => this.fit(),
    };
    const move = moves[event.key];
    if (!move || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    move();
  };

  /** @param {number} by */
  zoom(by) {
    const view = this.map.getView();
    view.animate({ resolution: (view.getResolution() ?? 1) * by, duration: 120 });
  }

  fit() {
    const extent = createEmpty();
    for (const name of ['walls', 'rooms']) {
      const found = this.sources[name].getExtent();
      if (found && !isEmpty(found)) extend(extent, found);
    }
    const size = this.map.getSize();
    if (isEmpty(extent) || !size || size[0] < 10) return;
    this.fitted = true;
    this.map.getView().fit(extent, { padding: [28, 28, 28, 28] });
  }

  close() {
    this.sized.disconnect();
    this.box.removeEventListener('keydown', this.keys);
    this.map.setTarget(undefined);
    this.map.dispose();
  }

  /** Bring the board up to a state; only what changed is drawn anew. @param {State} state */
  show(state) {
    const { house, plan, level, shown, choice, doing } = state;
    const was = this.drawn;
    this.state = state;
    this.drawn = { house, plan, level, shown, choice, doing };
    if (house !== was.house || level !== was.level) this.drawHouse(state);
    if (house !== was.house || plan !== was.plan || level !== was.level) this.drawPlan(state);
    if (level !== was.level || was.house === null) {
      if (house.walls.length) this.fit();
      else { this.fitted = true; this.map.getView().setCenter([240, 170]); }
    }
    if (shown !== was.shown) {
      this.layers.joists.setVisible(shown.joists);
      this.layers.runs.setVisible(shown.runs);
      this.layers.holes.setVisible(shown.holes);
      this.layers.obstacles.setVisible(shown.obstacles);
    }
    if (choice !== was.choice || shown !== was.shown || plan !== was.plan) {
      for (const layer of Object.values(this.layers)) layer.changed();
      if (choice !== was.choice) this.bring(state);
    }
    if (doing.what !== was.doing?.what) { this.begun = null; this.sources.hand.clear(); }
  }

  /** Bring what was chosen into sight. @param {State} state */
  bring(state) {
    const { choice, house, plan } = state;
    /** @type {number[] | undefined} */
    let at;
    if (choice.what === 'location') at = house.locations.find((q) => q.id === choice.id)?.at;
    if (choice.what === 'hole') at = plan?.holes.find((q) => q.id === choice.id)?.at;
    if (choice.what === 'finding') at = plan?.findings.find((q) => q.id === choice.id)?.where?.at;
    this.sources.hand.clear();
    if (choice.what === 'finding' && at) {
      this.sources.hand.addFeature(new Feature({ geometry: new PointGeometry(at.slice(0, 2)), as: 'pin' }));
    }
    const size = this.map.getSize();
    if (!at || !size) return;
    const [x, y] = this.map.getPixelFromCoordinate(at.slice(0, 2)) ?? [-1, -1];
    // No farther than needed: what was in sight stays in sight.
    const margin = Math.min(48, size[0] / 4, size[1] / 4);
    const [dx, dy] = [x - Math.min(Math.max(x, margin), size[0] - margin), y - Math.min(Math.max(y, margin), size[1] - margin)];
    if (!dx && !dy) return;
    const view = this.map.getView();
    const [resolution, center] = [view.getResolution() ?? 1, view.getCenter() ?? [0, 0]];
    view.animate({ center: [center[0] + dx * resolution, center[1] - dy * resolution], duration: 200 });
  }

  /** @param {State} state */
  drawHouse({ house, level }) {
    const here = (/** @type {{level: string}} */ one) => one.level === level;
    this.fill('rooms', house.rooms.filter(here).map((room) => new Feature({
      geometry: new Polygon(ring(room.polygon)), as: 'room', what: 'room', id: `${room.level}/${room.name}`, record: room,
    })));
    this.fill('walls', house.walls.filter(here).map((wall) => new Feature({
      geometry: new Polygon(ring(wall.polygon)), as: 'wall', what: 'wall', id: wall.id, record: wall,
    })));
    const gaps = house.openings.filter(here);
    this.fill('openings', [
      ...gaps.map((gap) => new Feature({ geometry: new Polygon(ring(gap.polygon)), as: gap.window ? 'window' : 'gap', what: 'opening', id: gap.id, record: gap })),
      ...gaps.filter((gap) => gap.swing).map((gap) => new Feature({ geometry: new LineString(swing(/** @type {Point[]} */ (gap.swing))), as: 'swing' })),
      ...house.stairs.filter((s) => s.levels.includes(level)).map((s) => new Feature({ geometry: new Polygon(rectRing(s.rect)), as: 'stair', record: s })),
    ]);
    this.fill('joists', house.frames.filter((f) => f.above === level).map((f) => {
      const [x0, y0, x1, y1] = f.area;
      const lines = f.members.map((m) => (f.direction === 'x' ? [[x0, m], [x1, m]] : [[m, y0], [m, y1]]));
      return new Feature({ geometry: new MultiLineString(lines), as: 'joists', record: f });
    }));
    this.fill('obstacles', house.obstacles.filter((o) => o.levels.includes(level) && o.shape !== 'none').map((o) => {
      const geometry = o.shape === 'path' ? new LineString(o.points ?? [])
        : o.shape === 'rect' ? new Polygon(rectRing(o.rect ?? [0, 0, 0, 0]))
        : new CircleGeometry(o.at ?? [0, 0], o.radius);
      return new Feature({ geometry, as: o.shape === 'path' ? 'power' : 'obstacle', what: 'obstacle', id: o.id, record: o });
    }));
  }

  /** @param {State} state */
  drawPlan({ house, plan, level }) {
    const here = (/** @type {{level: string}} */ one) => one.level === level;
    this.fill('boxes', [
      ...house.enclosures.filter(here).map((e) => new Feature({ geometry: new Polygon(ring(e.polygon)), as: 'enclosure', what: 'enclosure', id: e.id, record: e })),
      ...house.locations.filter(here).map((q) => new Feature({ geometry: new PointGeometry(this.spot(q, house.walls)), as: 'location', what: 'location', id: q.id, record: q })),
    ]);
    this.fill('runs', (plan?.bundles[level] ?? []).map((b) => new Feature({
      geometry: new LineString(b.line), as: 'bundle', what: 'run', id: b.runs[0], record: b,
    })));
    this.fill('holes', (plan?.holes ?? []).filter(here).map((h) => new Feature({
      geometry: new CircleGeometry(h.at.slice(0, 2), Math.max(h.diameter / 2, 0.4)), as: 'hole', what: 'hole', id: h.id, record: h,
    })));
  }

  /** A box on a wall is drawn on its room's side. @param {Location} q @param {Wall[]} walls @returns {Point} */
  spot(q, walls) {
    const wall = walls.find((w) => w.id === q.wall);
    if (!wall || q.offset === null) return [q.at[0], q.at[1]];
    const out = wall.thickness / 2 + 3;
    return wallPoint(wall, q.offset, q.side === 'right' ? -out : q.side === 'left' ? out : 0);
  }

  /** @param {string} name @param {Feature[]} features */
  fill(name, features) {
    this.sources[name].clear(true);
    this.sources[name].addFeatures(features);
  }

  /** What lies under a pixel, the most particular first. @param {number[]} pixel @returns {Feature | null} */
  under(pixel) {
    /** @type {Map<string, Feature>} */
    const found = new Map();
    this.map.forEachFeatureAtPixel(pixel, (feature, layer) => {
      const name = LAYERS.find((one) => this.layers[one] === layer);
      if (name && HIT.includes(name) && !found.has(name)) found.set(name, /** @type {Feature} */ (feature));
    }, { hitTolerance: matchMedia('(pointer: coarse)').matches ? 18 : 5 });
    for (const name of HIT) {
      const feature = found.get(name);
      if (feature) return feature;
    }
    return null;
  }

  /** @param {import('ol/MapBrowserEvent.js').default} event */
  clicked(event) {
    const what = this.state?.doing.what ?? 'look';
    if (what === 'place' || what === 'opening' || what === 'enclosure') {
      const at = this.aim(event.coordinate);
      if (at) this.verbs[what](at.wall, at.along, at.side);
      return;
    }
    if (what === 'wall' || what === 'trade') { this.touch(event.coordinate); return; }
    const feature = this.under(event.pixel);
    if (!feature) { this.verbs.choose({ what: 'nothing' }); return; }
    this.verbs.choose({ what: feature.get('what'), id: feature.get('id') });
  }

  /** The wall and face a point means while placing. @param {number[]} coordinate */
  aim(coordinate) {
    if (!this.state) return null;
    const reach = 26 * (this.map.getView().getResolution() ?? 1) + 6;
    /** @type {{wall: Wall, along: number, side: string, off: number} | null} */
    let best = null;
    for (const wall of this.state.house.walls) {
      if (wall.level !== this.state.level) continue;
      const [along, left] = onWall(wall, coordinate);
      const off = Math.abs(left) - wall.thickness / 2;
      if (along < wall.plates[0] || along > wall.plates[1] || off > reach) continue;
      if (!best || off < best.off) best = { wall, along: Math.round(along / SNAP_IN) * SNAP_IN, side: left >= 0 ? 'left' : 'right', off };
    }
    return best;
  }

  /** Begin or end what is drawn by two points; a wall goes on from its end. @param {number[]} coordinate */
  touch(coordinate) {
    const to = this.snap(coordinate);
    const from = this.begun;
    if (!from) { this.begun = to; this.hover(coordinate); return; }
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) < 1) { this.begun = null; this.sources.hand.clear(); return; }
    if (this.state?.doing.what === 'trade') {
      this.begun = null;
      this.verbs.trade(from, to);
    } else {
      this.begun = this.ends(to) ? null : to;
      this.verbs.wall(from, to);
    }
    this.sources.hand.clear();
  }

  /** End the wall being drawn at a length, in the pointer's direction. @param {number} length */
  reach(length) {
    const from = this.begun;
    if (!from) return false;
    const to = this.snap(this.at);
    const far = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
    const [x, y] = far < 1e-6 ? [1, 0] : [(to[0] - from[0]) / far, (to[1] - from[1]) / far];
    /** @type {Point} */
    const end = [from[0] + x * length, from[1] + y * length];
    this.begun = this.ends(end) ? null : end;
    this.verbs.wall(from, end);
    this.sources.hand.clear();
    return true;
  }

  /** True where a point lies on a wall already: a chain of walls ends there. @param {Point} point */
  ends(point) {
    return Boolean(this.state?.house.walls.some((wall) => {
      if (wall.level !== this.state?.level) return false;
      const [along, left] = onWall(wall, point);
      const length = Math.hypot(wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]);
      return Math.abs(left) < 0.01 && along > -0.01 && along < length + 0.01;
    }));
  }

  /** A drawn point: onto a wall's end or center line, square to where it began, else onto the grid. @param {number[]} coordinate @returns {Point} */
  snap(coordinate) {
    const reach = 14 * (this.map.getView().getResolution() ?? 1);
    const walls = this.state?.house.walls.filter((wall) => wall.level === this.state?.level) ?? [];
    for (const wall of walls) {
      for (const node of [wall.start, wall.end]) {
        if (Math.hypot(node[0] - coordinate[0], node[1] - coordinate[1]) <= reach) return [node[0], node[1]];
      }
    }
    const grid = GRIDS[this.state?.doing.grid ?? ''] ?? SNAP_IN;
    const from = this.begun;
    let [x, y] = [Math.round(coordinate[0] / grid) * grid, Math.round(coordinate[1] / grid) * grid];
    if (from) {
      const [dx, dy] = [coordinate[0] - from[0], coordinate[1] - from[1]];
      if (this.state?.doing.what === 'wall' && Math.abs(dy) < Math.abs(dx) * 0.14) y = from[1];
      if (this.state?.doing.what === 'wall' && Math.abs(dx) < Math.abs(dy) * 0.14) x = from[0];
    }
    // In line with what is drawn already, so that outlines close square.
    /** @param {number} value @param {number} axis */
    const inLine = (value, axis) => walls.flatMap((wall) => [wall.start[axis], wall.end[axis]])
      .filter((v) => Math.abs(v - value) <= reach * 0.6).sort((a, b) => Math.abs(a - value) - Math.abs(b - value))[0] ?? value;
    if (!from || x !== from[0]) x = inLine(x, 0);
    if (!from || y !== from[1]) y = inLine(y, 1);
    for (const wall of walls) {
      const [along, left] = onWall(wall, [x, y]);
      const length = Math.hypot(wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]);
      if (along < 0 || along > length || Math.abs(left) > reach) continue;
      const [dx, dy] = [(wall.end[0] - wall.start[0]) / length, (wall.end[1] - wall.start[1]) / length];
      if (from && Math.abs(y - from[1]) < 1e-9 && Math.abs(dx) < 1e-6) return [wall.start[0], y];
      if (from && Math.abs(x - from[0]) < 1e-9 && Math.abs(dy) < 1e-6) return [x, wall.start[1]];
      return wallPoint(wall, Math.round(along / grid) * grid, 0);
    }
    return [x, y];
  }

  /** Show what a touch here would do. @param {number[]} coordinate */
  hover(coordinate) {
    this.at = coordinate;
    const what = this.state?.doing.what ?? 'look';
    if (what === 'look') return;
    this.sources.hand.clear();
    if (what === 'wall' || what === 'trade') {
      const to = this.snap(coordinate);
      const from = this.begun;
      this.sources.hand.addFeature(new Feature({ geometry: new PointGeometry(to), as: 'node' }));
      if (!from) return;
      const geometry = what === 'wall' ? new LineString([from, to]) : new Polygon(rectRing([from[0], from[1], to[0], to[1]]));
      const says = what === 'wall' ? tape(Math.hypot(to[0] - from[0], to[1] - from[1])) : `${tape(Math.abs(to[0] - from[0]))} by ${tape(Math.abs(to[1] - from[1]))}`;
      this.sources.hand.addFeature(new Feature({ geometry, as: 'rubber', says, at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2] }));
      return;
    }
    const at = this.aim(coordinate);
    if (!at) return;
    const out = at.wall.thickness / 2 + 3;
    this.sources.hand.addFeature(new Feature({
      geometry: new PointGeometry(wallPoint(at.wall, at.along, at.side === 'left' ? out : -out)),
      as: 'ghost', says: tape(at.along - at.wall.plates[0]), letter: what === 'place' ? this.state?.doing.kind : '',
    }));
  }

  /** Drag a location along its wall, or a chosen wall sideways. */
  hand() {
    /** @type {{location: Location | null, wall: Wall, at: number, from: number} | null} */
    let held = null;
    return new PointerInteraction({
      handleDownEvent: (event) => {
        if (this.state?.doing.what !== 'look') return false;
        const feature = this.under(event.pixel);
        const { choice } = this.state;
        if (feature?.get('as') === 'wall' && choice.what === 'wall' && choice.id === feature.get('id')) {
          /** @type {Wall} */
          const own = feature.get('record');
          held = { location: null, wall: own, at: 0, from: onWall(own, event.coordinate)[1] };
          return true;
        }
        if (!feature || feature.get('as') !== 'location') return false;
        /** @type {Location} */
        const location = feature.get('record');
        const wall = this.state?.house.walls.find((w) => w.id === location.wall);
        if (!wall || location.offset === null) return false;
        held = { location, wall, at: location.offset, from: onWall(wall, event.coordinate)[0] };
        return true;
      },
      handleDragEvent: (event) => {
        if (!held) return;
        const { wall, location, from } = held;
        if (!location) {
          held.at = Math.round((onWall(wall, event.coordinate)[1] - from) / SNAP_IN) * SNAP_IN;
          this.sources.hand.clear();
          const ends = [wallPoint(wall, 0, held.at), wallPoint(wall, Math.hypot(wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]), held.at)];
          this.sources.hand.addFeature(new Feature({ geometry: new LineString(ends), as: 'rubber', says: tape(Math.abs(held.at)), at: [(ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2] }));
          return;
        }
        const along = (location.offset ?? 0) + onWall(wall, event.coordinate)[0] - from;
        held.at = Math.min(Math.max(Math.round(along / SNAP_IN) * SNAP_IN, wall.plates[0]), wall.plates[1]);
        const out = wall.thickness / 2 + 3;
        this.sources.hand.clear();
        this.sources.hand.addFeature(new Feature({
          geometry: new PointGeometry(wallPoint(wall, held.at, location.side === 'right' ? -out : out)),
          as: 'ghost', says: tape(held.at - wall.plates[0]), letter: location.ports[0]?.kind ?? '',
        }));
      },
      handleUpEvent: () => {
        const done = held;
        held = null;
        this.sources.hand.clear();
        if (!done) return false;
        const { location } = done;
        if (!location) {
          if (done.at) void this.verbs.shift(done.wall, done.at);
          return false;
        }
        if (Math.abs(done.at - (location.offset ?? 0)) < SNAP_IN / 2) this.verbs.choose({ what: 'location', id: location.id });
        else void this.verbs.move(location, done.at).then(() => this.verbs.choose({ what: 'location', id: location.id }));
        return false;
      },
      stopDown: (handled) => handled,
    });
  }
}

/** A door's swing: the leaf, and the quarter circle it moves on. @param {Point[]} points hinge, open end, closed end */
function swing([hinge, open, closed]) {
  const from = Math.atan2(open[1] - hinge[1], open[0] - hinge[0]);
  let by = Math.atan2(closed[1] - hinge[1], closed[0] - hinge[0]) - from;
  if (by > Math.PI) by -= 2 * Math.PI;
  if (by < -Math.PI) by += 2 * Math.PI;
  const r = Math.hypot(open[0] - hinge[0], open[1] - hinge[1]);
  const arc = Array.from({ length: 13 }, (_, i) => [hinge[0] + r * Math.cos(from + (by * i) / 12), hinge[1] + r * Math.sin(from + (by * i) / 12)]);
  return [hinge, open, ...arc];
}

