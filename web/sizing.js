// "Which value?": the sums that a bench asks for again and again, with the formula and its numbers, the nearest value and its neighbours.
import {el, setAttribute, setText} from './dom.js';
import {say, sayError, sentence, word} from './words.js';

/** @typedef {{key: string, fields: {key: string, unit: string, standard: string, must: boolean}[], colours?: string[]}} Question */

export class Sizing {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    /** @type {Question[]} */
    this.questions = [];
    this.what = el('select', {id: 'size-what', onchange: () => this.ask()});
    this.about = el('p', {class: 'hint', id: 'size-about'});
    this.fields = el('div', {class: 'rows'});
    this.problem = el('p', {class: 'answer', 'data-look': 'bad', id: 'size-problem'});
    this.formula = el('p', {class: 'size-formula', id: 'size-formula'});
    this.rows = el('ul', {class: 'size-rows', id: 'size-rows'});
    const form = el('form', {class: 'rows', novalidate: true}, el('label', {class: 'size-field'}, el('span', {}, say('size.what')), this.what), this.about, this.fields,
                    el('button', {type: 'submit', class: 'action strong', id: 'size-do'}, say('size.do')), this.problem, this.formula, this.rows);
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.work();
    });
    this.node = el('details', {class: 'truth size', id: 'size'}, el('summary', {}, say('size.heading')), form);
    this.node.addEventListener('toggle', () => this.open());
  }

  /** Filled when it is first opened. */
  open() {
    if (this.questions.length || !(/** @type {HTMLDetailsElement} */ (this.node).open)) return;
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.open());
    this.questions = this.app.bench.call({do: 'size'}).questions;
    this.what.replaceChildren(...this.questions.map(({key}) => el('option', {value: key}, say(`size.of.${key}`))));
    this.ask();
  }

  get question() {
    return /** @type {Question} */ (this.questions.find(({key}) => key === this.what.value));
  }

  /** The fields of what is asked now. */
  ask() {
    const {question} = this;
    setText(this.about, say(`size.about.${question.key}`));
    const row = (/** @type {string} */ key, /** @type {HTMLElement} */ control) => el('label', {class: 'size-field'}, el('span', {}, say(`size.field.${key}`)), control);
    this.inputs = question.fields.map(({key, standard, unit, must}) => el('input', {type: 'text', id: `size-${key}`, name: key, autocomplete: 'off', size: 9, value: standard,
      placeholder: must ? unit : '', 'aria-required': must ? 'true' : null}));
    this.colour = question.colours ? el('select', {id: 'size-colour'}, ...question.colours.map((colour) => el('option', {value: colour}, word('option', colour)))) : null;
    this.series = el('select', {id: 'size-series'}, ...[6, 12, 24].map((series) => el('option', {value: series, selected: series === 12}, `E${series}`)));
    this.fields.replaceChildren(...this.inputs.map((input) => row(input.name, input)), ...(this.colour ? [row('colour', this.colour)] : []), row('series', this.series));
    this.show('', [], '');
  }

  work() {
    const given = Object.fromEntries((this.inputs ?? []).map((input) => [input.name, input.value]));
    const answer = this.app.bench.call({do: 'size', of: this.question.key, given, colour: this.colour?.value ?? '', series: Number(this.series?.value)});
    if (answer.ok) {
      this.show(answer.formula, answer.rows, '');
      this.rows.scrollIntoView({block: 'nearest'});
      this.app.announcer.say(`${say('size.exact.words', {formula: answer.formula})} ${answer.rows.filter((/** @type {{nearest: boolean}} */ row) => row.nearest).map((/** @type {{text: string}} */ row) => row.text).join()}`);
      return;
    }
    const {pointer} = answer.error, bad = this.inputs?.find((input) => pointer === `/given/${input.name}`);
    this.show('', [], sentence(sayError({...answer.error, pointer: undefined})), bad);
    this.app.announcer.say(this.problem.textContent ?? '');
    bad?.focus();
  }

  /** @param {string} formula @param {{text: string, nearest: boolean}[]} rows @param {string} problem @param {HTMLInputElement} [bad] */
  show(formula, rows, problem, bad) {
    setText(this.formula, formula);
    this.rows.replaceChildren(...rows.map(({text, nearest}) => el('li', {dataset: {nearest: String(nearest)}}, nearest ? say('size.row.nearest', {row: text}) : text)));
    setText(this.problem, problem);
    for (const input of this.inputs ?? []) {
      setAttribute(input, 'aria-invalid', input === bad ? 'true' : null);
      setAttribute(input, 'aria-describedby', input === bad ? 'size-problem' : null);
    }
  }
}
