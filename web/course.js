// The course: the lessons in their order, which of them are done, and the list to choose from.
import {el, setText} from './dom.js';
import {download, fileName} from './files.js';
import {inLanguage} from './lessonwords.js';
import {list, say} from './words.js';

/** In the order of the course; each is examples/lessons/<id>.lesson.json. */
export const course = [
  'hidden-joints', 'first-lamp', 'call-button', 'two-hands', 'two-doors', 'two-paths', 'sharing-voltage', 'dimmer', 'dusk', 'slow-fade',
  'beacon', 'timer-beacon', 'fog-horn', 'interlock', 'fault-hunt',
];

/** @param {string} id @returns {Promise<string>} the lesson file */
export async function readLesson(id) {
  const answer = await fetch(`examples/lessons/${id}.lesson.json`);
  if (!answer.ok) throw new Error(`examples/lessons/${id}.lesson.json: ${answer.status}`);
  return inLanguage(id, await answer.text());
}

/** @type {Map<string, {title: string, goal: string, minutes: number}>} */
const known = new Map();

/** What the list tells of a lesson. @param {import('./bench.js').Bench} bench @param {string} id */
export async function aboutLesson(bench, id) {
  const before = known.get(id);
  if (before) return before;
  const answer = bench.call({do: 'lesson', act: 'summary', text: await readLesson(id)});
  if (!answer.ok) throw new Error(answer.error.text);
  known.set(id, answer.about);
  return /** @type {{title: string, goal: string, minutes: number}} */ (answer.about);
}

export class Course {
  /** @param {import('./app.js').App} app @param {import('./lessonkeep.js').LessonKeep} keep @param {(id: string) => void} take */
  constructor(app, keep, take) {
    this.app = app;
    this.keep = keep;
    this.take = take;
    this.heading = el('h2', {id: 'course-heading', tabindex: -1}, say('lesson.course'));
    this.list = el('ol', {class: 'course', id: 'course'});
    this.problem = el('p', {class: 'answer'});
    this.node = el('section', {class: 'card course-card', 'aria-labelledby': 'course-heading', hidden: true},
      el('div', {class: 'lesson-head'}, this.heading,
         el('button', {type: 'button', class: 'action', id: 'course-shut', onclick: () => this.shut()}, say('lesson.course.shut'))),
      el('p', {class: 'hint'}, say('lesson.course.intro')), this.list, this.problem,
      el('p', {class: 'hint course-record'}, say('lesson.record.hint')),
      el('button', {type: 'button', class: 'action', id: 'course-record', onclick: () => this.record()}, say('lesson.record')), this.recorded = el('p', {class: 'answer', id: 'course-recorded'}));
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
    this.heading.scrollIntoView({block: 'nearest'});
    this.heading.focus();
  }

  /** The board as it stands, as a lesson file to keep. */
  record() {
    const answer = this.app.bench.call({do: 'lesson', act: 'record'});
    if (!answer.ok) return this.app.fail(answer.error);
    const checks = JSON.parse(answer.text).steps.flatMap((/** @type {{checks?: {id: string}[]}} */ step) => step.checks ?? []);
    const name = fileName(this.app.words.title).replace(/\.board\.json$/, '.lesson.json');
    download(name, new Blob([answer.text], {type: 'application/json'}));
    setText(this.recorded, say('lesson.record.done', {file: name, checks: list(checks.map((/** @type {{id: string}} */ check) => check.id))}));
    this.app.announcer.say(this.recorded.textContent ?? '');
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
