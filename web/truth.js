// "What the board does": the truth table of the board, in words and rows, the present row marked. Worked out when it is opened and when
// the board has changed, never while nobody looks.
import {el, setText} from './dom.js';
import {list, say, word} from './words.js';

/** @typedef {{name: string, momentary: boolean, positions: string[]}} Input */
/** @typedef {{at: number[], seen: string[], state: string[]}} Row */
/** @typedef {{name: string, remembers: boolean, periodic: boolean, terms: ?{input: string, plain: boolean}[][]}} Output */
/** @typedef {{ok: true, sampled: boolean, inputs: Input[], rows: Row[], outputs: Output[]}} Table */

const kMostRows = 64; // longer tables help nobody on a screen

export class Truth {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.shown = '';
    /** @type {?Table} */
    this.table = null;
    /** @type {HTMLElement[]} */
    this.rows = [];
    this.sentences = el('div', {class: 'truth-words', id: 'truth-words'});
    this.box = el('div', {class: 'truth-table'});
    this.node = el('details', {class: 'truth', id: 'truth'}, el('summary', {}, say('truth.heading')), this.sentences, this.box);
    this.node.addEventListener('toggle', () => this.update(this.app.words));
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    this.node.hidden = words.parts.length === 0;
    if (this.node.hidden || !(/** @type {HTMLDetailsElement} */ (this.node).open)) return;
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.update(this.app.words));
    // A press moves the mark, not the table: positions are left out of what decides whether to work it out again.
    const fixed = words.parts.map((part) => [part.name, part.kind, part.leads.map((lead) => lead.hole),
      part.values.filter((value) => value.use === 'value' || part.supply).map((value) => value.number)]);
    const state = JSON.stringify(fixed);
    if (state !== this.shown) {
      this.shown = state;
      this.table = this.app.bench.call({do: 'truth'});
      this.draw();
    }
    this.mark(words);
  }

  draw() {
    const {table} = this;
    if (!table) return;
    this.sentences.replaceChildren(...table.outputs.map((output) => sentenceOf(output)).filter(Boolean).map((text) => el('p', {}, text)),
                                   ...(table.sampled ? [el('p', {}, say('truth.sampled'))] : []));
    if (!table.outputs.length) setText(this.sentences, say('truth.nothing'));
    this.rows = [];
    if (!table.outputs.length || !table.inputs.length) return this.box.replaceChildren();
    const head = el('tr', {}, ...[...table.inputs, ...table.outputs].map(({name}) => el('th', {scope: 'col'}, name)));
    this.rows = table.rows.slice(0, kMostRows).map((row) => el('tr', {},
      ...row.at.map((at, i) => el('td', {}, position(table.inputs[i], at))),
      ...row.seen.map((seen, i) => el('td', {class: seen}, seen === 'periodic' ? say('truth.periodic') : word('state', row.state[i])))));
    this.box.replaceChildren(el('table', {}, el('thead', {}, head), el('tbody', {}, ...this.rows)));
    if (table.rows.length > kMostRows) this.box.append(el('p', {}, say('truth.more', {count: table.rows.length - kMostRows})));
  }

  /** Marks the row of the positions as they are now. @param {import('./types.js').Words} words */
  mark(words) {
    const {table} = this;
    if (!table) return;
    const now = table.inputs.map((input) => positionNow(words, input.name));
    this.rows.forEach((row, k) => {
      const here = table.rows[k].at.every((at, i) => at === now[i]);
      row.classList.toggle('here', here);
      if (here) row.setAttribute('aria-current', 'true');
      else row.removeAttribute('aria-current');
    });
  }
}

/** @param {import('./types.js').Words} words @param {string} name "S1" or "SW1.2" */
function positionNow(words, name) {
  const part = words.parts.find((one) => one.name === name) ?? words.parts.find((one) => name.startsWith(`${one.name}.`));
  const value = part?.values.find((one) => one.use !== 'value' && (part.name === name || name === `${part.name}.${one.key}`));
  return value?.number ?? -1;
}

/** @param {Input} input @param {number} at */
function position(input, at) {
  if (input.positions.length) return word('option', input.positions[at]);
  return say(at ? 'truth.down' : 'truth.up');
}

/** "LED1 works when S1 and S2." @param {Output} output */
function sentenceOf(output) {
  const part = output.name;
  if (output.remembers) return say('truth.remembers', {part});
  if (output.periodic) return say('truth.beats', {part});
  if (!output.terms) return '';
  if (!output.terms.length) return say('truth.never', {part});
  if (output.terms.length === 1 && !output.terms[0].length) return say('truth.always', {part});
  const products = output.terms.map((term) => list(term.map(({input, plain}) => plain ? input : say('truth.not-input', {input}))));
  const when = products.reduce((first, second) => say('truth.either', {first, second}));
  return say('truth.when', {part, when});
}
