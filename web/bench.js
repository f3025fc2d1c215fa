// The bench as the rest of the page sees it: one command layer and one notice of change, over the browser layer (host.js).
import {mount} from './host.js';
import {allWords} from './words.js';

/** @typedef {{board: boolean, readings: boolean, view: boolean, camera: boolean}} Changes */

export class Bench {
  /** @type {((what: Changes) => void)[]} */
  #listeners = [];

  /** @param {import('./host.js').Host} host */
  constructor(host) {
    this.host = host;
  }

  /** One command, answered at once: {ok: true, …} or {ok: false, error}. @param {object} command @returns {any} */
  call(command) {
    return this.host.call(command);
  }

  /** Whether all commands are answered at once; else fetchMore() first for what works out answers (web/program.js). */
  get whole() {
    return this.host.whole;
  }

  fetchMore() {
    return this.host.fetchMore();
  }

  /** @param {(what: Changes) => void} listener */
  onChange(listener) {
    this.#listeners.push(listener);
  }

  /** @param {Changes} what */
  tell(what) {
    for (const listener of this.#listeners) listener(what);
  }

  /** With ?test=1 the browser tests may read positions, words and counts; they never change anything through it. @param {object} app */
  expose(app) {
    if (!new URLSearchParams(location.search).has('test')) return;
    Object.assign(window, {__tiepoint: {app, bench: this, counts: () => this.host.counts()}});
  }
}

/** @param {HTMLCanvasElement} canvas @param {ArrayBuffer} [font] letters that the language of the page needs on the canvas */
export async function startBench(canvas, font) {
  /** @type {?Bench} */
  let bench = null;
  const host = await mount(canvas, {changed: (what) => bench?.tell(what), words: allWords(), font, held: true});
  bench = new Bench(host);
  return bench;
}
