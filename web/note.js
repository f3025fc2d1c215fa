// What is written on a note: the field for it, in the notebook and over the bench beside the note that is selected. A real field, so that
// on-screen keyboards, input methods and dictation work.
import {el, setField, taken} from './dom.js';
import {say} from './words.js';

const kLongest = 100; // letters; the engine takes 400 bytes

/** @typedef {import('./types.js').Part} Part */

/** @param {Part} part */
export const isNote = (part) => part.kind === 'note';

export class NoteForm {
  /** @param {import('./app.js').App} app @param {() => ?Part} part whose text it is @param {string} id */
  constructor(app, part, id) {
    this.app = app;
    this.part = part;
    this.field = el('textarea', {id, rows: 2, maxlength: kLongest, class: 'note-text', placeholder: say('note.placeholder')});
    this.node = el('form', {class: 'note-form'}, this.field, el('button', {type: 'submit', class: 'action'}, say('note.write')));
    this.node.addEventListener('submit', (event) => {
      event.preventDefault();
      this.write();
    });
    this.field.addEventListener('change', () => this.write());
    this.field.addEventListener('keydown', (event) => {
      if (event.key === 'Enter' && !event.shiftKey && !event.isComposing) {
        event.preventDefault();
        this.write();
      } else if (event.key === 'Escape') {
        event.stopPropagation();
        this.field.value = this.part()?.label ?? '';
        document.getElementById('bench')?.focus();
      }
    });
  }

  /** @param {Part} part */
  update(part) {
    this.field.setAttribute('aria-label', say('note.text', {part: part.name}));
    setField(/** @type {any} */ (this.field), part.label);
  }

  write() {
    const part = this.part();
    const text = this.field.value.trim();
    if (!part || text === part.label) return;
    if (!this.app.edit({edit: 'label', part: part.name, label: text}).ok) return;
    taken(/** @type {any} */ (this.field));
    this.app.announcer.say(text ? say('note.written', {part: part.name, text}) : say('note.emptied', {part: part.name}));
  }
}

/** The field over the bench. */
export class NoteField {
  /** @param {HTMLElement} node @param {import('./app.js').App} app */
  constructor(node, app) {
    this.node = node;
    this.app = app;
    this.name = '';
    this.form = new NoteForm(app, () => app.words.parts.find((part) => part.name === this.name) ?? null, 'note-field');
    node.append(this.form.node);
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    const part = words.parts.find((one) => one.name === words.selected);
    const shown = part !== undefined && isNote(part) && !document.body.classList.contains('read-only');
    if (!shown && this.node.contains(document.activeElement)) this.form.write();
    this.name = shown ? part.name : '';
    this.node.hidden = !shown;
    if (!shown) return;
    this.form.update(part);
    this.place();
  }

  /** Above the note, within the stage. */
  place() {
    if (this.node.hidden) return;
    const at = this.app.bench.call({do: 'point', part: this.name});
    if (!at.ok || !at.found) return;
    const {offsetWidth: w, offsetHeight: h} = this.node;
    const stage = /** @type {HTMLElement} */ (this.node.parentElement);
    const above = at.y - at.h / 2 - h - 10;
    const x = Math.max(6, Math.min(at.x - w / 2, stage.clientWidth - w - 6)), y = above >= 6 ? above : Math.min(at.y + at.h / 2 + 10, stage.clientHeight - h - 6);
    this.node.style.transform = `translate(${Math.round(x)}px, ${Math.round(y)}px)`;
  }
}
