// The list of earlier boards that this browser holds: what stood on the bench before another board took its place, and states of long work.
// Also boards that could not be read: they can only be taken out as a file.
import {el, showDialog} from './dom.js';
import {download, fileName} from './files.js';
import {kSnapshotCount} from './store.js';
import {languageTag, say} from './words.js';

export class Earlier {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    /** @type {?HTMLDialogElement} */
    this.dialog = null;
  }

  get shown() {
    return this.dialog?.open ?? false;
  }

  async show() {
    if (this.shown) return;
    const {store} = this.app.keep;
    const [snapshots, aside] = store ? await Promise.all([store.snapshots(), store.aside()]) : [[], []];
    this.dialog = showDialog('earlier', {heading: say('earlier.heading'), close: say('earlier.close')},
      el('div', {class: 'dialog-body', tabindex: 0, role: 'region', 'aria-labelledby': 'earlier-heading'},
         el('p', {}, snapshots.length ? say('earlier.about', {count: kSnapshotCount}) : say(store ? 'earlier.none' : 'keep.blocked')),
         el('ul', {class: 'earlier-list'}, ...snapshots.map((one) => this.row(one))),
         ...(aside.length ? [el('h3', {}, say('earlier.aside')), el('p', {}, say('earlier.aside.about')),
                             el('ul', {class: 'earlier-list'}, ...aside.map((one) => this.unreadRow(one)))] : [])));
  }

  /** @param {import('./store.js').Snapshot} one */
  row(one) {
    const title = one.title || say('bar.title.empty'), when = timeInWords(one.time);
    return el('li', {dataset: {snapshot: String(one.id)}},
      el('span', {class: 'earlier-name'}, el('strong', {}, title), ' ', el('span', {class: 'hint'}, say('earlier.row', {time: when, count: one.parts}))),
      el('button', {type: 'button', class: 'action', 'aria-label': say('earlier.open.label', {title, time: when}), onclick: () => {
        this.dialog?.close();
        this.app.load(one.text, title);
      }}, say('earlier.open')));
  }

  /** @param {import('./store.js').SetAside} one */
  unreadRow(one) {
    const when = timeInWords(one.time);
    return el('li', {dataset: {aside: String(one.id)}}, el('span', {class: 'earlier-name'}, when),
      el('button', {type: 'button', class: 'action', 'aria-label': say('earlier.download.label', {time: when}), onclick: () => downloadUnread(this.app, one.text)},
         say('earlier.download')));
  }
}

/** @param {import('./app.js').App} app @param {string} text */
export function downloadUnread(app, text) {
  app.saved(download(fileName(say('earlier.aside.file')), new Blob([text], {type: 'application/json'})));
}

/** "27 Nov, 14:05" @param {number} time [ms since 1970] */
const timeInWords = (time) => new Intl.DateTimeFormat(languageTag(), {day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', second: '2-digit'}).format(time);
