// "Is anything wrong?": what the bench finds, one finding at a time in three depths: where to look, what is wrong, what to do. Worked out
// when it is asked for, and again after the board has changed while it is open. No finding ever stops anybody.
import {el, setText} from './dom.js';
import {say} from './words.js';

/** @typedef {{kind: string, severity: 'note'|'warning'|'fault', nudge: string, pointer: string, repair: string, parts: string[],
 *   holes: string[], misconception: string, edits: object[], insteadOf: ?number}} Finding */
/** @typedef {'nudge'|'pointer'|'repair'} Depth */

/** @type {Depth[]} */
const kDepths = ['nudge', 'pointer', 'repair'];
const kShown = 3; // findings at a time: the likeliest ones

/** @param {Finding} finding */
const idOf = (finding) => `${finding.kind} ${finding.parts.join(' ')}`;

export class Findings {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.revision = -1;
    /** How deep a finding has been asked about, by its kind and place. @type {Map<string, number>} */
    this.asked = new Map();
    this.answer = el('p', {class: 'findings-answer', id: 'findings-answer'});
    this.list = el('ol', {class: 'findings', id: 'findings'});
    this.node = el('details', {class: 'why', id: 'why'}, el('summary', {}, say('findings.heading')), this.answer, this.list);
    /** The finding whose place is shown on the bench. */
    this.pointed = '';
    this.node.addEventListener('toggle', () => {
      if (/** @type {HTMLDetailsElement} */ (this.node).open) this.update(this.app.words);
      else this.app.signs.clear(this);
    });
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    if (!(/** @type {HTMLDetailsElement} */ (this.node).open) || words.revision.board === this.revision) return;
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.update(this.app.words));
    this.revision = words.revision.board;
    const answer = this.app.bench.call({do: 'findings'});
    if (!answer.ok) return this.app.fail(answer.error);
    /** @type {Finding[]} */
    const findings = answer.findings;
    const faults = findings.filter((one) => one.severity !== 'note' && one.insteadOf === null);
    setText(this.answer, faults.length ? say('findings.count', {count: faults.length}) : findings[0]?.pointer ?? say('findings.none'));
    const still = faults.find((one) => idOf(one) === this.pointed);
    if (still && this.app.signs.shows(this)) this.point(still);
    else this.app.signs.clear(this);
    const focused = /** @type {?HTMLElement} */ (document.activeElement)?.id;
    this.list.replaceChildren(...faults.slice(0, kShown).map((one, index) => this.item(one, index)));
    if (focused?.startsWith('finding-')) document.getElementById(focused)?.focus();
  }

  /** @param {Finding} finding @param {number} index */
  item(finding, index) {
    const id = idOf(finding);
    const depth = this.asked.get(id) ?? 0;
    const said = kDepths.slice(0, depth + 1).map((one) => el('p', {class: one}, finding[one]));
    const actions = el('div', {class: 'actions'});
    if (depth < 2) {
      const deeper = el('button', {type: 'button', class: 'action', id: `finding-deeper-${index}`}, say(`findings.deeper.${kDepths[depth + 1]}`));
      deeper.addEventListener('click', () => this.ask(id, depth + 1, finding));
      actions.append(deeper);
    } else if (finding.edits.length) {
      const apply = el('button', {type: 'button', class: 'action strong', id: `finding-apply-${index}`}, say('findings.apply'));
      apply.addEventListener('click', () => this.apply(finding));
      actions.append(apply);
    }
    if (finding.parts.length && depth > 0) {
      const show = el('button', {type: 'button', class: 'action', id: `finding-show-${index}`}, say('findings.show', {part: finding.parts[0]}));
      show.addEventListener('click', () => {
        this.app.bench.call({do: 'select', part: finding.parts[0]});
        this.point(finding);
      });
      actions.append(show);
    }
    return el('li', {class: `finding ${finding.severity}`}, ...said, actions);
  }

  /** @param {string} id @param {number} depth @param {Finding} finding */
  ask(id, depth, finding) {
    this.asked.set(id, depth);
    this.revision = -1;
    this.update(this.app.words);
    this.app.announcer.say(finding[kDepths[depth]]);
    this.point(finding);
    if (depth === 1 && finding.parts.length) this.app.bench.call({do: 'select', part: finding.parts[0]});
  }

  /** A flag at each hole it is about; once the repair is asked for, where the parts would stand after it. @param {Finding} finding */
  point(finding) {
    const id = idOf(finding), depth = this.asked.get(id) ?? 0;
    this.pointed = id;
    const parts = finding.holes.length ? [] : finding.parts.slice(0, 1);
    this.app.signs.show(this, depth > 0 ? {holes: finding.holes, parts, edits: depth > 1 ? finding.edits : []} : {});
  }

  /** All edits of a repair are one step, so that one undo takes it back. @param {Finding} finding */
  apply(finding) {
    const edit = finding.edits.length === 1 ? finding.edits[0] : {edit: 'batch', edits: finding.edits};
    if (this.app.edit(edit).ok) this.app.announcer.say(say('findings.applied'));
  }
}
