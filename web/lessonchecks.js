// What the checks of a step say of the board, one failing thing at a time, and the help for it.
import {el, setAttribute, setText} from './dom.js';
import {makeHold} from './hold.js';
import {markdown} from './markdown.js';
import {say} from './words.js';

export class Checks {
  /** @param {import('./lesson.js').Lessons} lessons */
  constructor(lessons) {
    this.lessons = lessons;
    this.asked = false;   // somebody wants to hear what fails
    this.passed = -1;     // checks, as last told
    this.failing = '';    // id
    this.shown = '';      // the hints
    this.count = el('p', {class: 'lesson-count', id: 'lesson-count'});
    this.dots = el('p', {class: 'lesson-lamps', 'aria-hidden': 'true'});
    this.fail = el('p', {class: 'lesson-fail', id: 'lesson-fail'});
    this.reason = el('p', {class: 'lesson-reason', id: 'lesson-reason'});
    this.older = el('p', {class: 'hint'}, say('lesson.checks.older'));
    this.show = el('button', {type: 'button', class: 'action', id: 'lesson-show', onclick: () => this.lessons.act({act: 'show', check: this.failing})}, say('lesson.show'));
    this.put = el('button', {type: 'button', class: 'action', id: 'lesson-put'}, say('lesson.put'));
    this.down = false;
    makeHold(this.put, (down) => this.hold(down), () => this.down);
    this.failed = el('div', {class: 'lesson-failed'}, this.fail, this.reason, this.older, el('div', {class: 'actions'}, this.show, this.put));
    this.check = el('button', {type: 'button', class: 'action', id: 'lesson-check', onclick: () => this.checkNow()}, say('lesson.check-now'));
    this.hint = el('button', {type: 'button', class: 'action', id: 'lesson-hint', onclick: () => this.askHint()}, say('lesson.hint'));
    this.hints = el('ol', {class: 'lesson-hints', id: 'lesson-hints', 'aria-label': say('lesson.hint.heading')});
    this.heading = el('h4', {}, say('lesson.checks'));
    this.board = el('div', {class: 'lesson-board'}, this.heading, this.dots, this.count, this.failed);
    this.node = el('div', {class: 'lesson-checks'}, this.board, el('div', {class: 'actions'}, this.check, this.hint), this.hints);
  }

  /** @param {import('./types.js').LessonState} state */
  begin(state) {
    this.asked = false;
    this.passed = -1;
    this.failing = '';
    this.board.hidden = this.check.hidden = !state.step.checks.length;
  }

  /** @param {import('./types.js').LessonState} state */
  update(state) {
    const {verdict, step} = state;
    const count = step.checks.length;
    this.hint.hidden = step.done || !state.hintsLeft;
    setText(this.hint, say(state.hints.length ? 'lesson.hint.more' : 'lesson.hint'));
    this.drawHints(step.done ? [] : state.hints);
    if (!count) return;
    const told = verdict !== null && (this.asked || state.touched || step.done);
    const passed = verdict?.checks.filter((one) => one.passed).length ?? 0;
    this.dots.replaceChildren(...step.checks.map((_, at) => el('span', {dataset: {look: told && verdict?.checks[at].passed ? 'passed' : 'open'}})));
    setText(this.count, !told ? say('lesson.checks.wait', {count}) : passed === count ? say('lesson.checks.all') : say('lesson.checks.count', {passed, count}));
    const at = told ? verdict.checks.findIndex((one) => !one.passed) : -1;
    this.failed.hidden = at < 0;
    if (told && this.passed >= 0 && this.passed !== passed) this.lessons.app.announcer.say(say('lesson.say.checks', {passed, count}));
    if (told) this.passed = passed;
    if (at < 0 || !verdict) return;
    const one = verdict.checks[at];
    this.failing = one.id;
    setText(this.fail, one.fail ?? '');
    const words = state.words?.[at];
    setText(this.reason, [words?.reason, words?.case].filter(Boolean).join(' '));
    this.older.hidden = !!state.current;
    this.show.hidden = !one.parts?.length && !one.holes?.length;
    this.put.hidden = !one.case?.length || (!state.current && !this.down);
  }

  /** @param {string[]} hints */
  drawHints(hints) {
    this.hints.hidden = !hints.length;
    const now = hints.join('\n');
    if (now === this.shown) return;
    this.shown = now;
    this.hints.replaceChildren(...hints.map((hint) => el('li', {}, ...markdown(hint))));
  }

  checkNow() {
    this.asked = true;
    if (!this.lessons.act({act: 'check'})) return;
    const {count, fail, reason} = this;
    this.lessons.app.announcer.say([count, ...(this.failed.hidden ? [] : [fail, reason])].map((node) => node.textContent).join(' '));
  }

  askHint() {
    this.asked = true;
    if (!this.lessons.act({act: 'hint'})) return;
    this.lessons.app.announcer.say(this.lessons.state?.hints.at(-1) ?? '');
    if (this.hint.hidden) this.lessons.heading.focus({preventScroll: true});
  }

  /** @param {boolean} down */
  hold(down) {
    this.down = down;
    setAttribute(this.put, 'aria-pressed', String(down));
    this.lessons.app.bench.call({do: 'lesson', act: 'put', check: this.failing, down});
  }
}
