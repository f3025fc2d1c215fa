// Starts the page: words, bench, bar, notebook; and carries what the bench says to each of them.
import {Announcer} from './announce.js';
import {Bar, sayStep} from './bar.js';
import {startBench} from './bench.js';
import {Callout} from './callout.js';
import {Clipboard, writeClipboard} from './clipboard.js';
import {el, setAttribute} from './dom.js';
import {downloadUnread, Earlier} from './earlier.js';
import {acceptDrops, boardText, kLargestFile, readBoard, readExample} from './files.js';
import {Frame} from './frame.js';
import {prepare, prepareMore} from './host.js';
import {Keep} from './keep.js';
import {changeTo, language, loadLanguage} from './language.js';
import {Lessons} from './lesson.js';
import {NoteField} from './note.js';
import {Notebook} from './notebook.js';
import {workOffline} from './offline.js';
import {holdHint, holeWords, kindName, summary} from './partwords.js';
import {Search} from './search.js';
import {Shortcuts} from './shortcuts.js';
import {PictureError} from './picture.js';
import {kLongLink, LinkError, linkTo, unpack} from './share.js';
import {kCurrent} from './store.js';
import {Signs} from './signs.js';
import {megabytes, namesInWords, say, sayError} from './words.js';

/** @typedef {import('./types.js').Words} Words */
/** @typedef {import('./types.js').BenchError} BenchError */

const kFirstBoard = 'one-button';
const kQuiet = 1500; // ms after the start until the page fetches what is not needed yet
const kRefresh = 333; // ms between updates of the words while numbers run: as a hand-held meter counts (common practice, no source)

/** @param {string} id */
const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** "board", "lesson", "hand-in"; "" of what is no file of ours. @param {string} text */
function kindOfFile(text) {
  try {
    return String(JSON.parse(text)?.tiepoint ?? '');
  } catch {
    return '';
  }
}

export class App {
  /** @param {import('./bench.js').Bench} bench @param {Keep} keep @param {?Frame} frame the page is in */
  constructor(bench, keep, frame) {
    this.bench = bench;
    this.keep = keep;
    this.frame = frame;
    this.restored = false;  // it opened with what was kept from last time
    this.announcer = new Announcer(byId('status'), byId('alert'));
    /** @type {?{button: string, light: ?string, pressed: boolean}} what to try first on this board */
    this.hint = null;
    this.shortcuts = new Shortcuts(bench);
    this.clipboard = new Clipboard(this);
    this.signs = new Signs(this.bench);
    this.earlier = new Earlier(this);
    this.words = this.read();
    this.announcer.forget(this.words.parts);
    this.lessons = new Lessons(this);
    this.bar = new Bar(byId('bar'), this);
    this.notebook = new Notebook(byId('notebook'), this, bench.call({do: 'catalogue'}).kinds);
    this.search = new Search(byId('part-search'), this);
    this.note = new NoteField(byId('note-over'), this);
    this.callout = new Callout(byId('callout'), this);
    this.timer = 0;
    this.lastUpdate = 0;
    this.selected = '';  // the names, as last heard
    this.following = false;  // changes are somebody's work
    /** Says that the kept board could not be read. @type {?() => void} */
    this.unread = null;
    bench.onChange((what) => this.changed(what));
    this.keys();
    acceptDrops(document.body, (file) => this.openFile(file));
    // Whoever works here will soon need all of it.
    for (const hand of ['pointermove', 'pointerdown', 'keydown']) window.addEventListener(hand, () => void bench.fetchMore().catch(() => {}), {once: true});
    window.addEventListener('hashchange', () => this.followLink(location.hash));
  }

  /** @returns {Words} */
  read() {
    return this.bench.call({do: 'words'});
  }

  // --- following the bench ---

  /**
   * The words follow a change at once, running numbers a few times a second; the camera concerns only what stands over the canvas.
   * @param {{board: boolean, readings: boolean, view: boolean, camera: boolean}} what
   */
  changed(what) {
    this.callout?.place();
    this.note?.place();
    if (what.view) this.search?.place();
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
    this.followSelection(this.announcer.hear(this.words, document.activeElement === byId('bench'), (hole) => holeWords(this.bench.call({do: 'joined', hole}))));
    this.callout.update();
    this.search.update(this.words);
    this.note.update(this.words);
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

  /** @param {boolean} told what was done has been said already */
  followSelection(told) {
    const {selected, selection, parts} = this.words;
    const now = selection.join();
    if (now === this.selected) return;
    this.selected = now;
    const aloud = !told && document.activeElement === byId('bench');
    if (selection.length > 1 && aloud)
      this.announcer.say(say('say.selected.several', {count: selection.length, part: namesInWords(selection)}));
    const part = parts.find((one) => one.name === selected);
    if (!part) return;
    if (aloud) this.announcer.say(say('say.selected', {part: part.name, kind: kindName(part)}));
    // Its form pushes down what is below it: where the keys have gone on meanwhile, that stays in sight.
    const notebook = byId('notebook'), at = document.activeElement;
    (at && notebook.contains(at) ? at : notebook.querySelector('[data-chosen]'))?.scrollIntoView({block: 'nearest'});
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
    const before = this.work();
    if (!this.try({do: 'new', layout, splitRails: split}).ok) return;
    this.hint = null;
    this.took(say('say.new'), before);
    this.keep.untouched = this.boardAtRest();
  }

  /** One more breadboard beside the others, or the last one away. @param {?string} layout null: away */
  joinBoard(layout) {
    if (!this.try(layout ? {do: 'breadboard', layout} : {do: 'breadboard', away: true}).ok) return;
    const count = this.read().breadboards.length;
    this.announcer.say(say(layout ? 'say.boards.added' : 'say.boards.away', {count}));
  }

  /** @param {string} text of a board file @param {string} name for messages @param {{example?: boolean, own?: boolean}} [whose] nobody's work yet, or somebody comes back to it */
  load(text, name, {example = false, own = false} = {}) {
    const before = this.work();
    const answer = this.bench.call({do: 'load', text, own});
    if (!answer.ok) {
      this.fail(answer.error, name);
      return false;
    }
    this.opened(name, before, example);
    return true;
  }

  /** A board file is on the bench now. @param {string} name for messages @param {?string} [before] the work that it takes the place of @param {boolean} [example] */
  opened(name, before = null, example = false) {
    this.dismiss();
    const words = this.read();
    const hint = this.lessons.state ? null : holdHint(words);
    this.hint = hint && {...hint, pressed: false};
    this.took(say('say.loaded', {title: words.title || name, summary: summary(words)}), before);
    this.keep.untouched = example ? this.boardAtRest() : null;
  }

  /** What is on the bench, if it is anybody's work. */
  work() {
    if (!this.following) return null; // the page is only starting
    const text = this.boardAtRest();
    return text !== null && text !== this.keep.untouched ? text : null;
  }

  /** Another board is on the bench; one step brings the work back that was there. @param {string} message @param {?string} [before] */
  took(message, before = null) {
    this.announcer.forget(this.read().parts);
    this.announcer.say(message);
    this.update();
    if (before === null || before === this.boardAtRest()) return;
    this.keep.snapshot(before);
    this.show(message, {id: 'bring-back', label: say('earlier.back'), act: () => this.load(before, say('earlier.back.name'))});
  }

  /** The board that the page's address names; one that cannot be had says so. @param {string} name */
  async openNamed(name) {
    try {
      const [text] = await Promise.all([readBoard(name), this.bench.fetchMore()]);
      return this.load(text, name);
    } catch (reason) {
      this.show(say('say.error.read', {file: name, reason: String(reason)}));
      return false;
    }
  }

  /** @param {string} name @param {string} [text] of its file, if that is here */
  async openExample(name, text = '') {
    try {
      if (!text) [text] = await Promise.all([readExample(name), this.bench.fetchMore()]);
      this.load(titled(text, say(`example.${name}`)), say(`example.${name}`), {example: true});
    } catch (reason) {
      this.show(say('say.error.read', {file: say(`example.${name}`), reason: String(reason)}));
    }
  }

  /** @param {File} file */
  async openFile(file) {
    if (file.size > kLargestFile) {
      const [found, expected] = [file.size, kLargestFile].map(megabytes);
      return this.fail({code: 'too-large', text: 'too large', found, expected}, file.name);
    }
    try {
      const [text] = await Promise.all([boardText(file), this.bench.fetchMore()]);
      const kind = kindOfFile(text);
      if (kind === 'lesson') return this.lessons.course.offer(text, file.name);
      this.load(kind === 'hand-in' ? JSON.stringify(JSON.parse(text).board ?? null) : text, file.name);
    } catch (reason) {
      if (reason instanceof PictureError) return this.show(say(reason.message, {file: file.name}));
      this.show(say('say.error.read', {file: file.name, reason: String(reason)}));
    }
  }

  /** @param {string} name */
  saved(name) {
    this.announcer.say(say('say.saved', {file: name}));
  }

  /** Hides one to three defects to be searched for, or shows them. @param {'hide'|'reveal'} what */
  hunt(what) {
    if (!this.bench.whole) return this.whenWhole(() => this.hunt(what));
    const answer = this.bench.call(what === 'hide' ? {do: 'hide', count: 1 + Math.floor(Math.random() * 3), seed: Math.floor(Math.random() * 1e9)} : {do: 'reveal'});
    if (!answer.ok) return this.fail(answer.error);
    this.show(say(`menu.life.done.${what}`));
  }

  chooseFault() {
    if (!this.bench.whole) return this.whenWhole(() => this.chooseFault());
    void import('./hide.js').then(({showHide}) => showHide(this));
  }

  /** How near to life the board is: whether parts burn out, and whether no two are alike. @param {'spared'|'real'|'spread'} how */
  live(how) {
    const realism = how === 'spread' ? {spread: true, seed: 1 + Math.floor(Math.random() * 999999999)} : {spared: how === 'spared'};
    if (this.edit({edit: 'realism', realism}).ok) this.show(say(`menu.life.done.${how}`));
  }

  /** Another language, or another way to write values: the page comes anew, the board stays. @param {'lang'|'marking'} what @param {string} value */
  async change(what, value) {
    await this.keep.write();
    const {bench} = this;
    await changeTo(what, value, this.keep.keeps ? undefined : () => linkTo(bench.call({do: 'board'}).text));
  }

  async copyLink() {
    const answer = this.bench.call({do: 'board'});
    if (!answer.ok) return this.fail(answer.error);
    try {
      const link = await linkTo(answer.text);
      await writeClipboard(link);
      if (link.length > kLongLink) this.show(say('share.copied.long', {length: link.length}));
      else this.show(say('share.copied'));
    } catch {
      this.show(say('share.refused'));
    }
  }

  /** The board of a link that the page was opened with; a bad link says why and changes nothing. @param {string} hash */
  async openLink(hash) {
    const text = await this.readLink(hash);
    if (text === null) return;
    await this.bench.fetchMore();
    if (!this.load(text, say('share.name'))) return;
    // Taken over: from here on it is this person's board, which a reload must not undo.
    history.replaceState(null, '', location.pathname + location.search);
    this.keep.changed();
  }

  /** A link followed while somebody works here only offers its board. @param {string} hash */
  async followLink(hash) {
    const text = await this.readLink(hash);
    if (text === null) return;
    history.replaceState(null, '', location.pathname + location.search);
    this.show(say('share.offer'), {id: 'open-link', label: say('share.open'), act: () => this.load(text, say('share.name'))});
  }

  /** @param {string} hash @returns {Promise<?string>} */
  async readLink(hash) {
    try {
      return await unpack(hash);
    } catch (reason) {
      this.show(say(reason instanceof LinkError ? reason.message : 'share.damaged'));
      return null;
    }
  }

  /** The board that was kept; one that cannot be read any more is set aside. @returns {Promise<boolean>} whether a board is on the bench */
  async openKept() {
    const {left: text} = this.keep;
    if (text === null) return false;
    await this.bench.fetchMore();
    if (this.load(text, say('keep.name'), {own: true})) return true;
    const reason = /** @type {string} */ (document.querySelector('#toast p')?.textContent);
    if (this.keep.keeps) await this.keep.store?.setAside();
    this.unread = () => this.show(say('keep.unread', {reason}), {id: 'download-unread', label: say('earlier.download'), act: () => downloadUnread(this, text)});
    return false;
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

  /** What only the whole program can answer: now, or once it is here. @param {() => void} act */
  whenWhole(act) {
    if (this.bench.whole) return act();
    this.bench.fetchMore().then(act, (reason) => this.show(say('say.error.read', {file: say('app.name'), reason: String(reason)})));
  }

  // --- messages ---

  /** @param {BenchError} error @param {string} [file] */
  fail(error, file) {
    const text = sayError(error);
    this.show(file ? say('say.error.in-file', {file, error: text}) : text);
  }

  /**
   * A message that stays until it is dismissed or the next thing works. @param {string} text
   * @param {{id: string, label: string, act: () => void}} [offer] what can be done about it
   */
  show(text, offer) {
    const toast = byId('toast');
    const button = (/** @type {string} */ label, /** @type {() => void} */ act, /** @type {object} */ more) =>
        el('button', {type: 'button', class: 'action', onclick: () => { this.dismiss(); act(); }, ...more}, label);
    toast.replaceChildren(el('p', {}, text), ...(offer ? [button(offer.label, offer.act, {id: offer.id})] : []), button(say('say.dismiss'), () => {}, {}));
    toast.classList.toggle('offer', offer !== undefined);
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
      if (event.key === 'Escape') this.frame?.noteHand();
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
    return {'cross-over': () => this.crossOver(), shortcuts: onBench ? () => this.shortcuts.show() : undefined,
      search: onBench && !this.search.node.hidden ? () => this.search.field.focus() : undefined};
  }

  /** F6: from the bench to the notebook and back; in a frame, out of it. */
  crossOver() {
    if (this.frame) return this.frame.sleep('key');
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

/** An example's board under its name in the language of the page. @param {string} text @param {string} title */
const titled = (text, title) => (language() === 'en' ? text : JSON.stringify({...JSON.parse(text), title}));

const namedBoard = () =>
    new URLSearchParams(location.search).get('board') ?? document.querySelector('meta[name="board"]')?.getAttribute('content') ?? null;

/** The board this page opens with: kept from last time, or in its address, or the first one. @param {App} app @param {Keep} keep @param {Promise<string>} first its text, unless there is another */
async function openFirst(app, keep, first) {
  const named = namedBoard();
  // Where no board was ever kept nobody waits for the store. Should it hold one all the same, that comes as soon as it can.
  const late = keep.empty && !app.frame && !location.hash && !location.search.includes('lesson=');
  if (!late) await keep.opened;
  const back = !late && await app.openKept();
  app.restored = back;
  if (!back && !(named && await app.openNamed(named))) await app.openExample(kFirstBoard, await first.catch(() => ''));
  if (!app.lastUpdate) app.update(); // not even the first board could be had
  keep.follow(() => app.boardAtRest());
  app.following = true;
  if (late) {
    keep.opened = keep.opened.then(async () => {
      app.restored = await app.openKept();
      app.unread?.();
    });
  }
  app.unread?.();
  // A frame's address is its author's: what the learner made of that board since goes first.
  if (!back || !app.frame) await app.openLink(location.hash);
}

/** What reset brings back: the board of the address, even when a kept one was opened. @param {App} app */
async function authorsBoard(app) {
  try {
    const linked = await unpack(location.hash).catch(() => null);
    return linked ?? await readBoard(namedBoard() ?? kFirstBoard);
  } catch {
    return app.boardAtRest() ?? '';
  }
}

/** The bench can be used; now comes what it may need later. @param {App} app */
function goOn(app) {
  void app.bench.fetchMore().catch(() => {});
  void workOffline(app);
}

async function start() {
  const cover = byId('cover');
  const framed = window.parent !== window;
  const canvas = /** @type {HTMLCanvasElement} */ (byId('bench'));
  const named = namedBoard(), place = named ? `board ${named}` : kCurrent;  // each board with an address of its own is kept apart from the page's
  // All that network, store and other processes have to give is asked for at once; a frame waits until it is seen.
  const keeping = framed ? null : Keep.open(place);
  if (!framed) prepare(canvas);
  const other = framed || named || location.hash || location.search.includes('lesson=');
  const example = other ? Promise.resolve('') : readExample(kFirstBoard);
  example.catch(() => {});  // told by openExample
  const letters = await loadLanguage();
  const frame = framed ? new Frame() : null;
  cover.append(el('p', {}, say('app.loading')));
  canvas.setAttribute('role', 'application');
  canvas.setAttribute('aria-roledescription', say('canvas.role'));
  canvas.setAttribute('aria-describedby', 'bench-help');
  byId('bench-help').textContent = say(frame ? 'canvas.help.frame' : 'canvas.help');
  try {
    await frame?.wanted;
    const keep = keeping ?? Keep.open(frame?.keptAs);
    void keep.opened.then(() => (other || keep.left !== null) && prepareMore());
    // Kept for offline work it costs nothing; without a network nobody could fetch it while the page stands still.
    const kept = !framed && Boolean(navigator.serviceWorker?.controller), alone = kept && !navigator.onLine;
    if (alone) prepareMore();
    const bench = await startBench(canvas, letters);
    keep.tell();
    // The store answers meanwhile.
    const app = new App(bench, keep, frame);
    await openFirst(app, keep, example);
    byId('notebook').removeAttribute('data-filling');
    await app.lessons.openAddress(location.search);
    bench.host.draw();
    if (alone) await bench.fetchMore();
    else if (kept) setTimeout(() => void bench.fetchMore().catch(() => {}));
    const authors = frame && await authorsBoard(app);
    document.body.classList.add('ready');
    cover.hidden = true;
    setTimeout(() => app.bar.finish());
    frame?.start(app, authors ?? '');
    bench.expose(app);
    if (!frame) setTimeout(() => goOn(app), kQuiet);
  } catch (reason) {
    console.error(reason);
    cover.replaceChildren(el('p', {}, say('app.no-start', {reason: String(reason)})), el('p', {}, say('app.no-start.hint')));
  }
}

start();
