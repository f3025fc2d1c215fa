// The switches of the bar for what a real bench hides: under the board, levels, flow; and the pace of time.
import {el} from './dom.js';
import {say} from './words.js';

/** @type {['underBoard' | 'levels' | 'flow', string][]} */
const kViews = [['underBoard', 'under-board'], ['levels', 'levels'], ['flow', 'flow']];
const kPaces = [1, 0.1, 0.01, 0.001, 0]; // of real time

export class Seeing {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    const toggles = kViews.map(([option, key]) => this.toggle(option, key));
    this.pace = el('select', {class: 'bar-button wide pace', id: 'pace', 'aria-label': say('bar.pace'), title: say('bar.pace')},
                   ...kPaces.map((pace) => el('option', {value: String(pace)}, say(`bar.pace.${String(pace).replace('.', '-')}`))));
    this.pace.addEventListener('change', () => bench.call({do: 'view', pace: Number(/** @type {HTMLSelectElement} */ (this.pace).value)}));
    this.node = el('div', {class: 'bar-group seeing', role: 'group', 'aria-label': say('bar.seeing')}, ...toggles, this.pace);
  }

  /** @param {'underBoard' | 'levels' | 'flow'} option @param {string} key */
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
