// A lesson taken in the page: the panel at the top of the notebook. The bench holds the lesson and judges (shell/bench/page_lesson.h);
// here it is shown, step by step, and kept. Nodes stay and change in place, so that focus and reading position survive.
import {Course, aboutLesson} from './course.js';
import {course, readLesson} from './courselist.js';
import {el, setAttribute, setText} from './dom.js';
import {download, fileName} from './files.js';
import {LessonKeep} from './lessonkeep.js';
import {lessonLanguage} from './lessonwords.js';
import {Checks} from './lessonchecks.js';
import {Question} from './lessonquestion.js';
import {markdown, plain} from './markdown.js';
import {fnv1a} from './share.js';
import {list, say} from './words.js';

/** @typedef {import('./types.js').LessonState} LessonState */

const kLook = 350;        // ms of quiet before a changed board is judged
const kSlowLook = 150;    // ms; a board that takes longer to judge is judged when asked
const kSave = 400;        // ms after a change

/** What draws the variant of a lesson: of the learner the address names (engine/file/variants.h), or anything. */
function seedHere() {
  const asked = new URLSearchParams(location.search), learner = asked.get('learner'), seed = Number(asked.get('seed') ?? NaN);
  if (learner) return fnv1a(new TextEncoder().encode(learner)) & 0x7FFFFFFF;
  return Number.isInteger(seed) && seed >= 0 && seed < 2 ** 31 ? seed : Math.floor(Math.random() * 1e9);
}

export class Lessons {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.keep = new LessonKeep();
    /** @type {?LessonState} */
    this.state = null;
    this.id = '';
    this.step = -1;       // that is drawn
    this.refusals = 0;
    this.slow = false;    // judging takes long here
    this.since = 0;       // [ms] when time on this step was last counted
    this.lookTimer = this.saveTimer = 0;
    /** @type {?() => void} when somebody tries what they write: where they go back to; nothing is kept */
    this.back = null;
    this.course = new Course(app, this.keep, (id) => void this.open(id), (text) => void this.takeFile(text));
    this.question = new Question(this);
    this.checks = new Checks(this);
    const button = (/** @type {string} */ id, /** @type {string} */ label, /** @type {() => void} */ act, kind = '') =>
        el('button', {type: 'button', class: `action ${kind}`, id, onclick: act}, say(label));
    this.number = el('p', {class: 'lesson-number'});
    this.title = el('h2', {class: 'lesson-title', id: 'lesson-title', tabindex: -1});
    this.goal = el('div', {class: 'lesson-text'});
    this.about = el('details', {class: 'lesson-about'}, el('summary', {}, say('lesson.about')), this.goal);
    this.steps = el('ol', {class: 'lesson-steps', 'aria-label': say('lesson.steps')});
    this.kind = el('p', {class: 'lesson-kind'});
    this.heading = el('h3', {id: 'lesson-step', tabindex: -1});
    this.text = el('div', {class: 'lesson-text'});
    this.caution = el('div', {class: 'lesson-caution', hidden: true});
    this.on = button('lesson-on', 'lesson.switch-on', () => this.switchOn(), 'strong');
    this.lay = button('lesson-lay', 'lesson.lay', () => this.act({act: 'lay'}));
    this.backButton = button('lesson-back', 'lesson.back', () => this.go(-1));
    this.next = button('lesson-next', 'lesson.next', () => this.forward());
    this.level = el('select', {id: 'lesson-help', onchange: () => this.act({act: 'help', level: this.level.value})},
                    ...['outline', 'parts', 'goal'].map((level) => el('option', {value: level}, say(`lesson.help.${level}`))));
    this.done = el('div', {class: 'lesson-done', id: 'lesson-done', hidden: true});
    this.trial = el('p', {class: 'hint', hidden: true}, say('lesson.trial'));
    this.handIn = button('lesson-hand-in', 'lesson.hand-in', () => this.saveHandIn());
    this.leaveButton = button('lesson-leave', 'lesson.leave', () => void this.leave());
    this.node = this.assemble();
    document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && this.saveTimer && this.save());
  }

  assemble() {
    return el('section', {class: 'lesson', id: 'lesson', 'aria-labelledby': 'lesson-title', hidden: true},
      el('div', {class: 'lesson-head'}, el('div', {}, this.number, this.title), this.leaveButton), this.trial, this.steps, this.about,
      el('div', {class: 'lesson-step'}, this.kind, this.heading, this.text, this.caution, this.question.node,
         el('div', {class: 'actions'}, this.on, this.lay), this.checks.node),
      this.done, el('div', {class: 'actions lesson-foot'}, this.backButton, this.next),
      el('p', {class: 'field'}, el('label', {}, say('lesson.help'), this.level)), el('div', {class: 'actions'}, this.handIn));
  }

  // --- coming and going ---

  /** The lesson that the address names, if it does. @param {string} search */
  async openAddress(search) {
    const name = new URLSearchParams(search).get('lesson');
    if (!name) return;
    if (!course.includes(name)) return this.app.show(say('lesson.unknown', {name: name.slice(0, 60)}));
    await this.open(name);
  }

  /** A lesson of the course. @param {string} id */
  async open(id) {
    try {
      await this.take(id, await readLesson(id));
    } catch (reason) {
      this.app.show(say('lesson.unread', {reason: String(reason)}));
    }
  }

  /** A lesson from a file; how far somebody comes in it is kept by its name. @param {string} text */
  async takeFile(text) {
    await this.take(`file ${JSON.parse(text).id}`, text);
  }

  /** Whoever writes a lesson tries it. @param {string} text @param {() => void} back */
  async tryOut(text, back) {
    await this.take('trial', text, back);
  }

  /** @param {string} id it is kept under @param {string} file @param {?() => void} [back] it is only tried */
  async take(id, file, back = null) {
    if (this.state) await this.leave(true);
    await this.app.bench.fetchMore();
    const foreign = course.includes(id) && lessonLanguage(id) === 'en';
    for (const node of [this.title, this.goal, this.heading, this.text]) {
      setAttribute(node, 'lang', foreign ? 'en' : null);
      setAttribute(node, 'dir', foreign ? 'ltr' : null);
    }
    const taken = back ? null : await this.keep.read(id);
    this.app.keep.pause();
    const begin = {do: 'lesson', act: 'open', text: file, seed: seedHere()};
    let answer = this.app.bench.call(taken ? {...begin, progress: taken.progress, board: taken.board} : begin);
    if (!answer.ok && taken) {
      answer = this.app.bench.call(begin);
      if (answer.ok) this.app.show(say('lesson.changed'));
    }
    if (!answer.ok) {
      this.app.keep.resume();
      return this.app.fail(answer.error, id);
    }
    this.back = back;
    this.begin(id, answer);
  }

  /** @param {string} id @param {LessonState} state */
  begin(id, state) {
    this.id = id;
    this.step = -1;
    this.slow = false;
    this.refusals = state.refusals;
    this.since = performance.now();
    this.course.node.hidden = true;
    this.app.hint = null;
    this.node.hidden = false;
    document.body.classList.add('taking-lesson');
    document.body.classList.remove('notebook-hidden');
    if (course.includes(id)) this.address(id);
    this.trial.hidden = !this.back;
    this.handIn.hidden = this.back !== null;
    setText(this.leaveButton, say(this.back ? 'lesson.trial.leave' : 'lesson.leave'));
    this.follow(state);
    this.app.notebook.offer(state.help === 'goal' ? null : state.about.box.map(({kind}) => kind));
    this.app.took(say('lesson.opened', {title: state.about.title, number: state.at + 1, step: plain(state.step.title)}));
    this.node.parentElement?.scrollTo(0, 0);
    this.title.focus({preventScroll: true});
    this.saveSoon();
  }

  /** @param {boolean} [silent] another lesson follows */
  async leave(silent = false) {
    if (!this.state) return;
    const saved = this.save();
    this.app.bench.call({do: 'lesson', act: 'leave'});
    this.state = null;
    this.node.hidden = true;
    document.body.classList.remove('taking-lesson');
    this.app.notebook.offer(null);
    this.address('');
    this.app.keep.resume();
    this.app.dismiss();
    this.app.took(say('lesson.left'));
    const {back} = this;
    this.back = null;
    if (silent) return void await saved;
    if (back) back();
    else document.getElementById('notebook')?.focus({preventScroll: true});
    await saved;
  }

  /** @param {string} id */
  address(id) {
    const search = new URLSearchParams(location.search);
    if (id) search.set('lesson', id);
    else search.delete('lesson');
    const text = String(search);
    history.replaceState(null, '', location.pathname + (text ? `?${text}` : '') + location.hash);
  }

  // --- what the learner does ---

  /** @param {object} command @returns {boolean} */
  act(command) {
    const answer = this.app.bench.call({do: 'lesson', ...command});
    if (!answer.ok) {
      this.app.fail(answer.error);
      return false;
    }
    this.follow(answer);
    this.saveSoon();
    return true;
  }

  /** @param {number} way @returns {boolean} */
  go(way) {
    const {state} = this;
    if (!state) return false;
    const to = state.at + way;
    return to >= 0 && to < state.steps.length && this.goTo(to);
  }

  /** @param {number} step */
  goTo(step) {
    this.countTime();
    if (!this.act({act: 'go', step})) return false;
    this.heading.focus({preventScroll: true});
    this.node.querySelector('.lesson-step')?.scrollIntoView({block: 'nearest'});
    return true;
  }

  forward() {
    const {state} = this;
    if (!state) return;
    const {step} = state;
    if (!step.done && !step.question && !step.checks.length && !this.act({act: 'read'})) return;
    const last = state.at === state.steps.length - 1;
    if (!last && !this.state?.steps[state.at + 1].open) return this.app.announcer.say(say('lesson.next.closed'));
    if (!last) return void this.go(1);
    if (!this.done.hidden) /** @type {?HTMLElement} */ (this.done.querySelector('h3'))?.focus();
  }

  switchOn() {
    for (const part of this.state?.dark ?? []) this.app.edit({edit: 'switch', part, on: true});
    this.heading.focus({preventScroll: true});
  }

  // --- following the bench ---

  /** @param {{board: boolean, readings: boolean, view: boolean}} what */
  changed(what) {
    if (!this.state || !(what.board || what.view)) return;
    this.see();
    if (!what.board) return;
    this.saveSoon();
    clearTimeout(this.lookTimer);
    this.lookTimer = window.setTimeout(() => this.look(), kLook);
  }

  see() {
    const answer = this.app.bench.call({do: 'lesson', act: 'see'});
    if (answer.ok) this.follow(answer);
  }

  /** Judges the board as it stands, unless that takes so long here that it has to be asked for. */
  look() {
    if (!this.state?.step.checks.length || this.slow) return;
    const begun = performance.now();
    const answer = this.app.bench.call({do: 'lesson', act: 'look'});
    this.slow = performance.now() - begun > kSlowLook;
    if (answer.ok) this.follow(answer);
  }

  /** @param {LessonState} state */
  follow(state) {
    const before = this.state;
    this.state = state;
    if (this.step !== state.at) this.drawStep(state);
    if (state.refusals > this.refusals) this.refused();
    this.refusals = state.refusals;
    this.drawSteps(state);
    this.question.update(state);
    this.checks.update(state);
    const supplyWanted = state.supplyAllowed && state.dark.length > 0 && state.step.kind !== 'read';
    this.on.hidden = !supplyWanted;
    setText(this.on, say('lesson.switch-on', {part: list(state.dark)}));
    this.lay.hidden = state.step.kind !== 'hunt';
    this.level.value = state.help;
    if (before && before.help !== state.help) this.app.notebook.offer(state.help === 'goal' ? null : state.about.box.map(({kind}) => kind));
    this.drawFoot(state);
    if (before && before.at === state.at && !before.step.done && state.step.done) this.stepDone(state);
    if (state.complete) this.drawDone(state);
    this.done.hidden = !state.complete || state.at !== state.steps.length - 1;
  }

  /** Somebody tried to switch a supply on: the bench says no, here is what to do first. */
  refused() {
    this.app.announcer.say(say('lesson.locked.refused'));
    this.question.point();
  }

  /** @param {LessonState} state */
  stepDone(state) {
    this.app.announcer.say(say('lesson.say.done', {title: plain(state.step.title)}));
    this.saveSoon();
  }

  /** @param {LessonState} state */
  drawStep(state) {
    this.step = state.at;
    this.since = performance.now();
    const at = course.indexOf(this.id);
    setText(this.number, at < 0 ? say('lesson.number.none') : say('lesson.number', {number: at + 1, count: course.length}));
    setText(this.title, state.about.title);
    this.goal.replaceChildren(...markdown(state.about.goal), el('h3', {}, say('lesson.cautions')), el('ul', {}, ...state.about.cautions.map((one) => el('li', {}, ...markdown(one)))));
    setText(this.kind, say(`lesson.kind.${state.step.kind}`));
    this.kind.dataset.kind = state.step.kind;
    setText(this.heading, plain(state.step.title));
    this.text.replaceChildren(...markdown(state.step.text));
    this.caution.hidden = state.step.kind !== 'free' || !state.about.cautions.length;
    this.caution.replaceChildren(el('h4', {}, say('lesson.cautions')), el('ul', {}, ...state.about.cautions.map((one) => el('li', {}, ...markdown(one)))));
    this.question.begin(state);
    this.checks.begin(state);
    clearTimeout(this.lookTimer);
    this.lookTimer = window.setTimeout(() => this.look(), 0);
  }

  /** @param {LessonState} state */
  drawSteps(state) {
    const {steps} = this;
    while (steps.children.length > state.steps.length) steps.lastChild?.remove();
    while (steps.children.length < state.steps.length) {
      const at = steps.children.length;
      steps.append(el('li', {}, el('button', {type: 'button', class: 'lesson-dot', onclick: () => this.state?.steps[at].open && this.goTo(at)}, String(at + 1))));
    }
    state.steps.forEach((step, at) => {
      const button = /** @type {HTMLElement} */ (steps.children[at].firstChild);
      const about = state.about.steps[at];
      const look = step.done ? 'done' : step.open ? 'open' : 'closed';
      setAttribute(button, 'data-look', look);
      setAttribute(button, 'aria-label', say('lesson.step.name', {number: at + 1, count: state.steps.length, title: plain(about.title), state: look}));
      setAttribute(button, 'aria-current', at === state.at ? 'step' : null);
      setAttribute(button, 'aria-disabled', step.open ? null : 'true');
    });
  }

  /** @param {LessonState} state */
  drawFoot(state) {
    const last = state.at === state.steps.length - 1;
    const about = state.about.steps[state.at];
    const justRead = !state.step.question && !state.step.checks.length;
    const ready = state.step.done || justRead || about.optional;
    setAttribute(this.backButton, 'aria-disabled', state.at === 0 ? 'true' : null);
    setAttribute(this.next, 'aria-disabled', ready ? null : 'true');
    this.next.hidden = last && state.step.done;
    this.next.classList.toggle('strong', ready);
    setText(this.next, say(last ? 'lesson.finish' : 'lesson.next'));
  }

  /** @param {LessonState} state */
  drawDone(state) {
    if (this.done.dataset.lesson === this.id) return;
    this.done.dataset.lesson = this.id;
    const next = course[course.indexOf(this.id) + 1];
    const actions = el('div', {class: 'actions'},
                       el('button', {type: 'button', class: 'action', onclick: () => void this.leave().then(() => this.course.show())}, say('lesson.course')));
    this.done.replaceChildren(el('h3', {tabindex: -1}, say('lesson.finished')), el('p', {}, say('lesson.finished.text', {title: state.about.title})), actions);
    if (next)
      aboutLesson(this.app.bench, next).then((about) => actions.prepend(el('button', {type: 'button', class: 'action strong', id: 'lesson-following',
        onclick: () => void this.open(next)}, say('lesson.finished.next', {title: about.title}))), () => {});
  }

  // --- keeping ---

  /** Board, answers and how far it went, in one file for whoever judges. */
  saveHandIn() {
    this.countTime();
    const state = this.app.bench.call({do: 'lesson', act: 'see'});
    const board = this.app.boardAtRest();
    if (!state.ok || !board) return;
    const file = {tiepoint: 'hand-in', version: 1, board: JSON.parse(board), progress: JSON.parse(state.progress)};
    const who = new URLSearchParams(location.search).get('learner');
    const name = download(fileName([who, state.about.title].filter(Boolean).join(' '), '.hand-in.json'), new Blob([JSON.stringify(file)], {type: 'application/json'}));
    this.app.announcer.say(say('lesson.hand-in.done', {file: name}));
    this.app.show(say('lesson.hand-in.done', {file: name}));
  }

  countTime() {
    const now = performance.now();
    this.app.bench.call({do: 'lesson', act: 'time', seconds: Math.min((now - this.since) / 1000, 600)});
    this.since = now;
  }

  saveSoon() {
    if (!this.saveTimer) this.saveTimer = window.setTimeout(() => this.save(), kSave);
  }

  async save() {
    clearTimeout(this.saveTimer);
    this.saveTimer = 0;
    const {id} = this;
    if (!this.state || this.back) return;
    this.countTime();
    const state = this.app.bench.call({do: 'lesson', act: 'see'});
    const board = this.app.boardAtRest();
    if (!state.ok || !board) return;
    const kept = await this.keep.write(id, {progress: state.progress, board, complete: state.complete, time: Date.now()});
    if (!kept) this.app.show(say('lesson.not-kept'));
  }
}
