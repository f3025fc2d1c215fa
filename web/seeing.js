// The switches of the bar for what a real bench hides: under the board, levels, flow; and the pace of time.
import {el} from './dom.js';
import {Sound} from './sound.js';
import {say} from './words.js';

/** @type {['underBoard' | 'levels' | 'flow' | 'hill', string][]} */
const kViews = [['underBoard', 'under-board'], ['levels', 'levels'], ['flow', 'flow'], ['hill', 'hill']];
const kPaces = [1, 0.1, 0.01, 0.001, 0]; // of real time
const kSteps = [1, 0.1, 0.01, 0.001, 0.0001, 0.00001]; // [s]

/** Part of a word's key. @param {number} value */
const inKey = (value) => value.toFixed(5).replace(/\.?0+$/, '').replace('.', '-');

export class Seeing {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    const toggles = kViews.map(([option, key]) => this.toggle(option, key));
    this.pace = el('select', {class: 'bar-button wide pace', id: 'pace', 'aria-label': say('bar.pace'), title: say('bar.pace')},
                   ...kPaces.map((pace) => el('option', {value: String(pace)}, say(`bar.pace.${inKey(pace)}`))));
    this.pace.addEventListener('change', () => this.setPace(Number(/** @type {HTMLSelectElement} */ (this.pace).value)));
    this.step = this.steps();
    this.sound = new Sound(bench);
    this.node = el('div', {class: 'bar-group seeing', role: 'group', 'aria-label': say('bar.seeing')}, ...toggles, this.pace, this.step, this.sound.node);
  }

  /** @param {number} pace */
  setPace(pace) {
    this.bench.call({do: 'view', pace});
    this.step.hidden = pace !== 0;
  }

  /** Single steps, while time stands. */
  steps() {
    const size = /** @type {HTMLSelectElement} */ (el('select', {class: 'bar-button wide pace', id: 'step-size', 'aria-label': say('bar.step.size'), title: say('bar.step.size')},
                    ...kSteps.map((step) => el('option', {value: String(step), selected: step === 0.001}, say(`bar.step.${inKey(step)}`)))));
    const button = el('button', {type: 'button', class: 'bar-button pill', id: 'step', title: say('bar.step.title')}, say('bar.step'));
    button.addEventListener('click', () => this.bench.call({do: 'step', seconds: Number(size.value)}));
    return el('span', {class: 'bar-group steps', hidden: true}, button, size);
  }

  /** The hill is opened and closed on the bench too. @param {import('./types.js').Words} words */
  update(words) {
    this.node.querySelector('#view-hill')?.setAttribute('aria-pressed', String(words.hill));
  }

  /** @param {'underBoard' | 'levels' | 'flow' | 'hill'} option @param {string} key */
  toggle(option, key) {
    const button = el('button', {type: 'button', class: 'bar-button pill', id: `view-${key}`, 'aria-pressed': 'false', title: say(`bar.view.${key}.title`)},
                      say(`bar.view.${key}`));
    button.addEventListener('click', () => {
      const on = button.getAttribute('aria-pressed') !== 'true';
      const answer = this.bench.call({do: 'view', [option]: on});
      button.setAttribute('aria-pressed', String(answer.ok ? answer[option] : !on));
    });
    return button;
  }
}
