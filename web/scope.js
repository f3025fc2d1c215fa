// The oscilloscopes of the board in the notebook: the screen large enough to read, every setting as a form control, what is measured in
// words, and the picture as a file.
import {el, reconcile, setAttribute, setField, setText} from './dom.js';
import {download} from './files.js';
import {isScope} from './partwords.js';
import {cursorWords, drawScreen, heightFor} from './scopescreen.js';
import {list, say, word} from './words.js';

/** @typedef {import('./types.js').Part} Part */
/** @typedef {import('./types.js').Value} Value */
/** @typedef {import('./scopescreen.js').Screen} Screen */

const kMeasures = ['frequency', 'period', 'peakToPeak', 'mean', 'rms', 'duty'];
const kPicture = 1200; // px across of a saved picture

/** @type {WeakMap<HTMLElement, Panel>} */
const panels = new WeakMap();

export class Scopes {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.node = el('div', {class: 'scopes'});
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    const scopes = words.parts.filter(isScope);
    this.node.hidden = scopes.length === 0;
    reconcile(this.node, scopes, (part) => `${part.name} ${part.kind}`, (part) => {
      const panel = new Panel(this.app, part);
      panels.set(panel.node, panel);
      return panel.node;
    }, (node, part) => panels.get(node)?.update(part));
  }
}

class Panel {
  /** @param {import('./app.js').App} app @param {Part} part */
  constructor(app, part) {
    this.app = app;
    this.part = part;
    /** @type {?Screen} */
    this.screen = null;
    this.state = '';
    this.canvas = el('canvas', {role: 'img', class: 'scope-screen'});
    this.context = /** @type {CanvasRenderingContext2D} */ (this.canvas.getContext('2d'));
    const id = `scope-${part.name}`;
    this.heading = el('h2', {id});
    this.run = this.button('run', () => this.set('running', this.value('running').number ? 0 : 1));
    this.single = this.button('single', () => this.once());
    this.fit = this.button('fit', () => this.fitScreen());
    this.table = el('table', {class: 'scope-table'});
    this.told = el('p', {class: 'scope-cursors', 'aria-live': 'polite'});
    this.node = el('section', {class: 'scope card', 'aria-labelledby': id, dataset: {scope: part.name}},
        el('div', {class: 'scope-seen'}, this.heading, this.canvas, el('div', {class: 'actions'}, this.run, this.single, this.fit), this.table, this.told),
        el('div', {class: 'scope-set'}, this.choice('time-scale', 'scope.across'), this.choice('display'), ...this.channels(), this.trigger(), this.cursors(),
           el('div', {class: 'actions'}, this.button('csv', () => this.saveTable()), this.button('png', () => this.savePicture())),
           el('p', {class: 'hint'}, say('scope.safety'))));
  }

  // --- what it is made of ---

  /** @param {string} act @param {() => void} then */
  button(act, then) {
    return el('button', {type: 'button', class: 'action', dataset: {act}, onclick: then}, say(`scope.${act}`));
  }

  /** @param {string} key */
  value(key) {
    return /** @type {Value} */ (this.part.values.find((value) => value.key === key));
  }

  /** @param {string} key @param {string} [label] */
  choice(key, label = `value.${key}`) {
    const field = el('select', {dataset: {value: key}, onchange: () => this.set(key, Number(field.value))},
                     ...(this.value(key).options ?? []).map((option, at) => el('option', {value: at}, word('option', option))));
    return el('label', {class: 'row'}, el('span', {}, say(label)), field);
  }

  /** @param {string} key @param {number} step @param {string} [label] */
  number(key, step, label = `value.${key}`) {
    const {minimum, maximum} = this.value(key);
    const field = el('input', {type: 'number', inputmode: 'decimal', step, min: minimum, max: maximum, autocomplete: 'off', dataset: {value: key}});
    field.addEventListener('change', () => {
      const answer = field.value === '' ? {ok: false} : this.set(key, Number(field.value));
      setAttribute(field, 'aria-invalid', answer.ok ? null : 'true');
    });
    return el('label', {class: 'row'}, el('span', {}, say(label)), field);
  }

  /** @param {string} key @param {string} label */
  check(key, label) {
    const field = el('input', {type: 'checkbox', dataset: {value: key}});
    field.addEventListener('change', () => this.set(key, field.checked ? 1 : 0));
    return el('label', {class: 'scope-check'}, field, el('span', {}, label));
  }

  channels() {
    const count = this.part.leads.length - 1;
    return Array.from({length: count}, (_, at) => el('fieldset', {class: 'scope-channel', dataset: {channel: at + 1}},
        el('legend', {}, this.check(`shown-${at + 1}`, say('scope.channel', {channel: at + 1}))), this.choice(`volts-${at + 1}`, 'scope.up'),
        this.number(`position-${at + 1}`, 0.25, 'scope.zero')));
  }

  trigger() {
    return el('details', {class: 'scope-more', dataset: {more: 'trigger'}}, el('summary', {}, say('scope.trigger')), el('div', {class: 'rows'},
        el('p', {class: 'hint'}, say('scope.trigger.hint')), this.choice('trigger-source'), this.choice('trigger-edge'),
        this.number('trigger-level', 0.1, 'scope.level'), this.choice('trigger-mode'), this.number('time-shift', 0.5)));
  }

  cursors() {
    return el('details', {class: 'scope-more', dataset: {more: 'cursors'}}, el('summary', {}, say('scope.cursors')), el('div', {class: 'rows'},
        el('p', {class: 'hint'}, say('scope.cursors.hint')), this.choice('cursors'), this.number('cursor-time-1', 0.1), this.number('cursor-time-2', 0.1),
        this.choice('cursor-source'), this.number('cursor-level-1', 0.1), this.number('cursor-level-2', 0.1)));
  }

  // --- hands ---

  /** @param {string} key @param {number} number */
  set(key, number) {
    return this.app.try({do: 'set', part: this.part.name, key, number});
  }

  /** One picture, then stop; pressed again it waits for the next one. */
  once() {
    if (this.value('trigger-mode').text !== 'single') this.set('trigger-mode', 2);
    if (this.value('display').number) this.set('display', 0); // a strip has no trigger
    if (!this.value('running').number) this.set('running', 1);
    this.app.try({do: 'scope', part: this.part.name, arm: true});
    this.draw();
  }

  fitScreen() {
    const answer = this.app.try({do: 'scope', part: this.part.name, fit: true});
    if (answer.ok) this.app.announcer.say(answer.fitted ? say('scope.fitted', {time: this.value('time-scale').text}) : say('scope.fitted.not'));
  }

  saveTable() {
    const answer = this.app.try({do: 'scope', part: this.part.name, csv: true});
    if (answer.ok) this.app.saved(download(`${this.part.name.toLowerCase()}-scope.csv`, new Blob([answer.text], {type: 'text/csv'})));
  }

  savePicture() {
    const answer = this.app.try({do: 'scope', part: this.part.name, columns: kPicture});
    if (!answer.ok) return;
    const canvas = el('canvas', {width: kPicture, height: heightFor(kPicture) + 60});
    const title = [this.app.words.title, this.part.name].filter(Boolean).join(' · ');
    drawScreen(/** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d')), canvas.width, canvas.height, answer, title);
    canvas.toBlob((blob) => blob && this.app.saved(download(`${this.part.name.toLowerCase()}-scope.png`, blob)), 'image/png');
  }

  // --- following ---

  /** @param {Part} part */
  update(part) {
    this.part = part;
    setText(this.heading, say('scope.heading', {part: part.name}));
    for (const field of /** @type {NodeListOf<HTMLInputElement|HTMLSelectElement>} */ (this.node.querySelectorAll('[data-value]'))) {
      const {number} = this.value(field.dataset.value ?? '');
      if (field instanceof HTMLInputElement && field.type === 'checkbox') field.checked = number !== 0;
      else setField(field, String(Math.round(number * 1e6) / 1e6));
    }
    const running = this.value('running').number !== 0;
    setText(this.run, say(running ? 'scope.hold' : 'scope.run'));
    setAttribute(this.single, 'aria-pressed', String(this.value('trigger-mode').text === 'single'));
    this.draw();
  }

  draw() {
    const width = Math.round(this.canvas.clientWidth) || 300;
    const answer = this.app.bench.call({do: 'scope', part: this.part.name, columns: Math.max(50, Math.min(1000, width - 34))});
    if (!answer.ok) return;
    this.screen = /** @type {Screen} */ (answer);
    const height = heightFor(width), dense = window.devicePixelRatio || 1;
    if (this.canvas.width !== Math.round(width * dense) || this.canvas.height !== Math.round(height * dense)) {
      this.canvas.width = Math.round(width * dense);
      this.canvas.height = Math.round(height * dense);
      this.canvas.style.height = `${height}px`;
    }
    this.context.setTransform(dense, 0, 0, dense, 0, 0);
    drawScreen(this.context, width, height, this.screen);
    this.tell(this.screen);
  }

  /** The same in words. @param {Screen} screen */
  tell(screen) {
    const said = screen.channels.map(({number, text}) => text ? say('bench.scope.trace', {channel: number, measured: text}) :
        say('bench.scope.trace.nothing', {channel: number}));
    setAttribute(this.canvas, 'aria-label', say('scope.label', {part: this.part.name, state: say(`scope.state.${screen.state}`),
      time: screen.timeText, channels: list(said)}));
    setText(this.told, cursorWords(screen));
    if (screen.state === 'caught' && this.state && this.state !== 'caught') this.app.announcer.say(say('scope.caught', {part: this.part.name}));
    this.state = screen.state;
    this.tellMeasures(screen);
  }

  /** @param {Screen} screen */
  tellMeasures(screen) {
    const channels = screen.channels.map(({number}) => number).join();
    if (this.table.dataset.channels !== channels) {
      this.table.dataset.channels = channels;
      this.table.replaceChildren(
          el('thead', {}, el('tr', {}, el('td', {}), ...screen.channels.map(({number}) => el('th', {scope: 'col', dataset: {trace: number}}, say('scope.channel', {channel: number}))))),
          el('tbody', {}, ...kMeasures.map((measure) => el('tr', {}, el('th', {scope: 'row'}, say(`scope.${measure}`)), ...screen.channels.map(() => el('td'))))));
    }
    kMeasures.forEach((measure, row) => screen.channels.forEach(({measured}, at) =>
        setText(this.table.tBodies[0].rows[row].cells[at + 1], (measured[measure] ?? '–').replace(/^-/, '−'))));
  }
}
