/** The state of one open job on the page, and what can be done to it. Views read it and call its verbs. */
import { Refusal, ask, planOf } from './api.js';

/**
 * @typedef {import('./types').Choice} Choice
 * @typedef {import('./types').House} House
 * @typedef {import('./types').JobRow} JobRow
 * @typedef {import('./types').Plan} Plan
 * @typedef {import('./types').Working} Working
 * @typedef {import('./types').Doing} Doing
 */

/**
 * @typedef {object} State
 * @property {JobRow} job
 * @property {House} house
 * @property {Plan | null} plan
 * @property {number | null} planned version that the plan belongs to
 * @property {Working | null} working
 * @property {string} trouble why there is no plan, in words
 * @property {Choice} choice
 * @property {string} level
 * @property {Doing} doing
 * @property {Record<string, boolean>} shown layers of the plan view
 * @property {{says: string, bad: boolean} | null} said last word of the program
 * @property {{says: string, again: () => Promise<void>} | null} conflict
 */

export class Desk {
  /**
   * @param {JobRow} job
   * @param {House} house
   */
  constructor(job, house) {
    /** @type {State} */
    this.state = {
      job,
      house,
      plan: null,
      planned: null,
      working: null,
      trouble: '',
      choice: { what: 'nothing' },
      level: fullest(house),
      doing: {
        what: 'look', kind: house.cables[0]?.letter ?? '', height: '18"', wallKind: house.walls.length ? 'inside 2x4' : 'outside 2x6',
        openingKind: 'door', openingWidth: '32"', tradeKind: 'duct', grid: '1/2"',
      },
      shown: { names: true, joists: false, runs: true, holes: true, obstacles: true },
      said: null,
      conflict: null,
    };
    /** @type {Set<() => void>} */
    this.listeners = new Set();
    /** @type {AbortController | null} */
    this.waiting = null;
    /** @type {number | null} */
    this.before = null;
    /** Ends the wall being drawn at a length; there while the plan is shown. @type {((length: number) => boolean) | null} */
    this.reach = null;
  }

  /** @param {() => void} listener @returns {() => void} */
  listen(listener) {
    this.listeners.add(listener);
    return () => { this.listeners.delete(listener); };
  }

  /** @param {Partial<State>} changes */
  set(changes) {
    this.state = { ...this.state, ...changes };
    for (const listener of [...this.listeners]) listener();
  }

  /** @param {Choice} choice */
  choose(choice) {
    const { house, plan } = this.state;
    /** @type {string | undefined} */
    let level;
    if (choice.what === 'location') level = house.locations.find((q) => q.id === choice.id)?.level;
    if (choice.what === 'hole') level = plan?.holes.find((q) => q.id === choice.id)?.level;
    if (choice.what === 'finding') level = plan?.findings.find((q) => q.id === choice.id)?.where?.level;
    if (choice.what === 'wall') level = house.walls.find((q) => q.id === choice.id)?.level;
    if (choice.what === 'opening') level = house.openings.find((q) => q.id === choice.id)?.level;
    if (choice.what === 'enclosure') level = house.enclosures.find((q) => q.id === choice.id)?.level;
    const known = house.levels.some((one) => one.id === level);
    this.set({ choice, ...(known && level ? { level } : {}), doing: { ...this.state.doing, what: 'look' } });
  }

  /** Ask for the plan of the job as it stands; an older wait is given up. */
  async plan() {
    this.waiting?.abort();
    const waiting = new AbortController();
    this.waiting = waiting;
    this.set({ working: this.state.working ?? { says: 'planning', done: 0, of: 1 }, trouble: '' });
    try {
      const { version, plan } = await planOf(
        this.state.job.id, this.before, (working) => this.set({ working }), waiting.signal,
      );
      if (waiting.signal.aborted) return;
      this.set({ plan, planned: version, working: null });
      if (version !== this.state.job.version) await this.refresh();
    } catch (error) {
      if (waiting.signal.aborted) return;
      this.set({ working: null, trouble: error instanceof Error ? error.message : String(error) });
    }
  }

  /** Take the job as it stands on the server. */
  async refresh() {
    const { data } = await ask('GET', `/jobs/${this.state.job.id}`);
    this.take(data);
  }

  /** @param {{job: JobRow, house: House, says?: string}} opened */
  take(opened) {
    const changed = opened.job.version !== this.state.job.version;
    if (changed && this.state.planned !== null) this.before = this.state.planned;
    this.set({ job: opened.job, house: opened.house });
    if (changed || this.state.plan === null) void this.plan();
  }

  /**
   * Send something that changes the job; say what came of it.
   * @param {string} path below the job
   * @param {Record<string, unknown>} body without the version
   * @param {string} says what the person did, in words
   */
  async change(path, body, says) {
    const send = async () => {
      const { data } = await ask('POST', `/jobs/${this.state.job.id}${path}`, { version: this.state.job.version, ...body });
      this.take(data);
      this.set({ said: { says: data.says ?? says, bad: false }, conflict: null });
    };
    try {
      await send();
      return true;
    } catch (error) {
      if (error instanceof Refusal && error.kind === 'changed') {
        await this.refresh().catch(() => {});
        this.set({
          conflict: {
            says: `${error.message} You wanted: ${says}.`,
            again: async () => {
              try { await send(); } catch (again) { this.tell(again); this.set({ conflict: null }); }
            },
          },
        });
      } else {
        this.tell(error);
      }
      return false;
    }
  }

  /** @param {unknown} error */
  tell(error) {
    this.set({ said: { says: error instanceof Error ? error.message : String(error), bad: true } });
  }

  /** @param {string} verb @param {(string | number)[]} parts @param {string} says */
  edit(verb, parts, says) {
    return this.change('/edits', { verb, arguments: parts }, says);
  }

  /** @param {import('./types').Finding} finding @param {number} fix */
  applyFix(finding, fix) {
    return this.change('/fixes', { finding: finding.id, fix }, finding.fixes[fix].says);
  }

  async undo() {
    if (this.state.job.can_undo && await this.change('/undo', {}, 'a step back')) this.set({ said: { says: 'Took one step back.', bad: false } });
  }

  async redo() {
    if (this.state.job.can_redo && await this.change('/redo', {}, 'a step forward')) this.set({ said: { says: 'Took one step forward.', bad: false } });
  }

  /** Look whether another window changed the job. */
  async look() {
    try {
      const { data } = await ask('GET', `/jobs/${this.state.job.id}/version`);
      if (data.version !== this.state.job.version) {
        await this.refresh();
        this.set({ said: { says: 'Another window changed this job; here it is as it stands now.', bad: false } });
      }
    } catch { /* said when something is asked for */ }
  }

  close() {
    this.waiting?.abort();
    this.listeners.clear();
  }
}

/** The level to begin with: the one with the most locations. @param {House} house */
function fullest(house) {
  const count = (/** @type {string} */ id) => house.locations.filter((q) => q.level === id).length;
  return [...house.levels].sort((a, b) => count(b.id) - count(a.id))[0]?.id ?? '';
}
