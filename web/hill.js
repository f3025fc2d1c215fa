// The path as a hill, in words: from a supply's plus through a chosen part to its minus, each part a step down. Worked out while it is open.
import {el, reconcile, setAttribute, setField, setText} from './dom.js';
import {say, word} from './words.js';

/** @typedef {{part: string, kind: string, flat: boolean, before: ?number, after: ?number, current: ?number, state?: string}} HillStep */

/** @param {?number} value [V] */
const volts = (value) => value === null ? say('hill.unknown') : say('hill.volts', {value: (Math.abs(value) < 0.005 ? 0 : value).toFixed(2)});

/** "R1, Resistor: 3.12 V down, from 5.00 V to 1.88 V" @param {HillStep} step @param {number} index */
function sayHillStep(step, index) {
  const args = {part: step.part, kind: word('kind', step.kind), from: volts(step.before), to: volts(step.after)};
  if (step.before === null || step.after === null) return say('hill.step.unknown', args);
  const drop = step.before - step.after;
  const size = volts(Math.abs(drop));
  if (index === 0) return say('hill.rise', {...args, size});
  if (Math.abs(drop) < 0.005) return say('hill.step.none', args);
  return say(drop < 0 ? 'hill.step.up' : step.state === 'open' ? 'hill.step.open' : 'hill.step', {...args, size});
}

export class HillWords {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.part = el('select', {id: 'hill-part', onchange: () => this.choose()});
    this.steps = el('ol', {class: 'hill-steps', id: 'hill-steps'});
    this.none = el('p', {class: 'hint', id: 'hill-none'});
    this.draw = el('button', {type: 'button', class: 'action', id: 'hill-draw', 'aria-pressed': 'false', onclick: () => this.toggle()}, say('hill.draw'));
    this.node = el('details', {class: 'why', id: 'hill'}, el('summary', {}, say('hill.heading')),
      el('div', {class: 'rows'}, el('label', {class: 'row'}, el('span', {}, say('hill.part')), this.part), this.none, this.steps,
         el('div', {class: 'actions'}, this.draw)));
    this.node.addEventListener('toggle', () => this.update(this.app.words));
  }

  toggle() {
    const {hill} = this.app.words;
    this.app.bench.call({do: 'view', hill: !hill});
  }

  choose() {
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.choose());
    this.app.try({do: 'hill', part: this.part.value});
    if (this.app.words.hill) this.app.bench.call({do: 'view', hill: true});
    this.update(this.app.words);
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    setAttribute(this.draw, 'aria-pressed', String(words.hill));
    if (!(/** @type {HTMLDetailsElement} */ (this.node).open)) return;
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.update(this.app.words));
    const answer = this.app.bench.call({do: 'hill'});
    if (!answer.ok) return;
    if ([...this.part.options].map(({value}) => value).join() !== answer.choices.join())
      this.part.replaceChildren(...answer.choices.map((/** @type {string} */ name) => el('option', {value: name}, name)));
    setField(this.part, answer.part);
    /** @type {HillStep[]} */
    const steps = answer.steps.filter((/** @type {HillStep} */ step) => !step.flat);
    this.none.hidden = steps.length > 0;
    setText(this.none, answer.part ? say('bench.hill.none', {part: answer.part}) : say('bench.hill.empty'));
    const said = steps.map((step, index) => ({key: `${index} ${step.part}`, text: sayHillStep(step, index)}));
    if (steps.length) said.push({key: 'back', text: say('hill.back', {part: steps[0].part})});
    reconcile(this.steps, said, ({key}) => key, () => el('li'), (item, {text}) => setText(item, text));
  }
}
