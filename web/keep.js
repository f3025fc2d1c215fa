// The board is kept in this browser after every change, so that a closed tab or a flat battery loses nothing.
import {el, setAttribute, setText} from './dom.js';
import {say} from './words.js';

const kDatabase = 'tiepoint', kStore = 'boards', kCurrent = 'current';
const kDelay = 150; // ms after a change; changes in between are kept together

/** @typedef {'idle' | 'saving' | 'saved' | 'elsewhere' | 'blocked'} KeepState */

/** Only one tab keeps its board: two would write over each other. @returns {Promise<boolean>} whether this is the one */
function soleKeeper() {
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise((resolve) => {
    navigator.locks.request('tiepoint-keep', {ifAvailable: true}, (lock) => {
      resolve(lock !== null);
      return lock ? new Promise(() => {}) : undefined; // held as long as the tab lives
    }).catch(() => resolve(true));
  });
}

/** @returns {Promise<IDBDatabase>} */
function openDatabase() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(kDatabase, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(kStore);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error('blocked'));
  });
}

export class Keep {
  /** @param {?IDBDatabase} database @param {KeepState} state */
  constructor(database, state) {
    this.database = database;
    this.state = state;
    this.timer = 0;
    this.paused = false;
    /** @type {?() => ?string} */
    this.board = null;
    /** What was last handed to the store, or what the page opened with. @type {?string} */
    this.last = null;
    this.pending = 0; // writes that the store has not yet finished
    this.node = el('p', {class: 'kept', id: 'kept'});
    this.show(state);
  }

  static async open() {
    try {
      const database = await openDatabase();
      return (await soleKeeper()) ? new Keep(database, 'idle') : new Keep(null, 'elsewhere');
    } catch {
      return new Keep(null, 'blocked');
    }
  }

  /** The board as it was left, null when there is none. @returns {Promise<?string>} */
  read() {
    const {database} = this;
    if (!database) return Promise.resolve(null);
    return new Promise((resolve) => {
      const request = database.transaction(kStore).objectStore(kStore).get(kCurrent);
      request.onsuccess = () => resolve(typeof request.result?.text === 'string' ? request.result.text : null);
      request.onerror = () => resolve(null);
    });
  }

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
    if (!this.database || !this.board || this.timer || this.paused) return;
    if (this.state === 'saved') this.show('saving');
    this.timer = window.setTimeout(() => this.write(), kDelay);
  }

  write() {
    clearTimeout(this.timer);
    this.timer = 0;
    const text = this.board?.();
    if (!this.database || !text) return;
    if (text === this.last) return this.settled();
    try {
      const transaction = this.database.transaction(kStore, 'readwrite', {durability: 'strict'});
      transaction.objectStore(kStore).put({text, time: Date.now()}, kCurrent);
      // At once, not when it is done: a step back meanwhile is a change that has to be kept again.
      this.last = text;
      ++this.pending;
      this.show('saving');
      transaction.oncomplete = () => {
        --this.pending;
        this.settled();
      };
      transaction.onabort = () => {
        --this.pending;
        this.last = null;
        this.show('blocked');
      };
    } catch {
      this.show('blocked');
    }
  }

  settled() {
    if (!this.timer && !this.pending && this.state === 'saving') this.show('saved');
  }

  /** "Saved" is said only when it is. @param {KeepState} state */
  show(state) {
    this.state = state;
    setText(this.node, state === 'idle' ? '' : say(`keep.${state}`));
    setAttribute(this.node, 'data-state', state);
  }
}
