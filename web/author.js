// Writing a lesson in the page: what a board does was recorded, or a lesson file was opened; here its texts, steps, questions, checks and
// hints are written with ordinary form fields. The engine proves it while it is written; what is wrong is said at its field.
import {stepEditor} from './authorstep.js';
import {Fields} from './authorfields.js';
import {el, setText} from './dom.js';
import {download, fileName, pickFile} from './files.js';
import {kDraft} from './lessonkeep.js';
import {oneText} from './lessonwords.js';
import {say, sayError, sentence} from './words.js';

/** @typedef {Record<string, any>} Json as in web/schema/lesson.schema.json; a check that is left out for now carries `off` */

const kProve = 450;   // ms after the last change

/** What a learner's progress is kept under: of a recorded lesson, made of its title. @param {Json} lesson */
function idOf(lesson) {
  if (lesson.id !== 'recorded') return lesson.id;
  return oneText(lesson.title).normalize('NFKD').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 60) || 'recorded';
}

/** What is written to the file: without what is left out. Also which check of the draft each check in the file is. @param {Json} lesson */
function fileOf(lesson) {
  /** @type {number[][]} */
  const places = [];
  const steps = lesson.steps.map((/** @type {Json} */ step) => {
    /** @type {number[]} */
    const kept = [];
    const {checks, ...rest} = step;
    places.push(kept);
    if (!checks) return rest;
    const asked = checks.filter((/** @type {Json} */ check, /** @type {number} */ at) => !check.off && kept.push(at));
    return asked.length ? {...rest, checks: asked} : rest;
  });
  return {file: {...lesson, id: idOf(lesson), steps}, places};
}

export class Author {
  /** @param {import('./app.js').App} app @param {import('./lessonkeep.js').LessonKeep} keep */
  constructor(app, keep) {
    this.app = app;
    this.keep = keep;
    /** @type {Json} */
    this.lesson = {steps: []};
    this.openStep = 0;
    this.timer = 0;
    this.saidInOrder = true;
    this.fields = new Fields(() => this.changed());
    const button = (/** @type {string} */ id, /** @type {() => void} */ act, kind = '') =>
        el('button', {type: 'button', class: `action ${kind}`, id: `author-${id}`, onclick: act}, say(`author.${id}`));
    this.heading = el('h2', {id: 'author-heading', tabindex: -1}, say('author.heading'));
    this.state = el('p', {class: 'author-state', id: 'author-state'});
    this.faults = el('ul', {class: 'author-faults', id: 'author-faults'});
    this.head = el('div', {class: 'rows'});
    this.steps = el('ol', {class: 'author-steps', id: 'author-steps'});
    this.addKind = el('select', {id: 'author-add-kind', 'aria-label': say('author.add.kind')});
    this.node = el('section', {class: 'author', id: 'author', 'aria-labelledby': 'author-heading', hidden: true},
      el('div', {class: 'lesson-head'}, this.heading, button('shut', () => this.shut())),
      el('p', {class: 'hint'}, say('author.about')), this.state, this.faults,
      el('div', {class: 'actions'}, button('try', () => void this.tryOut(), 'strong'), button('download', () => this.download()),
         button('open', () => pickFile((file) => void this.app.openFile(file)))),
      this.head, el('h3', {}, say('author.steps')), this.steps,
      el('div', {class: 'actions author-add'}, this.addKind, button('add', () => this.addStep())));
  }

  /** @param {Json} lesson as it stands in its file @param {string} message */
  open(lesson, message) {
    this.lesson = structuredClone(lesson);
    if (!Array.isArray(this.lesson.steps)) this.lesson.steps = [];
    this.openStep = 0;
    this.show(message);
    this.changed();
  }

  /** @param {string} message */
  show(message) {
    this.node.hidden = false;
    this.app.lessons.course.node.hidden = true;
    document.body.classList.add('authoring');
    document.body.classList.remove('notebook-hidden');
    this.draw();
    this.prove();
    this.app.announcer.say(message);
    this.node.parentElement?.scrollTo(0, 0);
    this.heading.focus({preventScroll: true});
  }

  shut() {
    this.node.hidden = true;
    document.body.classList.remove('authoring');
    document.getElementById('notebook')?.focus({preventScroll: true});
  }

  // --- changes ---

  changed() {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.prove(), kProve);
  }

  /** Steps or checks came, went or moved: all is drawn anew. @param {string} focus id of what has the focus then */
  rebuilt(focus) {
    this.draw();
    document.getElementById(focus)?.focus();
    this.changed();
  }

  addStep() {
    const kind = this.addKind.value;
    const names = this.lesson.steps.map((/** @type {Json} */ step) => step.id);
    let number = this.lesson.steps.length + 1;
    while (names.includes(`step-${number}`)) ++number;
    const asks = kind === 'predict' || kind === 'explain';
    const question = {ask: '', choices: [{id: 'a', text: '', right: true}, {id: 'b', text: ''}]};
    this.lesson.steps.push({id: `step-${number}`, kind, title: say(`lesson.kind.${kind}`), text: '', ...(asks ? {question} : {})});
    this.openStep = this.lesson.steps.length - 1;
    this.rebuilt(`author-${this.openStep}-title`);
    this.app.announcer.say(say('author.say.added', {number: this.openStep + 1}));
  }

  /** @param {number} at */
  removeStep(at) {
    this.lesson.steps.splice(at, 1);
    this.openStep = Math.min(at, this.lesson.steps.length - 1);
    this.rebuilt(this.openStep < 0 ? 'author-add-kind' : `author-${this.openStep}-summary`);
    this.app.announcer.say(say('author.say.removed', {number: at + 1}));
  }

  /** @param {number} at @param {number} way */
  moveStep(at, way) {
    const to = at + way;
    if (to < 0 || to >= this.lesson.steps.length) return;
    const [step] = this.lesson.steps.splice(at, 1);
    this.lesson.steps.splice(to, 0, step);
    this.openStep = to;
    this.rebuilt(`author-${to}-${way < 0 ? 'up' : 'down'}`);
    this.app.announcer.say(say('author.say.moved', {number: to + 1, count: this.lesson.steps.length}));
  }

  /** What the board on the bench does becomes checks of this step; parts that no check knew yet become roles. @param {number} at */
  takeChecks(at) {
    const answer = this.app.bench.call({do: 'lesson', act: 'record'});
    if (!answer.ok) return this.app.fail(answer.error);
    const recorded = JSON.parse(answer.text);
    const {lesson} = this, step = lesson.steps[at];
    lesson.roles = {...recorded.roles, ...lesson.roles};
    lesson.outline = recorded.outline;
    const known = new Set(lesson.steps.flatMap((/** @type {Json} */ one) => (one.checks ?? []).map((/** @type {Json} */ check) => check.id)));
    const fresh = recorded.steps[1].checks.map((/** @type {Json} */ check) => {
      let id = check.id;
      for (let n = 2; known.has(id); ++n) id = `${check.id}-${n}`;
      return {...check, id};
    });
    step.checks = [...step.checks ?? [], ...fresh];
    this.rebuilt(`author-${at}-take`);
    this.app.announcer.say(say('author.say.checks', {count: fresh.length}));
  }

  /** @param {'outline'|'start'} which board the bench's becomes */
  takeBoard(which) {
    const text = this.app.boardAtRest();
    if (text === null) return;
    this.lesson[which] = JSON.parse(text);
    this.rebuilt(`author-take-${which}`);
    this.app.announcer.say(say(`author.say.${which}`));
  }

  // --- what comes of it ---

  text() {
    return `${JSON.stringify(fileOf(this.lesson).file, null, 1)}\n`;
  }

  download() {
    const name = download(fileName(this.lesson.title || 'lesson', '.lesson.json'), new Blob([this.text()], {type: 'application/json'}));
    this.app.announcer.say(say('author.say.saved', {file: name}));
  }

  async tryOut() {
    if (!this.prove()) return this.fields.focusFirst(() => this.app.announcer.say(this.state.textContent ?? ''));
    this.node.hidden = true;
    await this.app.lessons.tryOut(this.text(), () => this.show(say('author.say.back')));
  }

  /** Is it in order? What is not stands at its field. @returns {boolean} */
  prove() {
    clearTimeout(this.timer);
    void this.keep.write(kDraft, {draft: JSON.stringify(this.lesson), time: Date.now()});
    const {file, places} = fileOf(this.lesson);
    const answer = this.app.bench.call({do: 'lesson', act: 'prove', text: JSON.stringify(file)});
    const draftPlace = (/** @type {string} */ pointer) =>
        pointer.replace(/^\/steps\/(\d+)\/checks\/(\d+)/, (_, step, check) => `/steps/${step}/checks/${places[Number(step)]?.[Number(check)] ?? check}`);
    /** @type {{pointer: string, text: string}[]} */
    const faults = answer.ok ? answer.faults.map((/** @type {{pointer: string, text: string}} */ one) => ({pointer: draftPlace(one.pointer), text: sentence(one.text)}))
                             : [{pointer: draftPlace(answer.error.pointer ?? ''), text: sayError({...answer.error, pointer: undefined})}];
    const homeless = this.fields.tell(faults);
    this.faults.replaceChildren(...homeless.map(({text}) => el('li', {}, text)));
    const good = !faults.length;
    setText(this.state, good ? say('author.in-order') : say('author.faults', {count: faults.length}));
    this.state.dataset.look = good ? 'good' : 'bad';
    if (good !== this.saidInOrder && !this.node.hidden) this.app.announcer.say([this.state.textContent, ...faults.map(({text}) => text)].join(' '));
    this.saidInOrder = good;
    return answer.ok;
  }

  // --- drawing ---

  draw() {
    const {fields, lesson} = this;
    fields.clear();
    const boards = ['outline', 'start'].map((which) => el('div', {class: 'author-board'},
      el('p', {class: 'hint'}, say(`author.${which}`, {count: lesson[which]?.parts?.length ?? 0})),
      el('button', {type: 'button', class: 'action', id: `author-take-${which}`, onclick: () => this.takeBoard(/** @type {'outline'|'start'} */ (which))}, say(`author.take.${which}`))));
    this.head.replaceChildren(
      fields.line('author-title', say('author.title'), lesson, 'title', '/title'),
      fields.words('author-goal', say('author.goal'), lesson, 'goal', '/goal', 2),
      fields.whole('author-minutes', say('author.minutes'), lesson, 'minutes', '/minutes'),
      fields.lines('author-cautions', say('author.cautions'), lesson, 'cautions', '/cautions'),
      fields.place('/outline', boards[0]), fields.place('/start', boards[1]));
    this.steps.replaceChildren(...lesson.steps.map((/** @type {Json} */ step, /** @type {number} */ at) => stepEditor(this, step, at)));
    if (!this.addKind.options.length)
      this.addKind.append(...['read', 'predict', 'build', 'observe', 'measure', 'explain', 'free'].map((kind) => el('option', {value: kind}, say(`lesson.kind.${kind}`))));
  }
}
