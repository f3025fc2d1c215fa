// <tiepoint-board>: a breadboard bench in any page. It makes the frame that one could write by hand (embed/index.html), once it comes
// near the view, and carries messages between the page and the bench.
//
//   <script type="module" src="https://…/embed.js"></script>
//   <tiepoint-board board="two-in-series" title="Two buttons in series"></tiepoint-board>
//
// board       one of the bench's examples, or the address of a board file that this page may read
// title       what the frame is called (for screen readers, and until the board is there)
// height      px; without it the frame is as high as the bench wishes
// read-only   buttons, switches and knobs work, nothing else can be changed
//
// element.ask('press', {part: 'S1', down: true})   a promise of the answer; fails with an Error that has a code
// events: ready, changed, awake, asleep, height; each with the message as its detail. They do not bubble.

const kVersion = 1;
const kNear = '600px';    // how far from the view the frame is made
const kPatience = 60000;  // ms until an ask fails
const kHeight = 480;      // px until the bench has told its own
const kHighest = 2000;    // px
const kEvents = new Set(['waiting', 'ready', 'changed', 'awake', 'asleep', 'height']);
const kExample = /^[a-z0-9-]{1,60}$/;

export class TiepointBoard extends HTMLElement {
  static observedAttributes = ['title', 'height', 'read-only'];

  constructor() {
    super();
    /** @type {?HTMLIFrameElement} */
    this.frame = null;
    /** @type {Map<number, {resolve: (answer: any) => void, reject: (reason: Error) => void, timer: number}>} */
    this.asked = new Map();
    this.count = 0;
    this.wished = kHeight;
    this.hear = this.hear.bind(this);
    this.open = new Promise((resolve) => (this.isOpen = resolve));  // the bench hears what it is asked
  }

  connectedCallback() {
    window.addEventListener('message', this.hear);
    const {style} = this;
    // Through the object model: a page's policy may forbid styles in attributes and elements.
    Object.assign(style, {display: 'block', position: 'relative', boxSizing: 'border-box', overflow: 'hidden', borderRadius: style.borderRadius || '10px',
                          background: '#223840', color: '#f3ede0'});
    this.fit();
    if (this.frame) return;
    this.poster = document.createElement('div');
    Object.assign(this.poster.style, {position: 'absolute', inset: '0', display: 'grid', placeContent: 'center', padding: '16px', textAlign: 'center',
                                      font: '600 16px/1.4 system-ui, sans-serif'});
    this.poster.textContent = this.label;
    this.append(this.poster);
    this.near = new IntersectionObserver((entries) => entries.some((entry) => entry.isIntersecting) && this.mount(), {rootMargin: kNear});
    this.near.observe(this);
  }

  disconnectedCallback() {
    window.removeEventListener('message', this.hear);
    this.near?.disconnect();
    this.fail('the bench was taken off the page');
    this.frame?.remove();
    this.poster?.remove();
    this.frame = null;
  }

  attributeChangedCallback(/** @type {string} */ name) {
    if (name === 'height') return this.fit();
    if (name === 'read-only' && this.frame) return void this.ask('read-only', {on: this.hasAttribute('read-only')}).catch(() => {});
    if (this.frame) this.frame.title = this.label;
    else if (this.poster) this.poster.textContent = this.label;
  }

  get label() {
    return this.getAttribute('title') || 'Breadboard bench';
  }

  /** The address of the bench in the frame; what one writes by hand. */
  get address() {
    const address = new URL('./', import.meta.url);
    const board = this.getAttribute('board');
    // The name of a file only tells this frame's kept work from others'.
    if (board) address.searchParams.set(kExample.test(board) ? 'board' : 'for', board);
    if (this.hasAttribute('read-only')) address.searchParams.set('read-only', '');
    if (location.origin !== 'null') address.searchParams.set('host', location.origin);
    return address.href;
  }

  mount() {
    if (this.frame) return;
    this.near?.disconnect();
    this.frame = document.createElement('iframe');
    this.frame.src = this.address;
    this.frame.title = this.label;
    this.frame.allow = 'fullscreen; clipboard-write; clipboard-read';
    Object.assign(this.frame.style, {position: 'absolute', inset: '0', width: '100%', height: '100%', border: '0'});
    this.append(this.frame);
  }

  fit() {
    const fixed = Number(this.getAttribute('height'));
    this.style.height = `${fixed > 0 ? fixed : this.wished}px`;
  }

  /** @param {string} what @param {object} [args] @returns {Promise<any>} */
  async ask(what, args = {}) {
    this.mount();
    await this.open;
    return this.send(what, args);
  }

  /** @param {string} what @param {object} [args] @returns {Promise<any>} */
  send(what, args = {}) {
    return new Promise((resolve, reject) => {
      const id = ++this.count;
      const timer = window.setTimeout(() => {
        this.asked.delete(id);
        reject(new Error(`the bench did not answer "${what}"`));
      }, kPatience);
      this.asked.set(id, {resolve, reject, timer});
      this.frame?.contentWindow?.postMessage({tiepoint: 'ask', version: kVersion, id, do: what, ...args}, new URL(import.meta.url).origin);
    });
  }

  /** @param {string} text */
  fail(text) {
    for (const {reject, timer} of this.asked.values()) {
      clearTimeout(timer);
      reject(new Error(text));
    }
    this.asked.clear();
  }

  /** @param {MessageEvent} message */
  hear({source, origin, data}) {
    if (!this.frame || source !== this.frame.contentWindow || origin !== new URL(import.meta.url).origin) return;
    if (typeof data !== 'object' || data === null || data.version !== kVersion) return;
    if (data.tiepoint === 'answer') return this.answered(data);
    if (data.tiepoint !== 'event' || !kEvents.has(data.event)) return;
    if (data.event === 'height') {
      this.wished = Math.min(Math.max(Number(data.height) || kHeight, 200), kHighest);
      this.fit();
    }
    if (data.event === 'waiting') return void this.begin();
    this.dispatchEvent(new CustomEvent(data.event, {detail: data}));
  }

  /** @param {any} data */
  answered(data) {
    const waiting = this.asked.get(data.id);
    if (!waiting) return;
    this.asked.delete(data.id);
    clearTimeout(waiting.timer);
    if (data.ok) waiting.resolve(data);
    else waiting.reject(Object.assign(new Error(data.error?.text ?? 'refused'), data.error));
  }

  /** A board file of this page's own is read here, with this page's rights, and handed over. */
  async begin() {
    this.poster?.remove();
    const board = this.getAttribute('board');
    try {
      if (board && !kExample.test(board)) {
        const answer = await fetch(new URL(board, document.baseURI));
        if (!answer.ok) throw new Error(`${board}: ${answer.status}`);
        const text = await answer.text();
        this.isOpen?.(undefined);
        await this.send('load', {board: text, keepWork: true});
      }
    } catch (reason) {
      console.error(`tiepoint-board: ${reason}`);
    }
    this.isOpen?.(undefined);
  }
}

customElements.define('tiepoint-board', TiepointBoard);
