// Form fields that are tied to members of a JSON object, each with its label, its place in the file, and room for what is wrong there.
import {el, setAttribute, setText} from './dom.js';
import {oneText} from './lessonwords.js';
import {quantityIn, quantityText} from './quantity.js';
import {say} from './words.js';

/** @typedef {Record<string, any>} Json */
/** @typedef {{pointer: string, control: ?HTMLElement, problem: HTMLElement, node: HTMLElement}} Place */

export class Fields {
  /** @param {() => void} changed */
  constructor(changed) {
    this.changed = changed;
    /** @type {Place[]} */
    this.places = [];
  }

  clear() {
    this.places = [];
  }

  /** Somewhere faults of this place are said, at its end or after one of its children. @param {string} pointer @param {HTMLElement} node @param {?HTMLElement} [control] @param {?Element} [after] */
  place(pointer, node, control = null, after = null) {
    const problem = el('p', {class: 'answer author-problem', 'data-look': 'bad', id: `problem${pointer.replaceAll('/', '-')}`, hidden: true});
    if (after) after.after(problem);
    else node.append(problem);
    this.places.push({pointer, control, problem, node});
    return node;
  }

  /** Each fault is said at the field nearest to it. @param {{pointer: string, text: string}[]} faults @returns {{pointer: string, text: string}[]} those that have none */
  tell(faults) {
    /** @type {Map<Place, string[]>} */
    const told = new Map();
    const homeless = faults.filter((fault) => {
      const within = this.places.filter(({pointer}) => fault.pointer === pointer || fault.pointer.startsWith(`${pointer}/`));
      const below = this.places.filter(({pointer}) => fault.pointer && pointer.startsWith(`${fault.pointer}/`));
      const near = within.sort((a, b) => b.pointer.length - a.pointer.length)[0] ?? below[0];
      if (near) told.set(near, [...told.get(near) ?? [], fault.text]);
      return !near;
    });
    for (const place of this.places) {
      const texts = told.get(place);
      setText(place.problem, texts?.join(' ') ?? '');
      place.problem.hidden = !texts;
      if (place.control) {
        setAttribute(place.control, 'aria-invalid', texts ? 'true' : null);
        setAttribute(place.control, 'aria-describedby', texts ? place.problem.id : null);
      }
      if (texts) for (let box = place.node.closest('details'); box; box = box.parentElement?.closest('details') ?? null) box.open = true;
    }
    return homeless;
  }

  /** The first field with a fault. @param {() => void} otherwise */
  focusFirst(otherwise) {
    const bad = this.places.find(({problem}) => !problem.hidden);
    const control = bad && (bad.control ?? /** @type {?HTMLElement} */ (bad.node.querySelector('button, input, select, textarea, summary')));
    otherwise();
    control?.focus();
    control?.scrollIntoView({block: 'center'});
  }

  /**
   * @param {HTMLElement} control @param {string} label @param {string} pointer
   * @param {() => void} take writes what stands in the control into the object
   */
  labelled(control, label, pointer, take, kind = 'author-field') {
    control.addEventListener('input', () => {
      take();
      this.changed();
    });
    return this.place(pointer, el('div', {class: kind}, el('label', {for: control.id}, label), control), control);
  }

  /** One line of text. @param {string} id @param {string} label @param {Json} object @param {string} key @param {string} pointer */
  line(id, label, object, key, pointer) {
    const input = el('input', {type: 'text', id, autocomplete: 'off', value: oneText(object[key])});
    return this.labelled(input, label, pointer, () => (object[key] = input.value));
  }

  /** A text in Markdown. @param {string} id @param {string} label @param {Json} object @param {string} key @param {string} pointer @param {number} rows */
  words(id, label, object, key, pointer, rows) {
    const area = el('textarea', {id, rows}, oneText(object[key]));
    return this.labelled(area, label, pointer, () => {
      const lines = area.value.split('\n');
      object[key] = lines.length > 1 ? lines : area.value;
    });
  }

  /** A list of texts, a line each. @param {string} id @param {string} label @param {Json} object @param {string} key @param {string} pointer */
  lines(id, label, object, key, pointer) {
    const area = el('textarea', {id, rows: 3}, (object[key] ?? []).map(oneText).join('\n'));
    return this.labelled(area, label, pointer, () => (object[key] = area.value.split('\n').filter((line) => line.trim())));
  }

  /** @param {string} id @param {string} label @param {Json} object @param {string} key @param {string} pointer */
  whole(id, label, object, key, pointer) {
    const input = el('input', {type: 'number', id, min: 0, step: 1, value: object[key] ?? ''});
    return this.labelled(input, label, pointer, () => {
      if (input.value === '') delete object[key];
      else object[key] = Number(input.value);
    }, 'author-field short');
  }

  /** @param {string} id @param {string} label @param {Json} object @param {string} key @param {string} pointer @param {string[][]} options value and words */
  choice(id, label, object, key, pointer, options) {
    const select = el('select', {id}, ...options.map(([value, words]) => el('option', {value, selected: object[key] === value}, words)));
    return this.labelled(select, label, pointer, () => (object[key] = select.value), 'author-field short');
  }

  /**
   * Least and most of a window. @param {string} id @param {string} label @param {Json} object @param {string} key @param {string} pointer
   * @param {string} unit
   */
  window(id, label, object, key, pointer, unit) {
    const read = (/** @type {HTMLInputElement} */ input) => (input.value.trim() ? quantityIn(input.value, unit) ?? input.value : null);
    const inputs = ['least', 'most'].map((end, at) => {
      const bound = object[key]?.[at] ?? null;
      const input = el('input', {type: 'text', id: `${id}-${end}`, size: 9, autocomplete: 'off', 'aria-label': say(`author.window.${end}`, {what: label}),
        placeholder: say('author.window.open'), value: bound === null ? '' : typeof bound === 'number' ? quantityText(bound, unit) : bound});
      input.addEventListener('input', () => {
        object[key] = inputs.map(read);
        this.changed();
      });
      return input;
    });
    return this.place(pointer, el('div', {class: 'author-field author-window'}, el('span', {}, label), inputs[0], el('span', {'aria-hidden': 'true'}, say('author.window.to')), inputs[1]), inputs[0]);
  }

  /** Hints by depth: where to look, what is wrong, what to do. @param {string} id @param {Json} object @param {string} pointer */
  hints(id, object, pointer) {
    const areas = [0, 1, 2].map((depth) => {
      const area = el('textarea', {id: `${id}-${depth}`, rows: 2}, oneText(object.hints?.[depth]));
      return {area, node: this.labelled(area, say(`author.hint.${depth}`), `${pointer}/hints/${depth}`, () => {
        const texts = areas.map((one) => one.area.value);
        while (texts.length && !texts[texts.length - 1].trim()) texts.pop();
        if (texts.length) object.hints = texts;
        else delete object.hints;
      })};
    });
    return el('details', {class: 'author-hints'}, el('summary', {}, say('author.hints', {count: object.hints?.length ?? 0})), ...areas.map(({node}) => node));
  }
}
