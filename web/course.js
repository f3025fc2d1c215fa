// The course: the lessons in their order, which of them are done, and the list to choose from.
import {course, readLesson} from './courselist.js';
import {el, setText} from './dom.js';
import {pickFile} from './files.js';
import {kDraft} from './lessonkeep.js';
import {oneText} from './lessonwords.js';
import {say, sayError} from './words.js';

/** @type {Map<string, {title: string, goal: string, minutes: number}>} */
const known = new Map();

/** What the list tells of a lesson. @param {import('./bench.js').Bench} bench @param {string} id */
export async function aboutLesson(bench, id) {
  const before = known.get(id);
  if (before) return before;
  const [text] = await Promise.all([readLesson(id), bench.fetchMore()]);
  const answer = bench.call({do: 'lesson', act: 'summary', text});
  if (!answer.ok) throw new Error(answer.error.text);
  known.set(id, answer.about);
  return /** @type {{title: string, goal: string, minutes: number}} */ (answer.about);
}

export class Course {
  /**
   * @param {import('./app.js').App} app @param {import('./lessonkeep.js').LessonKeep} keep @param {(id: string) => void} take
   * @param {(text: string) => void} takeFile
   */
  constructor(app, keep, take, takeFile) {
    this.app = app;
    this.keep = keep;
    this.take = take;
    this.takeFile = takeFile;
    /** @type {?import('./author.js').Author} */
    this.author = null;
    this.heading = el('h2', {id: 'course-heading', tabindex: -1}, say('lesson.course'));
    this.list = el('ol', {class: 'course', id: 'course'});
    this.problem = el('p', {class: 'answer'});
    this.node = el('section', {class: 'card course-card', 'aria-labelledby': 'course-heading', hidden: true},
      el('div', {class: 'lesson-head'}, this.heading,
         el('button', {type: 'button', class: 'action', id: 'course-shut', onclick: () => this.shut()}, say('lesson.course.shut'))),
      el('p', {class: 'hint'}, say('lesson.course.intro')), this.list, this.problem,
      el('p', {class: 'hint course-record'}, say('lesson.record.hint')),
      el('div', {class: 'actions'}, el('button', {type: 'button', class: 'action', id: 'course-record', onclick: () => this.record()}, say('lesson.record')),
         el('button', {type: 'button', class: 'action', id: 'course-open', onclick: () => pickFile((file) => void app.openFile(file))}, say('lesson.own.open')),
         this.draft = el('button', {type: 'button', class: 'action', id: 'course-draft', hidden: true, onclick: () => void this.goOn()}, say('lesson.draft', {title: ''}))));
    this.own = el('section', {class: 'card own-lesson', id: 'own-lesson', 'aria-labelledby': 'own-heading', hidden: true});
  }

  async show() {
    this.node.hidden = false;
    document.body.classList.remove('notebook-hidden');
    setText(this.problem, '');
    try {
      const [taken, abouts] = await Promise.all([this.keep.all(), Promise.all(course.map((id) => aboutLesson(this.app.bench, id)))]);
      this.list.replaceChildren(...course.map((id, at) => this.row(id, at, abouts[at], taken.get(id))));
    } catch (reason) {
      setText(this.problem, say('lesson.unread', {reason: String(reason)}));
    }
    const draft = await this.readDraft().catch(() => null);
    this.draft.hidden = !draft;
    setText(this.draft, say('lesson.draft', {title: oneText(draft?.title)}));
    this.heading.scrollIntoView({block: 'nearest'});
    this.heading.focus();
  }

  async goOn() {
    const draft = await this.readDraft();
    if (draft) await this.write(draft, say('author.say.opened', {title: oneText(draft.title)}));
  }

  /** What was being written when the page was left. @returns {Promise<?import('./author.js').Json>} */
  async readDraft() {
    const kept = /** @type {any} */ (await this.keep.read(kDraft));
    return kept?.draft ? JSON.parse(kept.draft) : null;
  }

  /** Opens the forms in which a lesson is written; they are fetched the first time. @param {import('./author.js').Json} lesson @param {string} message */
  async write(lesson, message) {
    try {
      const {Author} = await import('./author.js');
      if (!this.author) document.head.append(el('link', {rel: 'stylesheet', href: 'author.css'}));
      if (!this.author) this.own.after((this.author = new Author(this.app, this.keep)).node);
      this.author.open(lesson, message);
    } catch (reason) {
      this.app.show(say('say.error.read', {file: say('author.heading'), reason: String(reason)}));
    }
  }

  /** A lesson file was opened: to take it, or to go on writing it. @param {string} text @param {string} name */
  offer(text, name) {
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.offer(text, name));
    const answer = this.app.bench.call({do: 'lesson', act: 'summary', text});
    const file = JSON.parse(text);
    const title = oneText(file.title) || name;
    const shut = () => {
      this.own.hidden = true;
    };
    const button = (/** @type {string} */ id, /** @type {() => void} */ act, kind = '') => el('button', {type: 'button', class: `action ${kind}`, id: `own-${id}`, onclick: () => {
      shut();
      act();
    }}, say(`lesson.own.${id}`));
    const heading = el('h2', {id: 'own-heading', tabindex: -1}, say('lesson.own.heading'));
    this.own.replaceChildren(heading, el('p', {class: 'own-title'}, title), answer.ok ? el('p', {}, answer.about.goal) : el('p', {class: 'answer', 'data-look': 'bad'}, say('lesson.own.bad', {error: sayError(answer.error)})),
      el('div', {class: 'actions'}, ...(answer.ok ? [button('take', () => this.takeFile(text), 'strong')] : []),
         button('edit', () => void this.write(file, say('author.say.opened', {title}))), button('shut', () => document.getElementById('notebook')?.focus({preventScroll: true}))));
    this.own.hidden = false;
    this.node.hidden = true;
    document.body.classList.remove('notebook-hidden');
    this.app.dismiss();
    this.own.scrollIntoView({block: 'nearest'});
    heading.focus({preventScroll: true});
    this.app.announcer.say(`${title}. ${answer.ok ? answer.about.goal : ''}`);
  }

  /** The board as it stands becomes a lesson, open for writing. */
  record() {
    if (!this.app.bench.whole) return this.app.whenWhole(() => this.record());
    const answer = this.app.bench.call({do: 'lesson', act: 'record'});
    if (!answer.ok) return this.app.fail(answer.error);
    const lesson = JSON.parse(answer.text);
    const count = lesson.steps.flatMap((/** @type {{checks?: object[]}} */ step) => step.checks ?? []).length;
    void this.write(lesson, say('author.say.recorded', {count}));
  }

  shut() {
    this.node.hidden = true;
    document.getElementById('notebook')?.focus({preventScroll: true});
  }

  /** @param {string} id @param {number} at @param {{title: string, goal: string, minutes: number}} about @param {import('./lessonkeep.js').Taken} [taken] */
  row(id, at, about, taken) {
    const mark = !taken ? null : el('span', {class: 'course-mark', dataset: {look: taken.complete ? 'done' : 'begun'}},
                                    say(taken.complete ? 'lesson.course.done' : 'lesson.course.begun'));
    return el('li', {}, el('button', {type: 'button', class: 'course-row', dataset: {lesson: id}, onclick: () => this.take(id)},
      el('span', {class: 'course-name'}, say('lesson.course.row', {number: at + 1, title: about.title})), mark,
      el('span', {class: 'course-goal'}, `${about.goal} `, el('span', {class: 'course-minutes'}, say('lesson.course.minutes', {minutes: about.minutes})))));
  }
}
