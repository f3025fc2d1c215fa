// What the notebook points at on the bench: flags, a way, a repair before it is made. One asker at a time: whoever asked last.
export class Signs {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    /** @type {?object} */
    this.owner = null;
  }

  /** @param {object} owner @param {{holes?: string[], parts?: string[], edits?: object[]}} signs */
  show(owner, signs) {
    this.owner = owner;
    this.bench.call({do: 'signs', ...signs});
  }

  /** What it asked the bench just now shows signs. @param {object} owner */
  take(owner) {
    this.owner = owner;
  }

  /** Another's signs stay. @param {object} owner */
  clear(owner) {
    if (this.owner !== owner) return;
    this.owner = null;
    this.bench.call({do: 'signs'});
  }

  /** @param {object} owner */
  shows(owner) {
    return this.owner === owner;
  }
}
