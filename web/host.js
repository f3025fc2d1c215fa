// The browser layer under the bench: one canvas, its pointers (pointers.js), keys, text, sizes and frames, passed on to the WebAssembly module.
// Nothing here knows of boards. Positions and sizes are CSS pixels.
//
//   const bench = await mount(canvas, {changed, leave});
//   bench.call({do: 'words'})      a request to the bench (shell/bench/page_api.h), answered at once
//   bench.revision('board')        grows with each change of 'board', 'readings', 'view'
//
// What needs the program's second half waits for it: `await bench.fetchMore()`; `bench.whole` tells that it is here.
//
// Frames are drawn on demand: the module says when it wants the next one, and sleeps without a timer when nothing moves.

import {Pointers} from './pointers.js';
import {fetchFile, Program} from './program.js';

/**
 * @typedef {object} HostOptions
 * @property {(changed: {board: boolean, readings: boolean, view: boolean, camera: boolean}) => void} [changed] after a frame in which any of them grew
 * @property {(backwards: boolean) => void} [leave] F6 on the canvas: the keyboard goes elsewhere; Shift+F6 goes back
 * @property {() => void} [stale] it stands still, and its picture no longer fits the canvas
 * @property {() => number} [clock] milliseconds, for tests; performance.now by default
 * @property {string} [module] address of the module's script
 * @property {ArrayBuffer} [font] OpenType file with letters that the bench's own fonts do not have
 * @property {boolean} [held] no picture before draw() is called: there is nothing to show yet
 * @property {Record<string, string>} [words] the message catalogue; without it the bench shows the messages' keys
 */

/** @typedef {{reducedMotion: boolean, moreContrast: boolean, dark: boolean}} Preferences */

const WANT_TEXT = 2;
const REVISIONS = /** @type {const} */ (['board', 'readings', 'view', 'camera']);
const CURSORS = ['default', 'text', 'move', 'ns-resize', 'ew-resize', 'nesw-resize', 'nwse-resize', 'pointer', 'not-allowed'];
const SCROLL_KEYS = new Set(['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'PageUp', 'PageDown', 'Home', 'End', 'Backspace']);

/** [ms] the longest wait for a first paint: in a page that nobody sees there is none. */
const kPaint = 150;
/** ImGui smooths its own edges, and what has not changed stays in the picture. */
const kContext = {alpha: false, antialias: false, depth: false, stencil: false, preserveDrawingBuffer: true};

/** @type {?{program: Program, script: Promise<any>, fonts: Promise<ArrayBuffer[]>, context: Promise<any>}} */
let begun = null;

/** Begins to fetch and compile the program and its fonts, for whoever mounts it soon. @param {HTMLCanvasElement} [canvas] @param {string} [module] */
export function prepare(canvas, module) {
  const address = new URL(module ?? 'tiepoint.js', import.meta.url);
  // The page's own words are set in the same letters.
  const font = async (/** @type {string} */ name, /** @type {string} */ weight) => {
    const bytes = await (await fetchFile(new URL(name, address))).arrayBuffer();
    document.fonts.add(new FontFace('Inter', bytes, {weight}));
    return bytes;
  };
  begun = {
    program: new Program(address), script: import(address.href),
    fonts: Promise.all(canvas ? [font('fonts/inter-regular.otf', '400'), font('fonts/inter-semibold.otf', '600')] : []),
    context: canvas ? painted().then(() => makeContext(canvas)) : Promise.resolve(),
  };
  for (const promise of [begun.script, begun.fonts]) promise.catch(() => {});  // told by load()
  return begun;
}

/** What the page shows so far is on the screen: no browser paints while it makes a context. @returns {Promise<void>} */
const painted = () => new Promise((resolve) => {
  requestAnimationFrame(() => setTimeout(resolve));
  setTimeout(resolve, document.hidden ? 0 : kPaint);
});

/** Another process makes it, which takes as long as the files. @param {HTMLCanvasElement} canvas @returns the place of the canvas: to ask again would lay out the page again */
function makeContext(canvas) {
  const size = measure(canvas, null);
  fit(canvas, size);
  canvas.getContext('webgl2', kContext);
  return size;
}

/** Begins to fetch the second half too: there will be a board that needs it. */
export function prepareMore() {
  begun?.program.prepareMore();
}

/** The module itself, with its words. @param {HostOptions} options @param {HTMLCanvasElement} [canvas] */
async function load(options, canvas) {
  const {program, script, fonts, context} = begun ?? prepare(canvas, options.module);
  begun = null;
  const size = await context;
  const create = (await script).default;
  const module = await new Promise((resolve, reject) => create({canvas, instantiateWasm: (/** @type {WebAssembly.Imports} */ imports, /** @type {(instance: WebAssembly.Instance) => void} */ done) => {
    program.start(imports).then(done, reject);
    return {};
  }}).then(resolve, reject));
  Object.assign(module, {program, size});
  [...await fonts, ...(options.font ? [options.font] : [])].forEach((font, which) => giveBytes(module, new Uint8Array(font), (at, size) => module._tp_font(which, at, size)));
  giveText(module, Object.entries(options.words ?? {}).flat().join('\n'), (at) => module._tp_words(at));
  return module;
}

/** Loads the module and ties it to the canvas. @param {HTMLCanvasElement} canvas @param {HostOptions} [options] */
export async function mount(canvas, options = {}) {
  return new Host(canvas, await load(options, canvas), options);
}

/** The module without a bench, for the marking table: answers requests (shell/bench/page_marking.h). @param {HostOptions} options */
export async function startMarking(options) {
  const module = await load(options);
  await module.program.fetchMore();
  return (/** @type {object} */ request) => JSON.parse(giveText(module, JSON.stringify(request), (at) => module.UTF8ToString(module._tp_mark(at))));
}

/** Hands the module a text that it may read during `use`. @template T @param {any} m @param {string} text @param {(at: number) => T} use @returns {T} */
function giveText(m, text, use) {
  return giveBytes(m, new TextEncoder().encode(`${text}\0`), use);
}

/** @template T @param {any} m @param {Uint8Array} bytes @param {(at: number, size: number) => T} use @returns {T} */
function giveBytes(m, bytes, use) {
  const at = m._malloc(bytes.length);
  if (at === 0) throw new Error('out of memory');
  m.HEAPU8.set(bytes, at);
  try {
    return use(at, bytes.length);
  } finally {
    m._free(at);
  }
}

/** The place of the canvas on the page [CSS px] and its pixels. @param {HTMLCanvasElement} canvas @param {ResizeObserverEntry|null} entry */
function measure(canvas, entry) {
  const ratio = window.devicePixelRatio || 1;
  const box = canvas.getBoundingClientRect();
  let across = Math.max(1, Math.round(box.width * ratio)), down = Math.max(1, Math.round(box.height * ratio));
  const exact = entry?.devicePixelContentBoxSize?.[0];
  // Under an emulated ratio the box tells of the real screen: trust it only where both agree.
  if (exact && Math.abs(exact.inlineSize - across) <= 2 && Math.abs(exact.blockSize - down) <= 2) {
    across = Math.max(1, exact.inlineSize);
    down = Math.max(1, exact.blockSize);
  }
  return {width: across / ratio, height: down / ratio, ratio, across, down};
}

/** Gives a canvas its pixels, unless it has them: every setting makes them anew, at a great price once WebGL is there.
 * @param {HTMLCanvasElement} canvas @param {{across: number, down: number}} size */
function fit(canvas, {across, down}) {
  if (canvas.width !== across) canvas.width = across;
  if (canvas.height !== down) canvas.height = down;
}

export class Host {
  /** @param {HTMLCanvasElement} canvas @param {any} module @param {HostOptions} options */
  constructor(canvas, module, options) {
    this.canvas = canvas;
    this.options = options;
    this.failure = /** @type {Error|null} */ (null);
    this.m = module;
    this.clock = options.clock ?? (() => performance.now());
    this.frameRequest = 0;
    this.timer = 0;
    this.keysDown = /** @type {Map<string, string>} */ (new Map());
    this.keyUnnamed = false;  // an on-screen keyboard sent a key without a name; its meaning comes with the text
    this.seen = [-1, -1, -1];
    this.held = options.held ?? false;
    this.paused = false;
    this.lose = /** @type {?WEBGL_lose_context|undefined} */ (undefined);
    this.context = /** @type {'here'|'going'|'gone'} */ ('here');  // of WebGL
    this.still = /** @type {?HTMLCanvasElement} */ (null);  // the last picture, while the canvas cannot show it
    this.off = new AbortController();

    const {width, height, ratio} = this.measured = module.size ?? measure(canvas, null);
    fit(canvas, this.measured);
    this.usesGpu = this.m._ui_init(width, height, ratio) === 1;
    if (!this.usesGpu) this.paper = canvas.getContext('2d', {alpha: false});

    this.field = this.makeField();
    new Pointers(this);
    this.listenToKeys();
    this.listenToSize();
    this.listenToPage();
    this.kick();
  }

  // ---- What the page uses.

  /** @param {object} request @returns {any} */
  call(request) {
    const reply = giveText(this.m, JSON.stringify(request), (at) => this.m.UTF8ToString(this.m._tp_call(at)));
    this.kick();
    return JSON.parse(reply);
  }

  /** @returns {boolean} whether the program's second half is here */
  get whole() {
    return this.m.program.whole;
  }

  /** @returns {Promise<void>} */
  fetchMore() {
    return this.m.program.fetchMore();
  }

  /** @param {'board'|'readings'|'view'} which */
  revision(which) {
    return this.m._tp_revision(REVISIONS.indexOf(which));
  }

  focus() {
    this.canvas.focus({preventScroll: true});
  }

  /** Frames built and pictures drawn since the start; milliseconds spent on the simulation and on handing pictures over. */
  counts() {
    return {frames: this.m._ui_count(0), pictures: this.m._ui_count(1), simulated: this.m._ui_count(2), drawn: this.m._ui_count(3)};
  }

  /** What the canvas shows down to `height`, as PNG; null when the browser cannot make one. @returns {Promise<?Blob>} */
  picture(height = Infinity) {
    const {width, height: whole} = this.canvas;
    const copy = document.createElement('canvas');
    copy.width = width;
    copy.height = Math.min(whole, Math.max(1, Math.round(height * whole / this.canvas.getBoundingClientRect().height)));
    copy.getContext('2d')?.drawImage(this.canvas, 0, 0);
    return new Promise((resolve) => copy.toBlob(resolve, 'image/png'));
  }

  /** What the learner set in the app goes before what the system says. @param {Partial<Preferences>} chosen */
  setPreferences(chosen) {
    this.chosen = chosen;
    this.sendPreferences();
  }

  /** No more frames: the bench stands still. Its WebGL context goes to whoever needs one; the last picture stays. */
  pause() {
    if (this.paused || this.failure) return;
    this.paused = true;
    this.stopFrames();
    if (!this.usesGpu || this.context !== 'here') return;
    if (!this.still) this.keepPicture();
    this.giveContext();
  }

  keepPicture() {
    this.still = document.createElement('canvas');
    Object.assign(this.still, {width: this.canvas.width, height: this.canvas.height, className: 'still'});
    this.still.setAttribute('aria-hidden', 'true');
    this.still.getContext('2d', {alpha: false})?.drawImage(this.canvas, 0, 0);
    this.canvas.after(this.still);
  }

  giveContext() {
    this.context = 'going';
    this.loser()?.loseContext();
  }

  resume() {
    if (!this.paused) return;
    this.paused = false;
    const {across, down} = measure(this.canvas, null);
    if (across !== this.canvas.width || down !== this.canvas.height) this.resize(null);
    if (this.context === 'gone') this.loser()?.restoreContext();
    this.kick();
  }

  /** Lets time pass without a picture: what the bench tells is how it is now. */
  advance() {
    if (this.paused && !this.failure) this.frame();
  }

  loser() {
    // Asked for while it is there: a lost context has no extensions.
    this.lose ??= this.canvas.getContext('webgl2')?.getExtension('WEBGL_lose_context');
    return this.lose;
  }

  stopFrames() {
    cancelAnimationFrame(this.frameRequest);
    clearTimeout(this.timer);
    this.frameRequest = this.timer = 0;
  }

  dispose() {
    this.off.abort();
    this.sizes?.disconnect();
    cancelAnimationFrame(this.frameRequest);
    clearTimeout(this.timer);
    this.field.remove();
    this.failure = new Error('disposed');
  }

  // ---- Frames.

  /** Asks for a frame at the next refresh of the display; every event ends here. */
  kick() {
    if (this.frameRequest || document.hidden || this.failure || this.paused || this.held) return;
    clearTimeout(this.timer);
    this.timer = 0;
    this.frameRequest = requestAnimationFrame(() => this.frame());
  }

  /** The next picture now, not at the next refresh: the first one. */
  draw() {
    this.held = false;
    if (this.paused) return;
    this.stopFrames();
    this.frame();
  }

  frame() {
    this.frameRequest = this.timer = 0;
    if (this.failure) return;
    let wake;
    try {
      wake = this.m._ui_frame(this.clock());
    } catch (error) {
      // The module stopped for good; the page keeps its last words and can still offer the board for download.
      this.failure = /** @type {Error} */ (error);
      throw error;
    }
    if (!this.usesGpu) this.putPixels();
    this.canvas.style.cursor = CURSORS[this.m._ui_cursor()] ?? 'none';
    this.moveTextFocus();
    this.tellChanges();
    if (this.still && this.context === 'here') {
      this.still.remove();
      this.still = null;
    }
    if (wake === 0) this.kick();
    else if (wake > 0 && !this.paused && !this.frameRequest) this.timer = setTimeout(() => this.kick(), wake);
  }

  putPixels() {
    const at = this.m._ui_pixels();
    if (at === 0 || !this.paper) return;
    const {width, height} = this.canvas;
    this.paper.putImageData(new ImageData(new Uint8ClampedArray(this.m.HEAPU8.buffer, at, width * height * 4), width, height), 0, 0);
  }

  tellChanges() {
    const now = REVISIONS.map((_, index) => this.m._tp_revision(index));
    const grew = now.map((value, index) => value !== this.seen[index]);
    this.seen = now;
    if (grew.includes(true)) this.options.changed?.({board: grew[0], readings: grew[1], view: grew[2], camera: grew[3]});
  }

  // ---- Size. The device-pixel box is exact where the browser has it.

  /** @param {ResizeObserverEntry|null} entry */
  resize(entry) {
    if (this.paused) return this.options.stale?.();
    const size = measure(this.canvas, entry), {width, height, ratio, across, down} = size, before = this.measured;
    // The observer tells of every size once that it was there from the first.
    if (before.width === width && before.height === height && before.ratio === ratio && this.canvas.width === across && this.canvas.height === down) return;
    this.measured = size;
    fit(this.canvas, size);
    this.m._ui_resize(width, height, ratio);
    if (this.held) return;
    // Setting the size blanked the canvas: draw before it is shown.
    cancelAnimationFrame(this.frameRequest);
    this.frame();
  }

  listenToSize() {
    this.sizes = new ResizeObserver((entries) => this.resize(entries[entries.length - 1]));
    try {
      this.sizes.observe(this.canvas, {box: 'device-pixel-content-box'});
    } catch {
      this.sizes.observe(this.canvas);  // WebKit knows only the content box
    }
    const watch = () => {
      const query = matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`);
      query.addEventListener('change', () => { this.resize(null); watch(); }, {once: true, signal: this.off.signal});
    };
    watch();
  }

  // ---- Keys and text. The canvas has the keyboard; while the bench wants text a hidden field has it, for the sake of input methods.

  makeField() {
    const field = document.createElement('textarea');
    field.tabIndex = -1;
    field.setAttribute('aria-hidden', 'true');
    for (const [name, value] of Object.entries({autocapitalize: 'off', autocomplete: 'off', spellcheck: 'false'}))
      field.setAttribute(name, value);
    Object.assign(field.style, {position: 'absolute', left: '0', bottom: '0', width: '1px', height: '1px', padding: '0', border: '0',
                                opacity: '0', resize: 'none', pointerEvents: 'none'});
    this.canvas.after(field);
    return field;
  }

  hasFocus() {
    const root = /** @type {Document|ShadowRoot} */ (this.canvas.getRootNode());
    return root.activeElement === this.canvas || root.activeElement === this.field;
  }

  wantsText() {
    return (this.m._ui_want() & WANT_TEXT) !== 0;
  }

  moveTextFocus() {
    if (!this.hasFocus()) return;
    const root = /** @type {Document|ShadowRoot} */ (this.canvas.getRootNode());
    const target = this.wantsText() ? this.field : this.canvas;
    if (root.activeElement !== target) target.focus({preventScroll: true});
  }

  /** @param {KeyboardEvent} event @param {boolean} down */
  sendKey(event, down) {
    const modifiers = (event.shiftKey ? 1 : 0) | (event.ctrlKey ? 2 : 0) | (event.altKey ? 4 : 0) | (event.metaKey ? 8 : 0);
    if (down) this.keysDown.set(event.code, event.key);
    else this.keysDown.delete(event.code);
    this.m.ccall('ui_key', null, ['string', 'string', 'number', 'number'], [event.code, event.key, down ? 1 : 0, modifiers]);
    // macOS never reports keys that come up while Command is held.
    if (!down && event.key === 'Meta') this.releaseKeys();
    this.kick();
  }

  releaseKeys() {
    for (const [code, key] of this.keysDown)
      this.m.ccall('ui_key', null, ['string', 'string', 'number', 'number'], [code, key, 0, 0]);
    this.keysDown.clear();
  }

  /** @param {string} text */
  sendText(text) {
    if (text === '') return;
    this.m.ccall('ui_text', null, ['string'], [text]);
    this.kick();
  }

  /** A press and release of a key that only told its meaning. @param {string} name */
  tapKey(name) {
    for (const down of [1, 0]) this.m.ccall('ui_key', null, ['string', 'string', 'number', 'number'], [name, name, down, 0]);
    this.kick();
  }

  /** @param {KeyboardEvent} event */
  keyDown(event) {
    this.keyUnnamed = event.keyCode === 229;
    if (event.isComposing || this.keyUnnamed) return;
    if (event.key === 'F6') {
      if (!this.options.leave) return;
      event.preventDefault();
      return this.options.leave(event.shiftKey);
    }
    if (event.key === 'Tab') return;  // the keyboard must be able to leave
    const text = this.wantsText(), shortcut = event.ctrlKey || event.metaKey;
    if (text && shortcut && event.key.toLowerCase() === 'v') return;  // comes as a paste event
    this.sendKey(event, true);
    const printable = event.key.length === 1 && !shortcut && !event.altKey;
    if (text) {
      // The field may not have the keyboard yet when the first letters come.
      if (printable && event.target === this.canvas) this.sendText(event.key);
    } else if (printable || SCROLL_KEYS.has(event.key) || (shortcut && 'zyad'.includes(event.key.toLowerCase()))) {
      event.preventDefault();  // no scrolling, no quick search, no bookmark, no going back
    }
  }

  listenToKeys() {
    for (const target of [this.canvas, this.field]) {
      const on = this.listener(target);
      on('keydown', (event) => this.keyDown(event));
      on('keyup', (event) => { if (event.key !== 'Tab' && event.key !== 'F6') this.sendKey(event, false); });
      on('focus', () => { this.m._ui_focus(1); this.kick(); });
      on('blur', (event) => {
        if (event.relatedTarget !== this.canvas && event.relatedTarget !== this.field) this.letGo();
      });
    }
    const on = this.listener(this.field);
    on('beforeinput', (event) => {
      if (event.isComposing) return;
      if ((event.inputType === 'insertText' || event.inputType === 'insertFromPaste') && event.data) this.sendText(event.data);
      else if (this.keyUnnamed && event.inputType === 'deleteContentBackward') this.tapKey('Backspace');
      else if (this.keyUnnamed && event.inputType === 'insertLineBreak') this.tapKey('Enter');
      event.preventDefault();
    });
    on('compositionend', (event) => {
      this.sendText(event.data ?? '');
      // Never empty: an on-screen keyboard says nothing of deleting from an empty field.
      this.field.value = ' ';
    });
    this.field.value = ' ';
  }

  /** Keyboard or page went away: nothing stays pressed. */
  letGo() {
    this.releaseKeys();
    this.m._ui_focus(0);
    this.kick();
  }

  // ---- Page.

  listenToPage() {
    const on = this.listener(document);
    on('visibilitychange', () => {
      if (!document.hidden) return this.kick();
      this.letGo();
      this.stopFrames();
    });
    const onCanvas = this.listener(this.canvas);
    onCanvas('webglcontextlost', (event) => {
      event.preventDefault();
      this.m._ui_context_lost();
      const given = this.context === 'going';
      this.context = 'gone';
      // It was wanted again meanwhile. Not from within this event: the context is not yet the canvas's to restore.
      if (given && !this.paused) setTimeout(() => this.loser()?.restoreContext());
    });
    onCanvas('webglcontextrestored', () => {
      this.context = 'here';
      if (this.paused) return this.giveContext();
      this.m._ui_context_restored();
      this.kick();
    });
    this.queries = ['(prefers-reduced-motion: reduce)', '(prefers-contrast: more)', '(forced-colors: active)', '(prefers-color-scheme: dark)']
        .map((query) => matchMedia(query));
    for (const query of this.queries) query.addEventListener('change', () => this.sendPreferences(), {signal: this.off.signal});
    this.sendPreferences();
  }

  sendPreferences() {
    const [still, contrast, forced, dark] = (this.queries ?? []).map((query) => query.matches);
    const all = {reducedMotion: still, moreContrast: contrast || forced, dark, ...this.chosen};
    this.m._ui_prefs(all.reducedMotion ? 1 : 0, all.moreContrast ? 1 : 0, all.dark ? 1 : 0);
    this.kick();
  }

  /** @param {EventTarget} target @returns {(name: string, handler: (event: any) => void, options?: AddEventListenerOptions) => void} */
  listener(target) {
    return (name, handler, options) => target.addEventListener(name, handler, {...options, signal: this.off.signal});
  }
}
