// The list of every key and gesture, from the table that the bench itself works by (shell/bench/shortcuts.h).
import {el, showDialog} from './dom.js';
import {hasWords, say} from './words.js';

/** @typedef {{group: string, id: string, page: boolean, chords: string[][]}} Shortcut */

const kModifiers = ['command', 'alt', 'shift'];
const isMac = /Mac|iPhone|iPad/.test(navigator.platform);

/** A key as it is printed; symbols are read out by their names. @param {string} name */
function keyCap(name) {
  const key = `key.${name}${isMac && hasWords(`key.${name}.mac`) ? '.mac' : ''}`;
  const label = hasWords(key) ? say(key) : name;
  const spoken = `key.${name}.spoken`;
  if (!hasWords(spoken)) return el('kbd', {}, label);
  return el('kbd', {}, el('span', {'aria-hidden': 'true'}, label), el('span', {class: 'visually-hidden'}, say(spoken)));
}

/** "Alt ← → ↑ ↓", "Shift Ctrl Z or Ctrl Y" @param {string[][]} chords */
function capsOf(chords) {
  const parts = [];
  let before = null;
  for (const chord of chords) {
    const modifiers = chord.filter((name) => kModifiers.includes(name)), key = chord[chord.length - 1];
    const same = before !== null && modifiers.join() === before;
    if (before !== null && !same) parts.push(el('span', {class: 'or'}, say('shortcut.or')));
    if (!same) parts.push(...modifiers.map(keyCap));
    parts.push(keyCap(key));
    before = modifiers.join();
  }
  return parts.flatMap((part) => [part, ' ']);
}

export class Shortcuts {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    /** @type {?Shortcut[]} */
    this.table = null;
    /** @type {?HTMLDialogElement} */
    this.dialog = null;
  }

  /** Asked for with the first key. */
  get rows() {
    return this.table ??= /** @type {Shortcut[]} */ (this.bench.call({do: 'shortcuts'}).shortcuts);
  }

  /** The row of a key that the page itself listens for. @param {KeyboardEvent} event */
  pageKey(event) {
    const fits = (/** @type {string[]} */ chord) => {
      const name = chord[chord.length - 1];
      // A sign that is typed with Shift on one keyboard is not on another.
      const shift = /^\w/.test(name) ? event.shiftKey : false;
      return event.key.toLowerCase() === name.toLowerCase() && (event.ctrlKey || event.metaKey) === chord.includes('command') &&
          event.altKey === chord.includes('alt') && shift === chord.includes('shift');
    };
    return this.rows.find((row) => row.page && row.chords.some(fits))?.id ?? null;
  }

  get shown() {
    return this.dialog?.open ?? false;
  }

  show() {
    if (this.shown) return;
    const groups = [...new Set(this.rows.map((row) => row.group))];
    if (matchMedia('(pointer: coarse)').matches) groups.sort((a, b) => Number(b === 'touch') - Number(a === 'touch'));
    this.dialog = showDialog('shortcuts', {class: 'shortcuts', heading: say('shortcut.heading'), close: say('shortcut.close')},
      // Longer than a small window: the keyboard must be able to scroll it.
      el('div', {class: 'shortcut-groups', tabindex: 0, role: 'region', 'aria-labelledby': 'shortcuts-heading'},
         ...groups.map((group) => this.group(group))));
  }

  /** @param {string} group */
  group(group) {
    const rows = this.rows.filter((row) => row.group === group).map((row) => {
      const how = `shortcut.how.${row.id}`;
      return el('div', {dataset: {shortcut: row.id}}, el('dt', {}, ...(hasWords(how) ? [say(how)] : capsOf(this.distinct(row.chords)))),
                el('dd', {}, say(`shortcut.${row.id}`)));
    });
    return el('section', {}, el('h3', {}, say(`shortcut.group.${group}`)), el('dl', {}, ...rows));
  }

  /** The number pad's Enter is an Enter. @param {string[][]} chords */
  distinct(chords) {
    return [...new Map(chords.map((chord) => [chord.join(), chord])).values()];
  }
}
