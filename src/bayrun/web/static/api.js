/** Talk with the server: one shape for refusals, plans waited for with their progress. */

/** What the server would not do, and why, in words. */
export class Refusal extends Error {
  /**
   * @param {number} status
   * @param {{kind: string, says: string, version?: number, steps?: {says: string, by: string}[]}} error
   */
  constructor(status, error) {
    super(error.says);
    this.status = status;
    this.kind = error.kind;
    this.version = error.version;
    this.steps = error.steps ?? [];
  }
}

const AWAY = { kind: 'away', says: 'The program does not answer: it was ended, or this computer slept. Start “bayrun serve” again; nothing kept is lost.' };

/**
 * One request; the answer as data.
 * @param {string} method
 * @param {string} path below /api
 * @param {unknown} [body]
 * @param {AbortSignal} [signal]
 * @returns {Promise<{status: number, data: any}>}
 */
export async function ask(method, path, body, signal) {
  /** @type {RequestInit} */
  const request = { method, signal, headers: { accept: 'application/json' } };
  if (body !== undefined) {
    request.headers = { ...request.headers, 'content-type': 'application/json' };
    request.body = JSON.stringify(body);
  }
  let answer;
  try {
    answer = await fetch(`/api${path}`, request);
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new Refusal(0, AWAY);
  }
  if (answer.status === 204) return { status: 204, data: null };
  const data = await answer.json().catch(() => null);
  if (answer.ok) return { status: answer.status, data };
  throw new Refusal(answer.status, data?.error ?? { kind: 'fault', says: `The program answered with a fault (${answer.status}). Nothing was changed.` });
}

/**
 * The plan of a job as it stands; tells how far it is while it is made.
 * @param {string} job
 * @param {number | null} since version to compare with
 * @param {(working: import('./types').Working) => void} tell
 * @param {AbortSignal} signal
 * @returns {Promise<{version: number, plan: import('./types').Plan}>}
 */
export async function planOf(job, since, tell, signal) {
  const compare = since === null ? '' : `&since=${since}`;
  for (let wait = 0.3; ; wait = 1) {
    const { status, data } = await ask('GET', `/jobs/${job}/plan?wait=${wait}${compare}`, undefined, signal);
    if (status === 200) return data;
    tell(data.working);
  }
}
