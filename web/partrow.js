// One part in the notebook's list: what it is, where it sits, what it does now; chosen, also everything that can be done with it.
import {el, reconcile, setAttribute, setField, setText, taken} from './dom.js';
import {makeHold} from './hold.js';
import {isNote, NoteForm} from './note.js';
import {isScope, kindName, leadSentence, mark, numbers, places, showHole, stateLook, stateWord, valueText} from './partwords.js';
import {Why} from './why.js';
import {list, say, word} from './words.js';

/** @typedef {import('./types.js').Part} Part */
/** @typedef {import('./types.js').Value} Value */

/** @type {WeakMap<HTMLElement, PartRow>} */
const rows = new WeakMap();

/** @param {import('./app.js').App} app @param {Part} part */
export function createRow(app, part) {
  const row = new PartRow(app, part);
  rows.set(row.node, row);
  return row.node;
}

/** @param {HTMLElement} node @param {Part} part @param {number} index @param {import('./types.js').Words} words */
export function updateRow(node, part, index, words) {
  rows.get(node)?.update(part, index, words);
}

class PartRow {
  /** @param {import('./app.js').App} app @param {Part} part */
  constructor(app, part) {
    this.app = app;
    this.part = part;
    this.name = el('span', {class: 'part-name'});
    this.kind = el('span', {class: 'part-kind'});
    this.sign = el('span', {'aria-hidden': 'true'});
    this.state = el('span', {class: 'state-word'});
    this.pill = el('span', {class: 'state'}, this.sign, ' ', this.state);
    this.select = el('button', {type: 'button', class: 'part-select', onclick: (/** @type {MouseEvent} */ event) => this.toggle(event)}, this.name, ' ', this.kind, ' ', this.pill);
    this.numbers = el('p', {class: 'part-numbers'});
    this.where = el('p', {class: 'part-where'});
    this.quick = el('div', {class: 'part-quick'});
    this.more = el('div', {class: 'part-more', hidden: true});
    this.node = el('li', {class: 'part'}, this.select, this.where, this.numbers, this.quick, this.more);
    this.quickActions();
  }

  /** With Shift, Ctrl or Command beside what is selected already. @param {MouseEvent} event */
  toggle(event) {
    if (event.shiftKey || event.ctrlKey || event.metaKey) {
      this.app.bench.call({do: 'select', part: this.part.name, toggle: true});
      return;
    }
    const chosen = this.app.words.selected === this.part.name;
    this.app.bench.call({do: 'select', part: chosen ? '' : this.part.name});
  }

  /** Hands on the part that are wanted all the time: hold, slide, switch. */
  quickActions() {
    if (isNote(this.part)) {
      this.form = new NoteForm(this.app, () => this.part, `note-${this.part.name}`);
      this.quick.append(this.form.node);
      return;
    }
    if (isScope(this.part)) return; // its settings stand beside its screen
    for (const value of this.part.values) {
      if (value.use === 'momentary') this.quick.append(this.holdButton(value));
      if (value.use === 'position') this.quick.append(this.positionControl(value));
    }
  }

  /** @param {Value} value */
  holdButton(value) {
    const {app} = this;
    const button = el('button', {type: 'button', class: 'action strong', dataset: {act: 'hold'}, 'aria-label': say('part.press', {part: this.part.name})},
                      say('part.press.short'));
    makeHold(button, (down) => app.press(this.part.name, down), () => this.valueOf(value.key)?.number === 1);
    return button;
  }

  /** A switch of two positions is a button, more are a list; a knob that may stand anywhere is a field. @param {Value} value */
  positionControl(value) {
    const {app} = this;
    if (value.options && value.options.length > 2) return this.optionList(value);
    if (value.key === 'charge') return this.newCells();
    if (!value.options && value.key !== 'on' && !value.key.startsWith('switch-')) return this.valueField(value);
    return el('button', {
      type: 'button', class: 'action', dataset: {act: 'position', value: value.key},
      onclick: () => app.try({do: 'set', part: this.part.name, key: value.key, number: this.valueOf(value.key)?.number ? 0 : 1}),
    });
  }

  /** Other cells, as full as new ones are. */
  newCells() {
    return el('button', {type: 'button', class: 'action', dataset: {act: 'renew'}, 'aria-label': say('part.renew.name', {part: this.part.name}),
      onclick: () => this.app.try({do: 'set', part: this.part.name, key: 'charge', number: 1})}, say('part.renew'));
  }

  /** @param {string} key */
  valueOf(key) {
    return this.part.values.find((value) => value.key === key);
  }

  /** @param {Part} part @param {number} index @param {import('./types.js').Words} words */
  update(part, index, words) {
    this.part = part;
    setText(this.name, part.name);
    setText(this.kind, mark(part) ? say('part.kind.mark', {kind: kindName(part), mark: mark(part)}) : kindName(part));
    const {look, sign} = stateLook(part.reading.state);
    setText(this.sign, sign);
    setText(this.state, stateWord(part));
    setAttribute(this.pill, 'data-look', look);
    setText(this.where, places(part));
    setText(this.numbers, numbers(part));
    this.numbers.hidden = this.numbers.textContent === '';
    if (isNote(part)) this.updateNote(part);
    else this.updateQuick();
    const chosen = words.selected === part.name;
    setAttribute(this.select, 'aria-expanded', String(chosen));
    setAttribute(this.node, 'data-chosen', words.selection.includes(part.name));
    this.more.hidden = !chosen;
    if (chosen) this.updateMore(index, words);
    else this.why?.shut();
  }

  /** @param {Part} part */
  updateNote(part) {
    this.pill.hidden = true;
    const [{hole}] = part.leads;
    setText(this.where, hole ? say('note.at', {hole: showHole(hole)}) : '');
    this.form?.update(part);
  }

  updateQuick() {
    for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (this.quick.querySelectorAll('button'))) {
      if (button.dataset.act === 'hold') {
        const down = this.part.values.some((value) => value.use === 'momentary' && value.number === 1);
        setAttribute(button, 'aria-pressed', String(down));
      } else {
        const value = this.valueOf(button.dataset.value ?? '');
        if (!value) continue;
        const other = value.options?.[value.number ? 0 : 1];
        const label = this.part.supply || !other ? say(value.number ? 'part.switch.off' : 'part.switch.on') : say('part.slide.to', {position: word('option', other)});
        setText(button, label);
        setAttribute(button, 'aria-label', `${label}: ${this.part.name}`);
      }
    }
    for (const field of /** @type {NodeListOf<HTMLInputElement|HTMLSelectElement>} */ (this.quick.querySelectorAll('[data-value]:not(button)'))) {
      const value = this.valueOf(field.dataset.value ?? '');
      if (value) setField(field, value.options ? String(value.number) : valueText(value));
    }
    this.quick.hidden = this.quick.childElementCount === 0;
  }

  // --- what shows while the part is chosen ---

  /** @param {number} index @param {import('./types.js').Words} words */
  updateMore(index, words) {
    if (!this.leads) this.buildMore();
    const leads = /** @type {HTMLElement} */ (this.leads);
    const sentences = this.part.leads.map((_, lead) => ({key: String(lead), text: leadSentence(words, index, lead)}));
    reconcile(leads, sentences, ({key}) => key, () => el('li'), (node, {text}) => setText(node, text));
    this.why?.update();
    const bands = /** @type {HTMLElement} */ (this.bands);
    bands.hidden = !this.part.bands && !this.part.code;
    if (this.part.code) setText(bands, say('part.code', {code: this.part.code}));
    if (this.part.bands) setText(bands, say('part.bands', {bands: list(this.part.bands.map((band) => word('band', band)))}));
    for (const field of /** @type {NodeListOf<HTMLInputElement|HTMLSelectElement>} */ (this.more.querySelectorAll('[data-value]'))) {
      const value = this.valueOf(field.dataset.value ?? '');
      if (value) setField(field, value.options ? String(value.number) : valueText(value));
    }
    for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (this.more.querySelectorAll('[data-lead]')))
      setField(field, this.part.leads[Number(field.dataset.lead)].hole);
  }

  buildMore() {
    const {app, part} = this;
    this.leads = el('ul', {class: 'leads', 'aria-label': say('part.where')});
    this.bands = el('p', {class: 'bands'});
    const values = part.values.filter((value) => value.use === 'value' && !isScope(part)).map((value) => this.valueField(value));
    const turn = part.seat === 'rigid' ? {quarters: 1, key: 'part.turn'} : {quarters: 2, key: 'part.swap'};
    const actions = el('div', {class: 'actions'});
    if (part.seat !== 'mat')
      actions.append(el('button', {type: 'button', class: 'action', dataset: {act: 'turn'}, 'aria-label': say(`${turn.key}.name`, {part: part.name}),
        onclick: () => app.edit({edit: 'turn', part: this.part.name, quarters: turn.quarters})}, say(turn.key)));
    actions.append(
      el('button', {type: 'button', class: 'action', dataset: {act: 'duplicate'}, 'aria-label': say('part.duplicate.name', {part: part.name}),
        onclick: () => app.clipboard.duplicate()}, say('part.duplicate')),
      el('button', {type: 'button', class: 'action', dataset: {act: 'copy'}, 'aria-label': say('part.copy.name', {part: part.name}),
        onclick: () => app.clipboard.copy()}, say('part.copy')));
    actions.append(el('button', {type: 'button', class: 'action', dataset: {act: 'closer'}, 'aria-label': say('part.closer.name', {part: part.name}),
      onclick: () => app.bench.call({do: 'view', near: this.part.name})}, say('part.closer')));
    actions.append(el('button', {type: 'button', class: 'action', dataset: {act: 'remove'}, 'aria-label': say('part.remove.name', {part: part.name}),
      onclick: () => app.remove(this.part.name)}, say('part.remove')));
    if (part.seat !== 'mat' && !part.wire && !isNote(part)) this.why = new Why(app, part.name);
    this.more.append(this.leads, this.bands, ...(this.why ? [this.why.node] : []), ...values, this.moveForm(), this.stepButtons(), actions);
  }

  /** @param {Value} value */
  valueField(value) {
    if (value.options) return this.optionList(value);
    const field = el('input', {type: 'text', autocomplete: 'off', spellcheck: 'false', size: 8, dataset: {value: value.key}});
    const form = el('form', {class: 'field'}, el('label', {}, word('value', value.key), field),
                    el('button', {type: 'submit', class: 'action', 'aria-label': say('part.set.name', {value: word('value', value.key), part: this.part.name})},
                       say('part.set')));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.report(field, this.app.try({do: 'set', part: this.part.name, key: value.key, text: field.value}));
    });
    return form;
  }

  /** @param {Value} value */
  optionList(value) {
    const field = el('select', {dataset: {value: value.key}, onchange: () =>
        this.app.try({do: 'set', part: this.part.name, key: value.key, number: Number(field.value)})},
      ...(value.options ?? []).map((option, at) => el('option', {value: at}, word('option', option))));
    return el('div', {class: 'field'}, el('label', {}, word('value', value.key), field));
  }

  moveForm() {
    const {part} = this;
    const leads = part.seat === 'rigid' ? part.leads.slice(0, 1) : part.leads;
    const fields = leads.map((lead, at) => el('input', {type: 'text', autocomplete: 'off', spellcheck: 'false', autocapitalize: 'none', size: 6,
      'aria-label': say('add.hole', {lead: word('lead', lead.name)}), dataset: {lead: at}}));
    const form = el('form', {class: 'field move'}, el('span', {class: 'field-name'}, say('part.move')), ...fields,
                    el('button', {type: 'submit', class: 'action', 'aria-label': say('part.move.name', {part: part.name})}, say('part.move.do')));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      const answer = this.app.try({do: 'move', part: this.part.name, holes: fields.map((field) => field.value.trim())});
      for (const field of fields) this.report(field, answer);
    });
    return form;
  }

  /** All of it by one hole; for what lies on the mat, a note or a supply, the only way without the canvas. */
  stepButtons() {
    const {app, part} = this, ways = /** @type {const} */ ([['left', '←', -1, 0], ['up', '↑', 0, -1], ['down', '↓', 0, 1], ['right', '→', 1, 0]]);
    return el('div', {class: 'field steps', role: 'group', 'aria-label': say('part.step', {part: part.name})}, el('span', {class: 'field-name', 'aria-hidden': 'true'}, say('part.step.by')),
      ...ways.map(([way, sign, dx, dy]) => el('button', {type: 'button', class: 'action', dataset: {step: way}, 'aria-label': say(`part.step.${way}`, {part: part.name}),
        onclick: () => this.step(way, dx, dy)}, sign)));
  }

  /** @param {string} way @param {number} dx @param {number} dy [holes] */
  step(way, dx, dy) {
    const {app, part: {name}} = this;
    if (app.try({do: 'move', part: name, by: [dx, dy]}).ok) app.announcer.say(say(`part.step.${way}`, {part: name}));
  }

  /** Marks a field whose content was refused. @param {HTMLInputElement} field @param {{ok: boolean}} answer */
  report(field, answer) {
    setAttribute(field, 'aria-invalid', answer.ok ? null : 'true');
    if (answer.ok) taken(field);
  }
}
