/** The frame and the runs as a body that turns: drag or one finger turns, two fingers or the wheel come nearer. */
import * as THREE from '../vendor/three/build/three.module.js';
import { OrbitControls } from '../vendor/three/examples/jsm/controls/OrbitControls.js';
import { ask } from '../api.js';
import { html, useEffect, useRef, useState } from '../ui.js';

/**
 * @typedef {{role: string, material: string, level: string, box: number[]}} Box
 * @typedef {{role: string, material: string, level: string, base: number[][], z: [number, number]}} Prism
 * @typedef {{boxes: Box[], prisms: Prism[]}} Frame
 */

/** @type {Record<string, number>} */
const COLORS = { wood: 0xd9c7a3, steel: 0xaab0b6, concrete: 0xc9c7c0, truss: 0xcdb98f, 'I-joist': 0xcdb98f, engineered: 0xb99f6c, gypsum: 0xe8e6df };
const ALOFT = /barrier|joist|truss|chord|rafter|edge member|beam|subfloor/;

/** @param {{desk: import('../desk.js').Desk}} props */
export function TurnView({ desk }) {
  const { job, house, plan, planned, choice } = desk.state;
  const box = useRef(/** @type {HTMLDivElement | null} */ (null));
  const stage = useRef(/** @type {Stage | null} */ (null));
  const [frame, setFrame] = useState(/** @type {Frame | null} */ (null));
  const [levels, setLevels] = useState(/** @type {Record<string, boolean>} */ (Object.fromEntries(house.levels.map((l) => [l.id, true]))));
  const [aloft, setAloft] = useState(false);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    if (planned === null) return undefined;
    const waiting = new AbortController();
    ask('GET', `/jobs/${job.id}/frame?wait=20`, undefined, waiting.signal).then(
      ({ data }) => { if (data.boxes) setFrame(data); }, (error) => { if (!waiting.signal.aborted) setTrouble(error.message); },
    );
    return () => waiting.abort();
  }, [job.id, planned]);
  useEffect(() => {
    if (!box.current) return undefined;
    try {
      stage.current = new Stage(box.current);
    } catch {
      setTrouble('This browser cannot show 3-D here. The plan and the drawings show the same house.');
      return undefined;
    }
    return () => { stage.current?.close(); stage.current = null; };
  }, []);
  const run = choice.what === 'run' ? choice.id : '';
  useEffect(() => {
    if (frame && stage.current) stage.current.show(frame, plan, house, { levels, aloft, run });
  }, [frame, plan, house, levels, aloft, run]);
  return html`
    <div class="turn-view">
      <div class="plan-bar">
        <span role="group" aria-label="Levels" class="layers">
          ${house.levels.map((l) => html`<label key=${l.id}><input type="checkbox" checked=${levels[l.id]} onChange=${(/** @type {any} */ e) => setLevels({ ...levels, [l.id]: e.target.checked })} /> Level ${l.id}</label>`)}
          <label><input type="checkbox" checked=${aloft} onChange=${(/** @type {any} */ e) => setAloft(e.target.checked)} /> Joists and trusses</label>
        </span>
        <span class="zoom" role="group" aria-label="Look from">
          <button onClick=${() => stage.current?.turn(-0.4)} aria-label="Turn left">⟲</button>
          <button onClick=${() => stage.current?.home()}>Whole house</button>
          <button onClick=${() => stage.current?.turn(0.4)} aria-label="Turn right">⟳</button>
        </span>
      </div>
      ${trouble && html`<p class="empty bad" role="alert">${trouble}</p>`}
      <div class="board" ref=${box} tabindex="0" role="img" aria-label=${`${house.name} as a body: its frame and ${plan?.runs.length ?? 0} runs. The lists and drawings say the same in words.`}></div>
    </div>`;
}

/** The stage: made once, shown anew as the plan changes; drawn only when something moved. */
class Stage {
  /** @param {HTMLElement} box */
  constructor(box) {
    this.box = box;
    this.renderer = new THREE.WebGLRenderer({ antialias: true });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.setClearColor(0xfdfcf8);
    box.append(this.renderer.domElement);
    this.scene = new THREE.Scene();
    this.scene.add(new THREE.HemisphereLight(0xffffff, 0xbdb5a5, 2.4));
    const sun = new THREE.DirectionalLight(0xffffff, 1.6);
    sun.position.set(-400, -600, 900);
    this.scene.add(sun);
    this.camera = new THREE.PerspectiveCamera(40, 1, 10, 20000);
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, this.renderer.domElement);
    this.controls.maxPolarAngle = Math.PI * 0.55;
    this.controls.addEventListener('change', () => this.draw());
    this.body = new THREE.Group();
    this.scene.add(this.body);
    this.sized = new ResizeObserver(() => this.size());
    this.sized.observe(box);
    this.placed = false;
    this.size();
  }

  size() {
    const { clientWidth: w, clientHeight: h } = this.box;
    if (!w || !h) return;
    this.renderer.setSize(w, h);
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  draw() { this.renderer.render(this.scene, this.camera); }

  /** @param {number} by radians */
  turn(by) {
    const from = this.camera.position.clone().sub(this.controls.target);
    from.applyAxisAngle(new THREE.Vector3(0, 0, 1), by);
    this.camera.position.copy(this.controls.target).add(from);
    this.controls.update();
    this.draw();
  }

  home() {
    const bounds = new THREE.Box3().setFromObject(this.body);
    if (bounds.isEmpty()) return;
    const middle = bounds.getCenter(new THREE.Vector3());
    const radius = bounds.getSize(new THREE.Vector3()).length() / 2;
    const narrow = Math.min(1, this.camera.aspect);
    const far = radius / Math.sin((this.camera.fov * Math.PI) / 360) / narrow * 0.86;
    this.controls.target.copy(middle);
    this.camera.position.copy(middle).add(new THREE.Vector3(-0.35, -0.78, 0.62).normalize().multiplyScalar(far));
    this.controls.update();
    this.draw();
  }

  /**
   * @param {Frame} frame
   * @param {import('../types').Plan | null} plan
   * @param {import('../types').House} house
   * @param {{levels: Record<string, boolean>, aloft: boolean, run: string}} wish
   */
  show(frame, plan, house, wish) {
    this.clear();
    /** @type {Map<number, Box[]>} */
    const byColor = new Map();
    const wanted = (/** @type {{role: string, level: string}} */ m) => (wish.levels[m.level] ?? true) && (wish.aloft || !ALOFT.test(m.role));
    for (const member of frame.boxes.filter(wanted)) {
      const color = COLORS[member.material] ?? 0xd9c7a3;
      byColor.set(color, [...(byColor.get(color) ?? []), member]);
    }
    const cube = new THREE.BoxGeometry(1, 1, 1);
    const place = new THREE.Matrix4();
    for (const [color, members] of byColor) {
      const mesh = new THREE.InstancedMesh(cube, new THREE.MeshLambertMaterial({ color }), members.length);
      members.forEach(({ box: [x0, y0, z0, x1, y1, z1] }, i) => {
        place.makeScale(x1 - x0, y1 - y0, z1 - z0).setPosition((x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2);
        mesh.setMatrixAt(i, place);
      });
      this.body.add(mesh);
    }
    for (const member of frame.prisms.filter(wanted)) {
      const shape = new THREE.Shape(member.base.map(([x, y]) => new THREE.Vector2(x, y)));
      const geometry = new THREE.ExtrudeGeometry(shape, { depth: member.z[1] - member.z[0], bevelEnabled: false });
      const mesh = new THREE.Mesh(geometry, new THREE.MeshLambertMaterial({ color: COLORS[member.material] ?? 0xd9c7a3 }));
      mesh.position.z = member.z[0];
      this.body.add(mesh);
    }
    for (const run of plan?.runs ?? []) {
      const mine = run.id === wish.run;
      const points = run.path.map(([x, y, z]) => new THREE.Vector3(x, y, z));
      if (points.length < 2) continue;
      const curve = new THREE.CurvePath();
      for (let i = 1; i < points.length; i += 1) {
        if (points[i].distanceTo(points[i - 1]) > 1e-3) curve.add(new THREE.LineCurve3(points[i - 1], points[i]));
      }
      if (!curve.curves.length) continue;
      const tube = new THREE.TubeGeometry(/** @type {any} */ (curve), Math.min(curve.curves.length * 6, 240), mine ? 1.6 : 0.7, 5);
      this.body.add(new THREE.Mesh(tube, new THREE.MeshLambertMaterial({ color: mine ? 0x9c1c1c : 0x1b4f7a })));
    }
    for (const q of house.locations) {
      if (!(wish.levels[q.level] ?? true)) continue;
      const mesh = new THREE.Mesh(cube, new THREE.MeshLambertMaterial({ color: 0xffffff }));
      mesh.scale.set(4, 4, 4.5);
      mesh.position.set(q.at[0], q.at[1], q.at[2]);
      this.body.add(mesh);
    }
    for (const e of house.enclosures.filter((one) => one.chosen)) {
      const xs = e.polygon.map((p) => p[0]);
      const ys = e.polygon.map((p) => p[1]);
      const mesh = new THREE.Mesh(cube, new THREE.MeshLambertMaterial({ color: 0x20242a }));
      mesh.scale.set(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys), e.z[1] - e.z[0]);
      mesh.position.set((Math.max(...xs) + Math.min(...xs)) / 2, (Math.max(...ys) + Math.min(...ys)) / 2, (e.z[0] + e.z[1]) / 2);
      this.body.add(mesh);
    }
    if (!this.placed) { this.placed = true; this.home(); }
    this.draw();
  }

  clear() {
    for (const child of [...this.body.children]) {
      const mesh = /** @type {THREE.Mesh} */ (child);
      mesh.geometry.dispose();
      /** @type {THREE.Material} */ (mesh.material).dispose();
      this.body.remove(child);
    }
  }

  close() {
    this.sized.disconnect();
    this.controls.dispose();
    this.clear();
    this.renderer.dispose();
    this.renderer.domElement.remove();
  }
}
