// The question of a lesson's step. A prediction is given once and stays; any other question is asked until the answer is right.
import {el, setAttribute, setText} from './dom.js';
import {markdown, plain} from './markdown.js';
import {say} from './words.js';

export class Question {
  /** @param {import('./lesson.js').Lessons} lessons */
  constructor(lessons) {
    this.lessons = lessons;
    this.said = '';  // verdict and answer of the reply that is shown
    this.locked = el('p', {class: 'lesson-locked', id: 'lesson-locked'}, say('lesson.locked'));
    this.legend = el('legend');
    this.choices = el('div', {class: 'lesson-choices'});
    this.number = el('input', {type: 'text', inputmode: 'decimal', id: 'lesson-number', autocomplete: 'off', size: 8});
    this.numberWords = el('span', {}, say('lesson.answer.number.plain'));
    this.numberRow = el('label', {class: 'row'}, this.numberWords, this.number);
    this.submit = el('button', {type: 'submit', class: 'action strong', id: 'lesson-answer'}, say('lesson.answer'));
    this.problem = el('p', {class: 'answer', 'data-look': 'bad', id: 'lesson-answer-problem'});
    this.reply = el('div', {class: 'lesson-reply', id: 'lesson-reply', hidden: true});
    this.node = el('form', {class: 'lesson-question', novalidate: true}, el('fieldset', {}, this.legend, this.choices, this.numberRow), this.locked, this.problem,
                   this.submit, this.reply);
    this.node.addEventListener('submit', (event) => {
      event.preventDefault();
      this.answer();
    });
  }

  /** @param {import('./types.js').LessonState} state */
  begin(state) {
    const {question} = state.step;
    this.node.hidden = !question;
    this.said = '';
    setText(this.problem, '');
    if (!question) return;
    this.legend.replaceChildren(...markdown(question.ask).flatMap((block) => [...block.childNodes]));
    this.choices.hidden = !question.choices.length;
    this.numberRow.hidden = !!question.choices.length;
    this.choices.replaceChildren(...question.choices.map(({id, text}) =>
        el('label', {class: 'lesson-choice'}, el('input', {type: 'radio', name: 'lesson-choice', value: id, checked: question.answer === id}), el('span', {}, plain(text)))));
    setText(this.numberWords, question.unit ? say('lesson.answer.number', {unit: question.unit}) : say('lesson.answer.number.plain'));
    this.number.value = question.answer;
    setText(this.submit, say(state.step.kind === 'predict' ? 'lesson.answer.predict' : 'lesson.answer'));
  }

  /** @param {import('./types.js').LessonState} state */
  update(state) {
    const {question} = state.step;
    if (!question) return;
    const shut = question.locked || !!question.right;
    for (const field of this.fields()) field.disabled = shut;
    this.submit.hidden = shut;
    this.locked.hidden = state.supplyAllowed || shut;
    const answered = question.right !== undefined;
    this.reply.hidden = !answered;
    if (!answered) return;
    const said = `${question.right} ${question.answer}`;
    if (said === this.said) return;
    this.said = said;
    const again = !question.right && !question.locked;
    setAttribute(this.reply, 'data-look', question.right ? 'good' : 'bad');
    this.reply.replaceChildren(el('p', {class: 'lesson-verdict'}, say(question.right ? 'lesson.answer.right' : 'lesson.answer.wrong')), ...markdown(question.reply ?? ''),
                               ...(again ? [el('p', {}, say('lesson.answer.try'))] : []));
  }

  /** Into sight, and marked for a moment: this comes first. */
  point() {
    this.node.scrollIntoView({block: 'nearest'});
    this.node.classList.add('called');
    setTimeout(() => this.node.classList.remove('called'), 2500);
  }

  /** @returns {HTMLInputElement[]} */
  fields() {
    return [.../** @type {NodeListOf<HTMLInputElement>} */ (this.node.querySelectorAll('fieldset input'))];
  }

  answer() {
    const question = this.lessons.state?.step.question;
    if (!question) return;
    const chosen = this.fields().find((field) => field.checked);
    const number = Number(this.number.value.trim().replace(',', '.'));
    const missing = question.choices.length ? !chosen : !this.number.value.trim() || !Number.isFinite(number);
    setText(this.problem, !missing ? '' : say(question.choices.length ? 'lesson.answer.missing' : 'lesson.answer.no-number'));
    if (missing) {
      this.lessons.app.announcer.say(this.problem.textContent ?? '');
      return this.fields().find((field) => !field.closest('[hidden]'))?.focus();
    }
    this.said = '';
    if (!this.lessons.act({act: 'answer', ...(question.choices.length ? {choice: chosen?.value} : {number})})) return;
    this.lessons.app.announcer.say(this.reply.textContent ?? '');
    if (this.submit.hidden) this.lessons.next.focus({preventScroll: true});  // the button that had the focus went away
    this.reply.scrollIntoView({block: 'nearest'});
  }
}
