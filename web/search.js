// The field in which one searches the parts box. The search itself is the bench's (shell/bench/find_parts.h); what is found lies in the box,
// and for those who do not see it, or whose screen has a keyboard over it, in a list here.
import {el, icon, setAttribute} from './dom.js';
import {say, word} from './words.js';

/** @typedef {{kind: string, values: Record<string, string>}} Found */

/** "Resistor, 10 kΩ" @param {Found} found */
export function foundName({kind, values}) {
  const name = word('kind', kind);
  const [value] = Object.values(values);
  return value ? say('search.found', {kind: name, value: word('option', value)}) : name;
}

const kGlass = 'M8.5 3a5.500 5.500 0 1 0 0 11 5.500 5.500 0 0 0 0-11ZM12.500 12.500 17 17';

export class Search {
  /** @param {HTMLElement} node @param {import('./app.js').App} app */
  constructor(node, app) {
    this.node = node;
    this.app = app;
    /** @type {Found[]} */
    this.found = [];
    this.at = 0;
    node.setAttribute('aria-label', say('search.placeholder'));
    this.list = el('ul', {id: 'search-found', role: 'listbox', 'aria-label': say('search.list')});
    this.field = el('input', {type: 'search', id: 'search', role: 'combobox', autocomplete: 'off', autocapitalize: 'none', spellcheck: 'false', maxlength: 80,
      enterkeyhint: 'go', 'aria-label': say('search.label'), 'aria-autocomplete': 'list', 'aria-controls': 'search-found', 'aria-expanded': 'false',
      placeholder: say('search.placeholder')});
    node.append(icon(kGlass), this.field, this.list);
    this.field.addEventListener('focus', () => this.look());
    this.field.addEventListener('input', () => this.look());
    this.field.addEventListener('keydown', (event) => this.key(event));
    this.field.addEventListener('blur', () => this.left());
    // A tap on the list must not take the keyboard from the field before it is heard.
    this.list.addEventListener('pointerdown', (event) => event.preventDefault());
    this.list.addEventListener('click', (event) => {
      const item = /** @type {HTMLElement} */ (event.target).closest('li');
      if (item) this.take(Number(item.dataset.at));
    });
  }

  /** Over the place that the bench keeps for it. */
  place() {
    const at = this.app.bench.call({do: 'point', widget: 'search.field'});
    this.node.hidden = !at.found;
    if (!at.found) return;
    const {style} = this.node;
    style.setProperty('--left', `${Math.round(at.x - at.w / 2)}px`);
    style.setProperty('--top', `${Math.round(at.y - at.h / 2)}px`);
    style.setProperty('--width', `${Math.round(at.w)}px`);
    this.node.classList.toggle('small', at.w < 60);
  }

  /** A tray that was opened by hand ends the search. @param {import('./types.js').Words} words */
  update(words) {
    if (words.searching || document.activeElement === this.field || this.field.value === '') return;
    this.field.value = '';
    this.show([]);
  }

  look() {
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.look());
    this.at = 0;
    this.show(this.ask());
    if (this.field.value.trim() === '') return;
    this.app.announcer.say(this.found.length ? say('search.count', {count: this.found.length, first: foundName(this.found[0])}) : say('bench.search.none'));
  }

  /** @returns {Found[]} */
  ask() {
    return this.app.bench.call({do: 'find', text: this.field.value, show: true, at: this.at}).found ?? [];
  }

  /** @param {Found[]} found */
  show(found) {
    this.found = found;
    this.node.classList.toggle('open', document.activeElement === this.field);
    setAttribute(this.field, 'aria-expanded', String(found.length > 0));
    this.list.replaceChildren(...found.map((one, at) => el('li', {id: `search-found-${at}`, role: 'option', dataset: {at}}, foundName(one))));
    this.list.hidden = found.length === 0;
    this.mark();
  }

  mark() {
    [...this.list.children].forEach((item, at) => setAttribute(item, 'aria-selected', String(at === this.at)));
    setAttribute(this.field, 'aria-activedescendant', this.found.length ? `search-found-${this.at}` : null);
    this.list.children[this.at]?.scrollIntoView({block: 'nearest'});
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.isComposing) return;
    const step = {ArrowDown: 1, ArrowUp: -1}[event.key];
    if (step && this.found.length) {
      event.preventDefault();
      this.at = (this.at + step + this.found.length) % this.found.length;
      this.ask();
      this.mark();
    } else if (event.key === 'Enter') {
      event.preventDefault();
      this.take(this.at);
    } else if (event.key === 'Escape') {
      event.preventDefault();
      event.stopPropagation();
      this.end();
      document.getElementById('bench')?.focus();
    }
  }

  /** Into the hand: the next tap or the hole cursor places it. @param {number} at */
  take(at) {
    const found = this.found[at];
    if (!found) return;
    this.end();
    const {bench, announcer} = this.app;
    document.getElementById('bench')?.focus({preventScroll: true});
    bench.call({do: 'take', kind: found.kind, values: found.values});
    announcer.say(say('search.taken', {part: foundName(found)}));
  }

  end() {
    this.field.value = '';
    if (this.app.bench.whole) this.app.bench.call({do: 'find', text: '', show: false});
    this.field.blur();
    this.show([]);
  }

  /** With something typed the box goes on showing it: a hand may drag it out. */
  left() {
    this.node.classList.remove('open');
    if (this.field.value.trim() === '' && this.app.bench.whole) this.app.bench.call({do: 'find', text: '', show: false});
  }
}
