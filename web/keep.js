// The board is kept in this browser after every change, so that a closed tab or a flat battery loses nothing. Of several tabs one keeps its
// board; another may take over, and then the board that gives way becomes an earlier board.
import {el, setAttribute} from './dom.js';
import {remember, remembered} from './language.js';
import {kCurrent, NotKeeper, Store} from './store.js';
import {hasWords, say} from './words.js';

const kDelay = 150; // ms after a change; changes in between are kept together
const kHolds = 'tiepoint-keeps'; // remembered once a board was kept: without it the page starts before the store has answered
const kSnapshotEvery = 5 * 60e3; // ms of work between two snapshots

/** @typedef {'idle' | 'saving' | 'saved' | 'elsewhere' | 'lost' | 'blocked'} KeepState */

export class Keep {
  /** @param {?Store} store none where nothing can be stored @param {string} [place] under which the board is kept @param {KeepState} [state] */
  constructor(store, place = kCurrent, state = store ? 'elsewhere' : 'blocked') {
    this.store = store;
    this.place = place;
    /** @type {KeepState} */
    this.state = state;
    /** The store has answered, if only that there is none. @type {Promise<void>} */
    this.opened = Promise.resolve();
    this.opening = false;
    this.timer = 0;
    this.paused = false;
    /** @type {?() => ?string} */
    this.board = null;
    /** What was last handed to the store, or what the page opened with. @type {?string} */
    this.last = null;
    /** The board as it was left when the page was opened, null when there was none. @type {?string} */
    this.left = null;
    /** Nobody's work: an example, an empty board. It is not worth a snapshot. @type {?string} */
    this.untouched = null;
    this.snapped = Date.now(); // [ms since 1970] the last snapshot
    this.pending = 0; // writes that the store has not yet finished
    this.over = false; // the next write takes the place of another tab's board
    this.asking = false;
    /** Lets the lock go. @type {() => void} */
    this.release = () => {};
    this.node = el('div', {class: 'kept', id: 'kept'});
    this.show(this.state);
  }

  /** Begins to open the store; `opened` tells when. @param {string} [place] a frame's own; the page's by default */
  static open(place = kCurrent) {
    const keep = new Keep(null, place, 'idle');
    // Lock and store are in two other processes: both are asked at once.
    const mine = Promise.resolve(navigator.locks ? keep.ask({ifAvailable: true}) : true);
    mine.catch(() => {}); // told by begin()
    keep.opening = true;
    keep.opened = Store.open(place).then((store) => keep.begin(store, mine)).catch(() => {
      keep.release();
      keep.store = null;
      keep.show('blocked');
    }).finally(() => (keep.opening = false));
    return keep;
  }

  /** As far as can be told at once, no board was ever kept here. */
  get empty() {
    return this.place === kCurrent && remembered(kHolds) === null;
  }

  get keeps() {
    return this.state === 'idle' || this.state === 'saving' || this.state === 'saved';
  }

  // --- which tab keeps ---

  /** Keeps, unless another tab does. @param {Store} store @param {Promise<boolean>} mine whether this is the tab that keeps */
  async begin(store, mine) {
    const keeps = await mine;
    this.store = store;
    this.left = keeps ? await store.takeOver() : await store.read().catch(() => null);
    this.show(keeps ? 'idle' : 'elsewhere');
    if (this.left !== null) this.holds();
  }

  holds() {
    if (this.empty) remember(kHolds, 'yes');
  }

  /** @param {LockOptions} options @returns {Promise<boolean>} whether this is now the tab that keeps */
  ask(options) {
    return new Promise((resolve, reject) => this.lock(options, resolve).catch(reject));
  }

  /**
   * Asks for the lock and holds it as long as the tab lives or until another takes it.
   * @param {LockOptions} options @param {(got: boolean) => void} told
   */
  async lock(options, told) {
    await navigator.locks.request(this.place === kCurrent ? 'tiepoint-keep' : `tiepoint-keep ${this.place}`, options, (lock) => {
      told(lock !== null);
      return lock ? new Promise((resolve) => (this.release = () => resolve(undefined))) : undefined;
    }).catch((reason) => {
      if (reason?.name !== 'AbortError') throw reason;
      this.lose();
    });
  }

  /** Somebody works here while another tab keeps: if that one is closed by now, this one keeps. */
  async askAgain() {
    if (this.asking || !this.store || !navigator.locks || this.state === 'blocked') return;
    this.asking = true;
    if (await this.ask({ifAvailable: true}).catch(() => false)) {
      this.over = true;
      this.show('saving');
      this.write();
    }
    this.asking = false;
  }

  /** The person wants this tab's board to be the one that is kept. */
  async takeOver() {
    const text = this.board?.();
    if (!this.store || !text || this.paused) return;
    if (navigator.locks) await this.ask({steal: true});
    this.show('saving');
    this.last = null;
    this.over = true;
    this.write();
  }

  /** Another tab has taken over. What it may not have seen becomes a snapshot. */
  async lose() {
    if (!this.keeps) return;
    clearTimeout(this.timer);
    this.timer = 0;
    const text = this.paused ? null : this.board?.();
    const worth = text && text !== this.untouched;
    this.show(worth ? 'lost' : 'elsewhere');
    if (worth) await this.store?.snapshot(text).catch(() => this.show('blocked'));
  }

  // --- keeping ---

  /** From now on every change is kept. @param {() => ?string} board its text */
  follow(board) {
    this.board = board;
    this.last = board(); // what the page opened with is nobody's work yet
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'hidden' && this.timer) this.write();
    });
  }

  /** What lies on the bench now is not the board to be kept, until resume(): a lesson's. */
  pause() {
    if (this.timer) this.write();
    this.paused = true;
  }

  resume() {
    this.paused = false;
  }

  changed() {
    if (!this.board || this.timer || this.paused) return;
    if (!this.keeps) return void this.askAgain();
    if (this.state === 'saved') this.show('saving');
    this.timer = window.setTimeout(() => this.write(), kDelay);
  }

  async write() {
    clearTimeout(this.timer);
    this.timer = 0;
    if (this.opening) await this.opened;
    const text = this.board?.();
    if (!this.store || !this.keeps || !text) return;
    if (text === this.last) return this.settled();
    // At once, not when it is done: a step back meanwhile is a change that has to be kept again.
    this.last = text;
    ++this.pending;
    this.show('saving');
    const {over} = this;
    this.over = false;
    try {
      await this.store.write(text, over);
      this.holds();
      if (Date.now() - this.snapped > kSnapshotEvery) await this.snapshot(text);
      --this.pending;
      this.settled();
    } catch (reason) {
      --this.pending;
      this.last = null;
      if (reason instanceof NotKeeper) this.lose();
      else if (this.keeps) this.show('blocked');
    }
  }

  settled() {
    if (!this.timer && !this.pending && this.state === 'saving') this.show('saved');
  }

  // --- earlier boards ---

  /** A board is about to leave the bench: it goes among the earlier ones. @param {string} text */
  async snapshot(text) {
    this.snapped = Date.now();
    await this.store?.snapshot(text).catch(() => {});
  }

  /** "Saved" is said only when it is. @param {KeepState} state */
  show(state) {
    this.state = state;
    if (hasWords('keep.saved')) this.tell();
  }

  /** Puts the state into words; the store is opened before the page has any. */
  tell() {
    const {state} = this;
    const other = state === 'elsewhere' || state === 'lost';
    const framed = (state === 'blocked' || state === 'elsewhere') && this.place.startsWith('frame ');
    const text = state === 'idle' ? '' : say(`keep.${state}${framed ? '.frame' : ''}`);
    this.node.replaceChildren(...(text ? [el('p', {}, text)] : []),
      ...(other ? [el('button', {type: 'button', class: 'action', id: 'take-over', onclick: () => this.takeOver()}, say('keep.take-over'))] : []));
    setAttribute(this.node, 'data-state', state);
  }
}
