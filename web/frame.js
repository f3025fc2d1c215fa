// The bench inside another page's frame: asleep until somebody wakes it, quiet towards the page around it, and that page's
// messages (messages.js).
//
// Asleep: a still picture under one button. Wheel, touch and keys belong to the course page, and no WebGL context is held, so that
// twenty boards on one page are no more than twenty pictures. Awake: like the bench on its own page, until Escape, F6, "Leave" or a
// press elsewhere.
import {el, setText} from './dom.js';
import {answer, event, readAsk} from './messages.js';
import {summary} from './partwords.js';
import {say, sayError} from './words.js';

const kShown = 700;    // ms a board that came into view may run before it stands still: lamps have taken on their light
const kDriven = 5000;  // ms it runs on after the course page's last command
const kTold = 250;     // ms between messages of change
const kWaiting = 32;   // asks that may wait for the bench to start

export class Frame {
  constructor() {
    const address = new URLSearchParams(location.search);
    /** Named by the author, else any page may be the host: what goes out is no more than what the frame shows. */
    this.host = hostOrigin(address.get('host'));
    this.readOnly = address.has('read-only');
    this.awake = this.visible = this.still = false;
    this.stale = true; // what is seen is not how the board is
    this.runsUntil = 0;
    this.timer = this.tellTimer = this.height = this.revision = 0;
    /** @type {?import('./app.js').App} */
    this.app = null;
    /** The board that reset brings back. @type {?string} */
    this.first = null;
    /** @type {import('./messages.js').Ask[]} */
    this.waiting = [];
    this.wanted = new Promise((resolve) => (this.want = () => resolve(undefined)));
    this.name = el('strong', {class: 'gate-name'});
    this.about = el('span', {hidden: true, id: 'gate-about'});
    this.note = el('p', {class: 'kept', hidden: true}, say('frame.read-only'));
    this.gate = this.makeGate();
    document.body.classList.add('framed', 'asleep');
    document.body.append(this.gate, this.about);
    this.shut(true);
    window.addEventListener('message', (message) => this.hear(message));
    new IntersectionObserver((entries) => this.see(entries[entries.length - 1].isIntersecting)).observe(document.documentElement);
    this.tell('waiting');
  }

  /** What its board is kept under: each frame's address has its own. */
  get keptAs() {
    const address = new URL(location.href);
    for (const own of ['test', 'lang', 'marking']) address.searchParams.delete(own);
    return `frame ${address.search}${address.hash}`;
  }

  makeGate() {
    const coarse = matchMedia('(pointer: coarse)').matches;
    setText(this.name, say('app.name'));
    return el('button', {type: 'button', class: 'gate', id: 'gate', 'aria-describedby': 'gate-about', onclick: () => this.wake()},
              el('span', {class: 'gate-card'}, this.name, el('span', {class: 'gate-how'}, say(coarse ? 'frame.wake.touch' : 'frame.wake'))));
  }

  /** The bench is there and shows its board. @param {import('./app.js').App} app @param {string} first board */
  start(app, first) {
    this.app = app;
    this.first = first;
    app.keep.node.after(this.note);
    if (this.readOnly) this.setReadOnly(true);
    app.bench.onChange((what) => this.changed(what.board));
    app.bench.host.options.stale = () => this.run(kShown);
    document.addEventListener('keydown', (key) => this.key(key));
    window.addEventListener('blur', () => setTimeout(() => document.hasFocus() || this.sleep('elsewhere')));
    new ResizeObserver(() => this.tellHeight()).observe(document.body);
    this.revision = app.bench.host.revision('board');
    this.describe();
    this.run(kShown);
    this.tell('ready', {title: app.words.title, kept: app.keep.state !== 'blocked', readOnly: this.readOnly});
    this.tellHeight();
    for (const ask of this.waiting.splice(0)) this.reply(ask);
  }

  describe() {
    if (!this.app) return;
    setText(this.name, this.app.words.title || say('bar.title.empty'));
    setText(this.about, summary(this.app.words));
  }

  // --- whose wheel, touch and keys ---

  wake() {
    if (this.awake || !this.app) return;
    this.awake = true;
    document.body.classList.remove('asleep');
    this.shut(false);
    this.settle();
    document.documentElement.scrollIntoView({block: 'nearest'});  // woken by a key, it may be out of sight
    this.app.bench.host.focus();
    this.app.announcer.say(say('frame.awake'));
    this.tell('awake');
  }

  /** @param {'key'|'button'|'elsewhere'} by what */
  sleep(by) {
    if (!this.awake || !this.app) return;
    this.awake = false;
    this.app.bench.host.letGo();
    document.body.classList.add('asleep');
    this.shut(true);
    this.app.bar.seeing.sound.look();
    this.describe();
    if (by !== 'elsewhere') this.gate.focus({preventScroll: true});  // from here Tab goes on in the course page
    this.app.announcer.say(say('frame.asleep'));
    this.run(kShown);
    this.tell('asleep', {by});
  }

  /** @param {boolean} shut */
  shut(shut) {
    for (const id of ['bar', 'desk']) /** @type {HTMLElement} */ (document.getElementById(id)).inert = shut;
    this.gate.hidden = !shut;
  }

  /** Escape first puts down what is in the hand, or closes what is open; F6 always leaves. @param {KeyboardEvent} key */
  key(key) {
    if (!this.awake || !this.app || key.key !== 'Escape' || key.defaultPrevented || this.app.shortcuts.shown) return;
    if (!this.busy) this.sleep('key');
  }

  /** Asked before the bench hears of the key. */
  noteHand() {
    this.busy = this.app?.bench.call({do: 'view'}).inHand ?? false;
  }

  // --- still or running ---

  /** @param {boolean} visible */
  see(visible) {
    this.visible = visible;
    if (visible) this.want();
    if (visible && this.stale) this.run(kShown);
    else this.settle();
  }

  /** Runs for a while, if it can be seen. @param {number} time ms */
  run(time) {
    this.stale = !this.visible;
    this.runsUntil = Math.max(this.runsUntil, performance.now() + time);
    this.settle();
  }

  settle() {
    clearTimeout(this.timer);
    const host = this.app?.bench.host;
    if (!host) return;
    const left = this.runsUntil - performance.now();
    if (this.visible && (this.awake || left > 0)) {
      host.resume();
      if (!this.awake) this.timer = window.setTimeout(() => this.settle(), left + 1);
    } else {
      host.pause();
    }
  }

  // --- messages ---

  /** @param {MessageEvent} message */
  hear(message) {
    if (message.source !== window.parent) return;
    if (this.host !== null && message.origin !== this.host) return;
    const ask = readAsk(message.data);
    if (ask === null) return;
    if ('refusal' in ask) return this.post(answer(ask.id, {ok: false, error: ask.refusal}));
    this.want();
    if (this.app) return this.reply(ask);
    if (this.waiting.length < kWaiting) return void this.waiting.push(ask);
    const text = `expected at most ${kWaiting} asks before the bench is ready`;
    this.post(answer(ask.id, {ok: false, error: {code: 'too-many', text}}));
  }

  /** @param {import('./messages.js').Ask} ask */
  reply({id, ask, args}) {
    /** @type {any} */
    let content;
    try {
      content = this.carryOut(ask, args);
    } catch (reason) {
      content = {ok: false, error: {code: 'failed', text: String(reason)}};
    }
    if (!content.ok) content = {ok: false, error: {...content.error, text: sayError(content.error)}};
    this.post(answer(id, content));
  }

  /** @param {string} ask @param {Record<string, any>} args @returns {any} */
  carryOut(ask, args) {
    const app = /** @type {import('./app.js').App} */ (this.app);
    const {bench} = app;
    switch (ask) {
      case 'load': return this.load(args.board, args.keepWork ?? false);
      case 'reset': return this.load(/** @type {string} */ (this.first), false);
      case 'board': return {ok: true, board: JSON.parse(/** @type {string} */ (app.boardAtRest()))};
      case 'press': {
        const done = bench.call({do: 'press', ...args});
        this.run(kDriven);
        return done;
      }
      case 'readings': {
        bench.host.advance();
        return bench.call({do: 'readings'});
      }
      case 'read-only': {
        this.setReadOnly(args.on);
        return {ok: true};
      }
      case 'focus': {
        this.wake();
        return {ok: true};
      }
      default: throw new Error(ask);
    }
  }

  /**
   * @param {string} text what reset brings back from now on
   * @param {boolean} keepWork what the learner made in this frame before stays on the bench
   */
  load(text, keepWork) {
    const app = /** @type {import('./app.js').App} */ (this.app);
    if (keepWork && app.restored) {
      this.first = text;
      return {ok: true, title: app.words.title};
    }
    // The host may do what the learner may not.
    app.bench.call({do: 'view', readOnly: false});
    const done = app.bench.call({do: 'load', text});
    app.bench.call({do: 'view', readOnly: this.readOnly});
    if (!done.ok) return done;
    this.first = text;
    app.opened('');
    app.keep.changed();
    this.run(kShown);
    this.describe();
    return {ok: true, title: app.words.title};
  }

  /** @param {boolean} on */
  setReadOnly(on) {
    this.readOnly = on;
    this.app?.bench.call({do: 'view', readOnly: on});
    document.body.classList.toggle('read-only', on);
    this.note.hidden = !on;
  }

  /** Tells the course page of something; the panel of a lesson tells of its steps this way. @param {string} name @param {object} [content] */
  tell(name, content = {}) {
    this.post(event(name, content));
  }

  /** @param {object} message */
  post(message) {
    window.parent.postMessage(message, this.host ?? '*');
  }

  /** @param {boolean} board */
  changed(board) {
    if (!board || this.tellTimer) return;
    this.tellTimer = window.setTimeout(() => {
      this.tellTimer = 0;
      const app = /** @type {import('./app.js').App} */ (this.app);
      const revision = app.bench.host.revision('board'), text = app.boardAtRest();
      if (revision === this.revision || text === null) return;
      this.revision = revision;
      this.describe();
      this.tell('changed', {revision, board: JSON.parse(text), kept: app.keep.state !== 'blocked'});
    }, kTold);
  }

  /** The height at which bench and notebook have room at this width. */
  tellHeight() {
    const height = wishedHeight(document.documentElement.clientWidth);
    if (height === this.height) return;
    this.height = height;
    this.tell('height', {height});
  }
}

/** A board is about half as high as wide; the bar is above it; the notebook beside it, or under it in a narrow frame. @param {number} width CSS px */
export function wishedHeight(width) {
  return width < 640 ? Math.round(Math.max(width * 0.75, 260) + 300) : Math.round(Math.min(Math.max(width * 0.55, 440), 640));
}

/** @param {?string} address */
function hostOrigin(address) {
  if (address === null) return null;
  try {
    const {origin} = new URL(address);
    if (origin !== 'null') return origin;
  } catch { /* said below */ }
  console.error(`tiepoint: host=${address} is not the address of a page; no page is listened to`);
  return 'https://nobody.invalid';  // a reserved name (RFC 2606): nobody
}
