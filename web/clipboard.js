// Parts copied and pasted, as the text of a board file: within a board, into another tab, into a mail. What comes out of the clipboard may be
// anything; the engine reads it as it reads any file.
import {el} from './dom.js';
import {kLargestFile} from './files.js';
import {megabytes, namesInWords, say, sayError} from './words.js';

/** Some frames forbid the clipboard but not copying what is selected. Fails when both are forbidden. @param {string} text */
export async function writeClipboard(text) {
  try {
    await navigator.clipboard.writeText(text);
  } catch (reason) {
    const before = /** @type {?HTMLElement} */ (document.activeElement);
    const field = el('textarea', {class: 'visually-hidden', 'aria-hidden': 'true', tabindex: -1});
    field.value = text;
    document.body.append(field);
    field.select();
    const copied = document.execCommand('copy');
    field.remove();
    before?.focus({preventScroll: true});
    if (!copied) throw reason;
  }
}

export class Clipboard {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.own = '';  // copied here last, for browsers that do not let the page read the clipboard
    for (const kind of /** @type {const} */ (['copy', 'cut', 'paste']))
      document.addEventListener(kind, (event) => this.take(kind, event));
  }

  /** Is the keyboard anywhere but in text? */
  concernsBench() {
    const at = /** @type {?HTMLElement} */ (document.activeElement);
    if (at?.matches('input, select, textarea') || this.app.shortcuts.shown) return false;
    return at?.id === 'bench' || (document.getSelection()?.isCollapsed ?? true);
  }

  /** @param {'copy'|'cut'|'paste'} kind @param {ClipboardEvent} event */
  take(kind, event) {
    if (!event.clipboardData || !this.concernsBench()) return;
    if (kind === 'paste') {
      event.preventDefault();
      const [file] = event.clipboardData.files;
      if (file) return void this.app.openFile(file); // a picture or a board file
      this.put(event.clipboardData.getData('text/plain'));
      return;
    }
    const text = this.selected();
    if (text === '') return;
    event.clipboardData.setData('text/plain', text);
    event.preventDefault();
    this.took(text, kind === 'cut');
  }

  selected() {
    return this.app.bench.call({do: 'copy'}).text ?? '';
  }

  /** @param {string} text @param {boolean} cut */
  took(text, cut) {
    const {app} = this;
    const {selection} = app.read();
    this.own = text;
    if (cut) app.try({do: 'remove'});
    app.announcer.say(say(cut ? 'say.cut' : 'say.copied', {part: namesInWords(selection)}));
  }

  /** The notebook's buttons. */
  async copy() {
    const text = this.selected();
    if (text === '') return;
    this.took(text, false);
    try {
      await navigator.clipboard.writeText(text);
    } catch { /* it can still be pasted here */ }
  }

  async paste() {
    let text = this.own;
    try {
      text = await navigator.clipboard.readText();
    } catch {
      if (text === '') return this.app.show(say('say.paste.refused'));
    }
    this.put(text);
  }

  /** @param {string} text */
  put(text) {
    const {app} = this;
    if (text.trim() === '') return app.show(say('say.paste.empty'));
    const answer = text.length > kLargestFile
      ? {ok: false, error: {code: 'too-large', text: 'too large', found: megabytes(text.length), expected: megabytes(kLargestFile)}}
      : app.bench.call({do: 'paste', text});
    if (!answer.ok) return app.show(say('say.paste.bad', {error: sayError(answer.error)}));
    this.placed(answer.parts, true);
  }

  duplicate() {
    const answer = this.app.try({do: 'duplicate'});
    if (answer.ok) this.placed(answer.parts, false);
  }

  /** @param {string[]} parts @param {boolean} shown whether the page has to say that there is no room */
  placed(parts, shown) {
    const {app} = this;
    if (parts.length === 0) return shown ? app.show(say('bench.no-room')) : app.announcer.say(say('bench.no-room'));
    app.dismiss();
    app.announcer.say(say('say.pasted', {part: namesInWords(parts)}));
  }
}
