// Starts the page: words, bench, bar, notebook; and carries what the bench says to each of them.
import {Announcer} from './announce.js';
import {Bar, sayStep} from './bar.js';
import {startBench} from './bench.js';
import {Callout} from './callout.js';
import {Clipboard} from './clipboard.js';
import {el, setAttribute} from './dom.js';
import {acceptDrops, kLargestFile, readExample} from './files.js';
import {Keep} from './keep.js';
import {Lessons} from './lesson.js';
import {Notebook} from './notebook.js';
import {holdHint, kindName, summary} from './partwords.js';
import {Shortcuts} from './shortcuts.js';
import {kLongLink, LinkError, linkTo, unpack} from './share.js';
import {loadWords, namesInWords, say, sayError} from './words.js';

/** @typedef {import('./types.js').Words} Words */
/** @typedef {import('./types.js').BenchError} BenchError */

const kFirstBoard = 'one-button';
const kRefresh = 200; // ms between updates of the words while numbers run

/** @param {string} id */
const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

export class App {
  /** @param {import('./bench.js').Bench} bench @param {Keep} keep */
  constructor(bench, keep) {
    this.bench = bench;
    this.keep = keep;
    this.announcer = new Announcer(byId('status'), byId('alert'));
    /** @type {?{button: string, light: ?string, pressed: boolean}} what to try first on this board */
    this.hint = null;
    this.shortcuts = new Shortcuts(bench);
    this.clipboard = new Clipboard(this);
    this.words = this.read();
    this.announcer.forget(this.words.parts);
    this.lessons = new Lessons(this);
    this.bar = new Bar(byId('bar'), this);
    this.notebook = new Notebook(byId('notebook'), this, bench.call({do: 'catalogue'}).kinds);
    this.callout = new Callout(byId('callout'), this);
    this.timer = 0;
    this.lastUpdate = 0;
    this.selected = '';  // the names, as last heard
    bench.onChange((what) => this.changed(what));
    this.keys();
    acceptDrops(document.body, (file) => this.openFile(file));
    this.update();
  }

  /** @returns {Words} */
  read() {
    return this.bench.call({do: 'words'});
  }

  // --- following the bench ---

  /** The words follow a change at once, running numbers a few times a second. @param {{board: boolean, readings: boolean, view: boolean}} what */
  changed(what) {
    this.callout?.place();
    this.lessons?.changed(what);
    if (what.board) this.keep.changed();
    if (!what.board && !what.readings && !what.view) return;
    const wait = what.board || what.view ? 0 : Math.max(0, this.lastUpdate + kRefresh - performance.now());
    if (this.timer && wait > 0) return;
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.update(), wait);
  }

  update() {
    this.timer = 0;
    this.lastUpdate = performance.now();
    this.words = this.read();
    this.followHint();
    this.bar.update(this.words);
    this.notebook.update(this.words);
    this.announcer.follow(this.words.parts);
    this.followSelection();
    this.callout.update();
    setAttribute(byId('bench'), 'aria-label', say('canvas.label', {summary: summary(this.words)}));
    document.title = this.words.title ? `${this.words.title} – ${say('app.name')}` : say('app.name');
  }

  /** The hint stays until the board is another one; its pointer on the bench until the button was held once. */
  followHint() {
    if (!this.hint) return;
    const now = holdHint(this.words);
    if (now?.button !== this.hint.button || now?.light !== this.hint.light || this.words.undo) this.hint = null;
    else if (this.isDown(this.hint.button)) this.hint.pressed = true;
  }

  followSelection() {
    const {selected, selection, parts} = this.words;
    const now = selection.join();
    if (now === this.selected) return;
    this.selected = now;
    if (selection.length > 1 && document.activeElement === byId('bench'))
      this.announcer.say(say('say.selected.several', {count: selection.length, part: namesInWords(selection)}));
    const part = parts.find((one) => one.name === selected);
    if (!part) return;
    if (document.activeElement === byId('bench')) this.announcer.say(say('say.selected', {part: part.name, kind: kindName(part)}));
    byId('notebook').querySelector('[data-chosen]')?.scrollIntoView({block: 'nearest'});
  }

  // --- hands ---

  /** @param {string} part */
  isDown(part) {
    return this.words.parts.some((one) => one.name === part && one.values.some((value) => value.use === 'momentary' && value.number === 1));
  }

  /** @param {string} part @param {boolean} down */
  press(part, down) {
    return this.try({do: 'press', part, down});
  }

  /** A command whose failure is shown. @param {object} command */
  try(command) {
    const answer = this.bench.call(command);
    if (!answer.ok) this.fail(answer.error);
    else this.dismiss();
    return answer;
  }

  /** @param {object} edit */
  edit(edit) {
    return this.try({do: 'edit', edit});
  }

  /** @param {string} part */
  remove(part) {
    if (this.edit({edit: 'remove', part}).ok) this.announcer.say(say('part.removed', {part}));
  }

  undo() {
    this.step('undo', 'say.undone');
  }

  redo() {
    this.step('redo', 'say.redone');
  }

  /** @param {'undo'|'redo'} way @param {string} message */
  step(way, message) {
    const step = this.words[way];
    if (!step) return;
    if (this.try({do: way}).ok) this.announcer.say(say(message, {step: sayStep(step)}));
  }

  // --- boards ---

  /** @param {string} layout @param {boolean} split */
  newBoard(layout, split) {
    if (!this.try({do: 'new', layout, splitRails: split}).ok) return;
    this.hint = null;
    this.took(say('say.new'));
  }

  /** @param {string} text of a board file @param {string} name for messages */
  load(text, name) {
    const answer = this.bench.call({do: 'load', text});
    if (!answer.ok) {
      this.fail(answer.error, name);
      return false;
    }
    this.dismiss();
    const words = this.read();
    const hint = this.lessons.state ? null : holdHint(words);
    this.hint = hint && {...hint, pressed: false};
    this.took(say('say.loaded', {title: words.title || name, summary: summary(words)}));
    return true;
  }

  /** Another board is on the bench. @param {string} message */
  took(message) {
    this.announcer.forget(this.read().parts);
    this.announcer.say(message);
    this.update();
  }

  /** @param {string} name */
  async openExample(name) {
    try {
      this.load(await readExample(name), say(`example.${name}`));
    } catch (reason) {
      this.show(say('say.error.read', {file: say(`example.${name}`), reason: String(reason)}));
    }
  }

  /** @param {File} file */
  async openFile(file) {
    if (file.size > kLargestFile) {
      const [found, expected] = [file.size, kLargestFile].map((bytes) => `${(bytes / (1 << 20)).toFixed(1)} MB`);
      return this.fail({code: 'too-large', text: 'too large', found, expected}, file.name);
    }
    try {
      this.load(await file.text(), file.name);
    } catch (reason) {
      this.show(say('say.error.read', {file: file.name, reason: String(reason)}));
    }
  }

  /** @param {string} name */
  saved(name) {
    this.announcer.say(say('say.saved', {file: name}));
  }

  /** Hides one to three defects to be searched for, or shows them. @param {'hide'|'reveal'} what */
  hunt(what) {
    const answer = this.bench.call(what === 'hide' ? {do: 'hide', count: 1 + Math.floor(Math.random() * 3), seed: Math.floor(Math.random() * 1e9)} : {do: 'reveal'});
    if (!answer.ok) return this.fail(answer.error);
    this.show(say(`menu.life.done.${what}`));
  }

  /** How near to life the board is: whether parts burn out, and whether no two are alike. @param {'spared'|'real'|'spread'} how */
  live(how) {
    const realism = how === 'spread' ? {spread: true, seed: 1 + Math.floor(Math.random() * 999999999)} : {spared: how === 'spared'};
    if (this.edit({edit: 'realism', realism}).ok) this.show(say(`menu.life.done.${how}`));
  }

  async copyLink() {
    const answer = this.bench.call({do: 'board'});
    if (!answer.ok) return this.fail(answer.error);
    try {
      const link = await linkTo(answer.text);
      await navigator.clipboard.writeText(link);
      if (link.length > kLongLink) this.show(say('share.copied.long', {length: link.length}));
      else this.show(say('share.copied'));
    } catch {
      this.show(say('share.refused'));
    }
  }

  /** The board of a link that the page was opened with; a bad link says why and changes nothing. @param {string} hash */
  async openLink(hash) {
    try {
      const text = await unpack(hash);
      if (text === null || !this.load(text, say('share.name'))) return;
      // Taken over: from here on it is this person's board, which a reload must not undo.
      history.replaceState(null, '', location.pathname + location.search);
      this.keep.changed();
    } catch (reason) {
      this.show(say(reason instanceof LinkError ? reason.message : 'share.damaged'));
    }
  }

  /** The board's text with no button held: nobody's finger is there when it is opened again. */
  boardAtRest() {
    const answer = this.bench.call({do: 'board'});
    if (!answer.ok) return null;
    const file = JSON.parse(answer.text);
    const {parts} = this.read();
    for (const part of file.parts ?? [])
      for (const value of parts.find((one) => one.name === part.name)?.values ?? [])
        if (value.use === 'momentary' && part.set) delete part.set[value.key];
    return JSON.stringify(file);
  }

  // --- messages ---

  /** @param {BenchError} error @param {string} [file] */
  fail(error, file) {
    const text = sayError(error);
    this.show(file ? say('say.error.in-file', {file, error: text}) : text);
  }

  /** A message that stays until it is dismissed or the next thing works. @param {string} text */
  show(text) {
    const toast = byId('toast');
    toast.replaceChildren(el('p', {}, text), el('button', {type: 'button', class: 'action', onclick: () => this.dismiss()}, say('say.dismiss')));
    toast.hidden = false;
    this.announcer.say(text);
  }

  dismiss() {
    byId('toast').hidden = true;
  }

  // --- keyboard ---

  toggleNotebook() {
    document.body.classList.toggle('notebook-hidden');
    this.bar.update(this.words);
  }

  keys() {
    document.addEventListener('keydown', (event) => {
      const act = this.shortcuts.shown ? null : this.pageKeys(event)[this.shortcuts.pageKey(event) ?? ''];
      if (act) {
        event.preventDefault();
        event.stopPropagation();
        act();
      } else if ((event.ctrlKey || event.metaKey) && !event.altKey) {
        this.undoKey(event);
      }
    }, {capture: true});
  }

  /**
   * What the page does for its keys in the table. Copy, cut and paste come as events of the clipboard. A sign is a key only on the
   * bench: elsewhere it may be dictated or typed. @param {KeyboardEvent} event @returns {Record<string, (() => void)|undefined>}
   */
  pageKeys(event) {
    const onBench = /** @type {HTMLElement} */ (event.target).id === 'bench';
    return {'cross-over': () => this.crossOver(), shortcuts: onBench ? () => this.shortcuts.show() : undefined};
  }

  /** F6: from the bench to the notebook and back. */
  crossOver() {
    const notebook = byId('notebook');
    const canvas = byId('bench');
    if (document.activeElement !== canvas) return canvas.focus();
    if (document.body.classList.contains('notebook-hidden')) this.toggleNotebook();
    const chosen = /** @type {?HTMLElement} */ (notebook.querySelector('[data-chosen] .part-select'));
    (chosen ?? notebook).focus();
  }

  /** Undo keys outside the bench (which has its own) and outside fields. @param {KeyboardEvent} event */
  undoKey(event) {
    if (this.shortcuts.shown) return;
    const target = /** @type {HTMLElement} */ (event.target);
    if (target.id === 'bench' || target.matches('input, select, textarea')) return;
    const key = event.key.toLowerCase();
    if (key === 'z') event.shiftKey ? this.redo() : this.undo();
    else if (key === 'y') this.redo();
    else return;
    event.preventDefault();
  }
}

async function start() {
  const cover = byId('cover');
  await loadWords('words/en.json');
  cover.textContent = say('app.loading');
  const canvas = /** @type {HTMLCanvasElement} */ (byId('bench'));
  canvas.setAttribute('role', 'application');
  canvas.setAttribute('aria-roledescription', say('canvas.role'));
  canvas.setAttribute('aria-describedby', 'bench-help');
  byId('bench-help').textContent = say('canvas.help');
  try {
    const bench = await startBench(canvas);
    const keep = await Keep.open();
    const app = new App(bench, keep);
    const kept = await keep.read();
    if (kept === null || !app.load(kept, say('keep.name'))) await app.openExample(kFirstBoard);
    keep.follow(() => app.boardAtRest());
    await app.openLink(location.hash);
    await app.lessons.openAddress(location.search);
    document.body.classList.add('ready');
    cover.hidden = true;
    bench.expose(app);
  } catch (reason) {
    console.error(reason);
    cover.replaceChildren(el('p', {}, say('app.no-start', {reason: String(reason)})), el('p', {}, say('app.no-start.hint')));
  }
}

start();
