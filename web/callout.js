// The pointer on the bench at the first visit: a small flag "hold S1" beside the button, gone once it was held.
import {setText} from './dom.js';
import {say} from './words.js';

export class Callout {
  /** @param {HTMLElement} node @param {import('./app.js').App} app */
  constructor(node, app) {
    this.node = node;
    this.app = app;
    node.setAttribute('aria-hidden', 'true');  // the notebook says the same
    // Another size of the window lays the bench out anew; that is no change of what it shows.
    const follow = (/** @type {number} */ frames) => requestAnimationFrame(() => {
      this.place();
      if (frames > 1) follow(frames - 1);
    });
    new ResizeObserver(() => follow(4)).observe(/** @type {Element} */ (node.parentElement));
  }

  update() {
    const {hint} = this.app;
    this.node.hidden = !hint || hint.pressed || this.app.words.selection.length > 1;
    if (!hint) return;
    setText(this.node, say('part.press', {part: hint.button}));
    this.place();
  }

  /** Follows the camera. */
  place() {
    const {hint, bench} = this.app;
    if (this.node.hidden || !hint) return;
    const at = bench.call({do: 'point', part: hint.button});
    const box = bench.call({do: 'point', box: 'jumper-wire'});  // the parts box covers what is behind it
    const foot = Math.round(at.y + at.h / 2);
    if (!at.ok || !at.found || (box.found && foot > box.y - box.h / 2)) {
      this.node.classList.add('away');
      return;
    }
    this.node.classList.remove('away');
    this.node.style.transform = `translate(calc(${Math.round(at.x)}px - 50%), ${foot}px)`;
  }
}
