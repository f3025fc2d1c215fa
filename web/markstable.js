// The rows of the marking table: sorted by a column, with a small picture of each board that is drawn when it comes into sight. On a narrow
// screen each row is a card.
import {el, setAttribute} from './dom.js';
import {pack} from './share.js';
import {thumbnail} from './thumbnail.js';
import {say} from './words.js';

/**
 * @typedef {{at: number, file: string, error: string, passed: boolean, points: number, mostPoints: number, checks: number, checksPassed: number,
 *   failed: string, words: string, tags: string, hasProgress: boolean, hints: number, tries: number, predictions: number, predictionsRight: number,
 *   seconds: number, case: number, like?: string, evidence?: string, board?: string, sketch?: import('./thumbnail.js').Sketch}} Row
 */

const kAtOnce = 400; // rows; more are added on request

/** "class/ann.board.json" -> "ann" @param {string} file */
const nameOf = (file) => (file.split('/').pop() ?? file).replace(/\.(board|hand-in)\.json$|\.json$|\.png$|\.zip$/i, '');

/** @param {number} seconds */
const timeText = (seconds) => say('marking.time', {minutes: Math.floor(seconds / 60), seconds: String(Math.floor(seconds % 60)).padStart(2, '0')});

/** What is wrong, or what fails first, or that nothing does. @param {Row} row */
const said = (row) => row.error && !row.checks ? row.error : row.words;

/** @type {Record<string, {of: (row: Row) => string|number, cell: (row: Row) => string}>} */
const kColumns = {
  name: {of: (row) => nameOf(row.file).toLowerCase(), cell: (row) => nameOf(row.file)},
  result: {of: (row) => (row.error && !row.checks ? 0 : row.passed ? 2 : 1), cell: (row) => say(`marking.result.${row.error && !row.checks ? 'unread' : row.passed ? 'passed' : 'failed'}`)},
  points: {of: (row) => row.points, cell: (row) => (row.checks ? say('marking.of', {some: row.points, all: row.mostPoints}) : '')},
  checks: {of: (row) => row.checksPassed, cell: (row) => (row.checks ? say('marking.of', {some: row.checksPassed, all: row.checks}) : '')},
  failing: {of: (row) => row.failed, cell: said},
  tags: {of: (row) => row.tags, cell: (row) => row.tags},
  hints: {of: (row) => (row.hasProgress ? row.hints : -1), cell: (row) => (row.hasProgress ? String(row.hints) : '')},
  time: {of: (row) => (row.hasProgress ? row.seconds : -1), cell: (row) => (row.hasProgress ? timeText(row.seconds) : '')},
  like: {of: (row) => row.like ?? '', cell: (row) => (row.like ? say('marking.like', {name: nameOf(row.like), evidence: row.evidence ?? ''}) : '')},
};
const kNumbers = new Set(['points', 'checks', 'hints', 'time']);

export class MarksTable {
  /** @param {import('./announce.js').Announcer} announcer */
  constructor(announcer) {
    this.announcer = announcer;
    /** @type {Row[]} */
    this.rows = [];
    this.by = 'name';
    this.down = false;
    this.shown = kAtOnce;
    this.heads = Object.keys(kColumns).map((key) => el('th', {scope: 'col', dataset: {column: key}},
      el('button', {type: 'button', class: 'marks-sort', id: `sort-${key}`, onclick: () => this.sortBy(key)}, say(`marking.column.${key}`), el('span', {'aria-hidden': 'true', class: 'marks-arrow'}))));
    this.body = el('tbody');
    this.select = el('select', {id: 'marks-by', onchange: () => this.sortBy(this.select.value, true)}, ...Object.keys(kColumns).map((key) => el('option', {value: key}, say(`marking.column.${key}`))));
    this.more = el('button', {type: 'button', class: 'action', id: 'marks-more', hidden: true, onclick: () => this.addMore()}, say('marking.more'));
    this.box = el('div', {class: 'marks-box', tabindex: 0, role: 'region', 'aria-label': say('marking.table')},
      el('table', {class: 'marks', id: 'marks'}, el('caption', {class: 'visually-hidden'}, say('marking.table')),
         el('thead', {}, el('tr', {}, el('th', {scope: 'col', class: 'marks-picture'}, el('span', {class: 'visually-hidden'}, say('marking.column.picture'))), ...this.heads)), this.body));
    this.node = el('div', {hidden: true}, el('p', {class: 'field marks-by'}, el('label', {}, say('marking.by'), this.select)), this.box, this.more);
    this.seen = new IntersectionObserver((entries) => entries.forEach((entry) => entry.isIntersecting && this.inSight(/** @type {HTMLElement} */ (entry.target))), {rootMargin: '300px'});
    /** @type {WeakMap<Element, Row>} */
    this.rowOf = new WeakMap();
  }

  /** @param {Row[]} rows */
  show(rows) {
    this.rows = rows;
    this.shown = kAtOnce;
    this.node.hidden = !rows.length;
    this.draw();
  }

  /** @param {string} key @param {boolean} [fresh] never turns the order round */
  sortBy(key, fresh = false) {
    this.down = !fresh && this.by === key ? !this.down : kNumbers.has(key);
    this.by = key;
    this.draw();
    this.announcer.say(say('marking.say.sorted', {column: say(`marking.column.${key}`), way: this.down ? 'down' : 'up'}));
  }

  addMore() {
    this.shown += kAtOnce;
    this.draw();
  }

  draw() {
    const {of} = kColumns[this.by], sign = this.down ? -1 : 1;
    const sorted = [...this.rows].sort((a, b) => {
      const [x, y] = [of(a), of(b)];
      return sign * (x < y ? -1 : x > y ? 1 : 0) || a.at - b.at;
    });
    for (const head of this.heads) setAttribute(head, 'aria-sort', head.dataset.column === this.by ? (this.down ? 'descending' : 'ascending') : null);
    this.select.value = this.by;
    this.seen.disconnect();
    this.body.replaceChildren(...sorted.slice(0, this.shown).map((row) => this.line(row)));
    this.more.hidden = sorted.length <= this.shown;
  }

  /** @param {Row} row */
  line(row) {
    const picture = el('td', {class: 'marks-picture'});
    const cells = Object.entries(kColumns).map(([key, {cell}]) => {
      const text = cell(row);
      const props = {dataset: {column: key, label: say(`marking.column.${key}`), ...(text ? {} : {empty: ''})}};
      if (key === 'name') return el('th', {scope: 'row', ...props}, this.name(row, text));
      if (key === 'result') return el('td', props, el('span', {class: 'marks-result', dataset: {look: row.error && !row.checks ? 'unread' : row.passed ? 'passed' : 'failed'}}, text));
      return el('td', props, text);
    });
    const line = el('tr', {dataset: {file: row.file}}, picture, ...cells);
    this.rowOf.set(line, row);
    this.seen.observe(line);
    return line;
  }

  /** The name opens the board on the bench, in a tab of its own. @param {Row} row @param {string} text */
  name(row, text) {
    if (!row.sketch) return el('span', {title: row.file}, text);
    return el('a', {class: 'marks-open', href: './', target: '_blank', title: row.file, 'aria-label': say('marking.open', {name: text})}, text);
  }

  /** The picture, and the link that carries the board in its fragment. @param {HTMLElement} line */
  inSight(line) {
    this.seen.unobserve(line);
    const row = this.rowOf.get(line);
    if (!row?.sketch || !row.board) return;
    line.firstElementChild?.append(thumbnail(row.sketch));
    const link = /** @type {HTMLAnchorElement} */ (line.querySelector('.marks-open'));
    void pack(boardOf(row.board)).then((fragment) => (link.href = `./#${fragment}`));
  }
}

/** The board file in a hand-in. @param {string} text */
function boardOf(text) {
  const file = JSON.parse(text);
  return JSON.stringify(file.tiepoint === 'hand-in' ? file.board : file);
}
