// The notebook beside the bench: in words, what stands on the board and what each part does now, and every action without the canvas.
// DOM nodes are kept and changed in place, so that focus and reading position survive every update.
import {AddPart, Joined} from './addpart.js';
import {el, reconcile, setField, setText} from './dom.js';
import {Findings} from './findings.js';
import {HillWords} from './hill.js';
import {HuntLog} from './huntlog.js';
import {makeHold} from './hold.js';
import {createRow, updateRow} from './partrow.js';
import {boardSentence, numbers, stateWord, summary} from './partwords.js';
import {Scopes} from './scope.js';
import {Sizing} from './sizing.js';
import {Truth} from './truth.js';
import {namesInWords, say} from './words.js';

export class Notebook {
  /** @param {HTMLElement} root @param {import('./app.js').App} app @param {import('./types.js').Kind[]} kinds */
  constructor(root, app, kinds) {
    this.app = app;
    root.setAttribute('aria-label', say('notebook.label'));
    this.title = el('input', {type: 'text', class: 'title', id: 'title', autocomplete: 'off', maxlength: 120, 'aria-label': say('bar.title'),
      placeholder: say('bar.title.empty')});
    this.title.addEventListener('change', () => app.edit({edit: 'title', title: this.title.value.trim()}));
    this.summary = el('p', {class: 'summary', id: 'summary'});
    this.hintText = el('p', {class: 'hint-text'});
    this.hintButton = el('button', {type: 'button', class: 'action strong', id: 'hint-hold'});
    this.hint = this.holdCard();
    this.parts = el('ul', {class: 'parts', id: 'parts'});
    this.wires = el('ul', {class: 'parts', id: 'wires'});
    this.noParts = el('p', {}, say('notebook.parts.none'));
    this.wireCount = el('summary');
    this.wireBox = el('details', {class: 'wires'}, this.wireCount, this.wires);
    this.values = el('p', {class: 'answer', id: 'values'});
    this.scopes = new Scopes(app);
    this.severalText = el('p', {class: 'several-text'});
    this.several = this.severalCard();
    this.findings = new Findings(app);
    this.huntLog = new HuntLog(app);
    this.hill = new HillWords(app);
    this.truth = new Truth(app);
    this.sizing = new Sizing(app);
    this.add = new AddPart(app, kinds);
    this.joined = new Joined(app);
    root.append(
        app.lessons.node, app.lessons.course.node, app.lessons.course.own,
        el('div', {class: 'notebook-head'}, this.title, this.summary, app.keep.node,
           el('div', {class: 'actions take-lesson'}, el('button', {type: 'button', class: 'action', id: 'take-lesson', onclick: () => void app.lessons.course.show()}, say('lesson.course.take')))), this.hint, this.several, this.scopes.node,
        el('section', {class: 'now', 'aria-labelledby': 'parts-heading'}, el('h2', {id: 'parts-heading'}, say('notebook.parts')), this.noParts, this.parts,
           this.wireBox,
           el('div', {class: 'actions'}, el('button', {type: 'button', class: 'action', id: 'read', onclick: () => this.read()}, say('notebook.read')),
              this.selectAll = el('button', {type: 'button', class: 'action', id: 'select-all', onclick: () => app.try({do: 'select', all: true})}, say('several.all')),
              el('button', {type: 'button', class: 'action', id: 'paste', onclick: () => app.clipboard.paste()}, say('several.paste'))),
           this.values),
        this.huntLog.node, this.findings.node, this.hill.node, this.truth.node, this.sizing.node, this.add.node, this.joined.node,
        el('details', {class: 'safety'}, el('summary', {}, say('safety.heading')), el('p', {}, say('safety.text'))));
  }

  /** The kinds of parts that a lesson offers; null for all. @param {?string[]} kinds */
  offer(kinds) {
    this.add.offer(kinds);
  }

  /** "Hold S1 down and watch LED1.", with the button itself. */
  holdCard() {
    const {app} = this;
    makeHold(this.hintButton, (down) => app.press(app.hint?.button ?? '', down), () => app.isDown(app.hint?.button ?? ''));
    const empty = el('button', {type: 'button', class: 'action', id: 'empty-board', onclick: () => app.newBoard('400', false)}, say('notebook.empty-board'));
    return el('section', {class: 'hint-card', id: 'hint', hidden: true}, this.hintText, el('div', {class: 'actions'}, this.hintButton, empty));
  }

  /** What can be done with all the selected parts. */
  severalCard() {
    const {app} = this;
    const action = (/** @type {string} */ id, /** @type {string} */ label, /** @type {() => void} */ act) =>
        el('button', {type: 'button', class: 'action', id: `several-${id}`, onclick: act}, say(label));
    return el('section', {class: 'card several', id: 'several', hidden: true, 'aria-label': say('several.label')}, this.severalText,
      el('div', {class: 'actions'}, action('duplicate', 'part.duplicate', () => app.clipboard.duplicate()), action('copy', 'part.copy', () => app.clipboard.copy()),
         action('turn', 'part.turn', () => app.try({do: 'turn'})), action('remove', 'part.remove', () => this.removeSeveral()),
         action('none', 'several.none', () => app.try({do: 'select', part: ''}))));
  }

  removeSeveral() {
    const answer = this.app.try({do: 'remove'});
    if (answer.ok) this.app.announcer.say(say('part.removed', {part: namesInWords(answer.parts)}));
    document.getElementById('notebook')?.focus({preventScroll: true});  // the card with the button goes away
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    this.several.hidden = words.selection.length < 2;
    setText(this.severalText, say('say.selected.several', {count: words.selection.length, part: namesInWords(words.selection)}));
    this.selectAll.hidden = words.parts.length < 2;
    setField(this.title, words.title);
    setText(this.summary, words.parts.length ? `${summary(words)} ${boardSentence(words)}` : `${summary(words)}`);
    this.updateHint(words);
    const indexed = words.parts.map((part, index) => ({part, index}));
    this.list(this.parts, indexed.filter(({part}) => !part.wire), words);
    const wires = indexed.filter(({part}) => part.wire);
    this.list(this.wires, wires, words);
    this.noParts.hidden = words.parts.length > 0;
    this.wireBox.hidden = wires.length === 0;
    if (wires.some(({part}) => part.name === words.selected)) this.wireBox.open = true;
    this.scopes.update(words);
    this.huntLog.update(words);
    this.findings.update(words);
    this.hill.update(words);
    this.truth.update(words);
    setText(this.wireCount, say('notebook.wires.count', {count: wires.length}));
  }

  /** @param {HTMLElement} node @param {{part: import('./types.js').Part, index: number}[]} items @param {import('./types.js').Words} words */
  list(node, items, words) {
    // A row belongs to a name and kind: another kind under the same name (after undo) is a new row.
    reconcile(node, items, ({part}) => `${part.name} ${part.kind}`, ({part}) => createRow(this.app, part),
              (row, {part, index}) => updateRow(row, part, index, words));
  }

  /** @param {import('./types.js').Words} words */
  updateHint(words) {
    const {hint} = this.app;
    const shown = hint !== null && words.parts.some((part) => part.name === hint.button);
    this.hint.hidden = !shown;
    if (!shown || !hint) return;
    setText(this.hintText, hint.light ? say('notebook.hold', {part: hint.button, light: hint.light}) : say('notebook.hold.plain', {part: hint.button}));
    setText(this.hintButton, say('part.press', {part: hint.button}));
    this.hintButton.setAttribute('aria-pressed', String(this.app.isDown(hint.button)));
  }

  /** Reads every part's present numbers once, on request. */
  read() {
    const {parts} = this.app.words;
    const said = parts.filter((part) => !part.wire).map((part) => {
      const args = {part: part.name, state: stateWord(part), numbers: numbers(part)};
      return args.numbers ? say('notebook.read.part', args) : say('notebook.read.part.state', args);
    });
    setText(this.values, said.length ? said.join(' ') : say('notebook.read.nothing'));
    this.app.announcer.say(this.values.textContent ?? '');
  }
}
