// The log of a fault hunt: what somebody guesses, measures and mends, in order. It is part of the board, goes with its file and is taken
// back by undo.
import {el, reconcile, setText} from './dom.js';
import {say} from './words.js';

const kKinds = ['guess', 'measurement', 'repair'];
const kLongest = 200; // letters of an entry

export class HuntLog {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.hint = el('p', {class: 'hint'}, say('hunt.hidden'));
    this.entries = el('ol', {class: 'hunt-log', 'aria-label': say('hunt.log')});
    this.kind = el('select', {id: 'hunt-kind'}, ...kKinds.map((kind) => el('option', {value: kind}, say(`hunt.${kind}`))));
    this.text = el('input', {type: 'text', id: 'hunt-text', autocomplete: 'off', maxlength: kLongest});
    this.form = el('form', {class: 'rows'}, el('label', {class: 'row'}, say('hunt.kind'), this.kind), el('label', {class: 'row'}, say('hunt.text'), this.text),
                   el('button', {type: 'submit', class: 'action strong', id: 'hunt-add'}, say('hunt.add')));
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.write();
    });
    this.node = el('section', {class: 'hunt card', id: 'hunt', 'aria-labelledby': 'hunt-heading', hidden: true},
                   el('h2', {id: 'hunt-heading'}, say('hunt.heading')), this.hint, this.entries, this.form);
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    this.node.hidden = !words.hidden && words.hunt.length === 0;
    this.hint.hidden = !words.hidden;
    this.entries.hidden = words.hunt.length === 0;
    reconcile(this.entries, words.hunt.map((entry, index) => ({...entry, key: String(index)})), ({key}) => key, () => el('li'),
              (node, {what, text}) => setText(node, say('hunt.entry', {kind: say(`hunt.${what}`), text})));
  }

  write() {
    const text = this.text.value.trim();
    if (text === '') return this.text.focus();
    const entry = {what: this.kind.value, text};
    if (!this.app.edit({edit: 'hunt', entries: [...this.app.words.hunt, entry]}).ok) return;
    this.text.value = '';
    this.text.focus();
    this.app.announcer.say(say('hunt.added', {text}));
  }
}
