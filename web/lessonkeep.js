// What somebody has done in each lesson, kept in this browser: progress and board. The learner's own board is kept elsewhere (keep.js).

const kDatabase = 'tiepoint-lessons', kStore = 'lessons';
/** The place of a lesson that somebody writes. */
export const kDraft = 'draft';

/**
 * @typedef {{progress: string, board: string, complete: boolean, time: number}} Taken
 * @typedef {{draft: string, time: number}} Draft a lesson that somebody writes
 */

export class LessonKeep {
  /** @type {?Promise<?IDBDatabase>} */
  #database = null;

  /** Null where the browser keeps nothing. @returns {Promise<?IDBDatabase>} */
  open() {
    return this.#database ??= new Promise((resolve) => {
      try {
        const request = indexedDB.open(kDatabase, 1);
        request.onupgradeneeded = () => request.result.createObjectStore(kStore);
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => resolve(null);
        request.onblocked = () => resolve(null);
      } catch {
        resolve(null);
      }
    });
  }

  /** @param {string} id @returns {Promise<?Taken>} */
  async read(id) {
    return (await this.all()).get(id) ?? null;
  }

  /** @returns {Promise<Map<string, Taken>>} */
  async all() {
    const database = await this.open();
    /** @type {Map<string, Taken>} */
    const found = new Map();
    if (!database) return found;
    return new Promise((resolve) => {
      const request = database.transaction(kStore).objectStore(kStore).openCursor();
      request.onsuccess = () => {
        const cursor = request.result;
        if (!cursor) return resolve(found);
        found.set(String(cursor.key), cursor.value);
        cursor.continue();
      };
      request.onerror = () => resolve(found);
    });
  }

  /** @param {string} id @param {Taken|Draft} taken @returns {Promise<boolean>} whether it is kept */
  async write(id, taken) {
    const database = await this.open();
    if (!database) return false;
    return new Promise((resolve) => {
      try {
        const transaction = database.transaction(kStore, 'readwrite', {durability: 'strict'});
        transaction.objectStore(kStore).put(taken, id);
        transaction.oncomplete = () => resolve(true);
        transaction.onabort = () => resolve(false);
      } catch {
        resolve(false);
      }
    });
  }
}
