// What this browser holds for the page, in IndexedDB: the board in hand, earlier boards, and boards that could not be read. Every change
// is one transaction, so that two tabs can never write over each other: a tab writes only while its name stands in `keeper`.

const kDatabase = 'tiepoint', kBoards = 'boards', kSnapshots = 'snapshots', kAside = 'aside';
const kKeeper = 'keeper';
/** The place of the page's own board. */
export const kCurrent = 'current';
/** So many earlier boards are kept; the oldest makes room. */
export const kSnapshotCount = 20;

/** @typedef {{text: string, time: number}} Kept a board file and when it was kept [ms since 1970] */
/** @typedef {Kept & {id: number, title: string, parts: number}} Snapshot */
/** @typedef {Kept & {id: number}} SetAside */

/** Another tab has taken over. */
export class NotKeeper extends Error {}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
const answer = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/** Title and number of parts, for the list; a text that is no board has neither. @param {string} text */
function describe(text) {
  try {
    const file = JSON.parse(text);
    return {title: typeof file.title === 'string' ? file.title : '', parts: Array.isArray(file.parts) ? file.parts.length : 0};
  } catch {
    return {title: '', parts: 0};
  }
}

/** @param {any} row */
const textOf = (row) => (row === undefined ? null : typeof row?.text === 'string' ? row.text : JSON.stringify(row));

export class Store {
  /** @param {IDBDatabase} database @param {string} place under which the board in hand is kept */
  constructor(database, place) {
    this.database = database;
    this.place = place;
    this.keeper = place === kCurrent ? kKeeper : `${kKeeper} ${place}`;
    this.me = `${Date.now()}.${Math.random()}`; // the name of this tab
  }

  /** Fails where the browser lets the page store nothing. @param {string} place @returns {Promise<Store>} */
  static open(place) {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open(kDatabase, 2);
      request.onupgradeneeded = () => {
        const {result: database} = request, have = database.objectStoreNames;
        if (!have.contains(kBoards)) database.createObjectStore(kBoards);
        for (const name of [kSnapshots, kAside])
          if (!have.contains(name)) database.createObjectStore(name, {keyPath: 'id', autoIncrement: true});
      };
      request.onsuccess = () => {
        const {result: database} = request;
        database.onversionchange = () => database.close(); // a newer page in another tab must not wait for this one
        resolve(new Store(database, place));
      };
      request.onerror = () => reject(request.error);
      request.onblocked = () => reject(new Error('blocked'));
    });
  }

  /**
   * Runs `work` in one transaction; done only when the browser says that it is written.
   * @template T @param {string[]} names @param {(stores: (name: string) => IDBObjectStore) => Promise<T>} work
   * @param {IDBTransactionDurability} [durability] @returns {Promise<T>}
   */
  async change(names, work, durability = 'strict') {
    const transaction = this.database.transaction(names, 'readwrite', {durability});
    const written = new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(undefined);
      transaction.onabort = () => reject(transaction.error ?? new Error('aborted'));
    });
    written.catch(() => {}); // told below
    try {
      const result = await work((name) => transaction.objectStore(name));
      await written;
      return result;
    } catch (reason) {
      try { transaction.abort(); } catch { /* it has ended by itself */ }
      throw reason;
    }
  }

  /** The board as it was left, null when there is none. @returns {Promise<?string>} */
  async read() {
    return textOf(await answer(this.database.transaction(kBoards).objectStore(kBoards).get(this.place)));
  }

  /** From now on this tab keeps its board, and no other. @returns {Promise<?string>} the board as it was left */
  takeOver() {
    // No board is put there: the start need not wait for the disk.
    return this.change([kBoards], async (stores) => {
      const boards = stores(kBoards);
      const [left] = await Promise.all([answer(boards.get(this.place)), answer(boards.put(this.me, this.keeper))]);
      return textOf(left);
    }, 'relaxed');
  }

  /** The board in hand. @param {string} text @param {boolean} [over] takes the place of another tab's board, which becomes a snapshot */
  async write(text, over = false) {
    await this.change([kBoards, kSnapshots], async (stores) => {
      const boards = stores(kBoards);
      if (over) {
        const other = textOf(await answer(boards.get(this.place)));
        if (other !== null && other !== text) await this.add(stores(kSnapshots), other);
        await answer(boards.put(this.me, this.keeper));
      } else if ((await answer(boards.get(this.keeper))) !== this.me) {
        throw new NotKeeper();
      }
      await answer(boards.put({text, time: Date.now()}, this.place));
    });
  }

  /** @param {string} text */
  async snapshot(text) {
    await this.change([kSnapshots], (stores) => this.add(stores(kSnapshots), text));
  }

  /** A board is listed once, with the latest time. @param {IDBObjectStore} store @param {string} text */
  async add(store, text) {
    /** @type {Snapshot[]} */
    const rows = await answer(store.getAll());
    for (const row of rows.filter((one) => one.text === text)) await answer(store.delete(row.id));
    const others = rows.filter((one) => one.text !== text);
    for (const row of others.slice(0, Math.max(0, others.length + 1 - kSnapshotCount))) await answer(store.delete(row.id));
    await answer(store.add({text, time: Date.now(), ...describe(text)}));
  }

  /** The newest first. @returns {Promise<Snapshot[]>} */
  async snapshots() {
    return (await answer(this.database.transaction(kSnapshots).objectStore(kSnapshots).getAll())).reverse();
  }

  /** The board in hand cannot be read: it leaves its place, unchanged, for one where nothing writes over it. */
  async setAside() {
    await this.change([kBoards, kAside], async (stores) => {
      const text = textOf(await answer(stores(kBoards).get(this.place)));
      if (text === null) return;
      await answer(stores(kAside).add({text, time: Date.now()}));
      await answer(stores(kBoards).delete(this.place));
    });
  }

  /** The newest first. @returns {Promise<SetAside[]>} */
  async aside() {
    return (await answer(this.database.transaction(kAside).objectStore(kAside).getAll())).reverse();
  }
}
