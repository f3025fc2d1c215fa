// "Why?" of one part: why it works, or where the way of the current breaks. The way is drawn on the bench with the same numbers, and told
// here step by step. Asked again after each change of the board while it lies open.
import {el, reconcile, setText} from './dom.js';
import {say} from './words.js';

/** @typedef {{answer: string, text: string, press: string[], steps: {part: string, text: string}[]}} Explained */

export class Why {
  /** @param {import('./app.js').App} app @param {string} part */
  constructor(app, part) {
    this.app = app;
    this.part = part;
    this.revision = -1;
    this.text = el('p', {class: 'why-text'});
    this.steps = el('ol', {class: 'why-steps'});
    this.question = el('summary');
    this.node = el('details', {class: 'why-part'}, this.question, this.text, this.steps);
    this.node.addEventListener('toggle', () => (this.open ? this.update(true) : this.app.signs.clear(this)));
  }

  get open() {
    return /** @type {HTMLDetailsElement} */ (this.node).open;
  }

  /** @param {boolean} asked by a person just now, else by a change of the board */
  update(asked = false) {
    const state = this.app.words.parts.find(({name}) => name === this.part)?.reading.state ?? '';
    const about = state === 'dark' ? 'dark' : ['lit', 'faint', 'too-bright'].includes(state) ? 'lit' : 'way';
    setText(this.question, say(`why.ask.${about}`, {part: this.part}));
    const {revision} = this.app.words;
    if (!this.open || (!asked && revision.board === this.revision)) return;
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.update(asked));
    this.revision = revision.board;
    const show = asked || this.app.signs.shows(this);
    if (show) this.app.signs.take(this);
    const answer = this.app.bench.call({do: 'why', part: this.part, show});
    if (!answer.ok) return this.app.fail(answer.error);
    setText(this.text, answer.text);
    reconcile(this.steps, answer.steps.map((/** @type {object} */ step, /** @type {number} */ index) => ({...step, key: String(index)})),
              ({key}) => key, () => el('li'), (node, {text}) => setText(node, text));
    if (asked) this.app.announcer.say(answer.text);
  }

  /** The part is no longer chosen. */
  shut() {
    /** @type {HTMLDetailsElement} */ (this.node).open = false;
    this.app.signs.clear(this);
  }
}
