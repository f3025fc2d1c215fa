// One step of a lesson that is written: kind, title, text, question, checks, hints, and its place among the others.
import {checkEditor} from './authorcheck.js';
import {el} from './dom.js';
import {oneText} from './lessonwords.js';
import {markdown, plain} from './markdown.js';
import {say} from './words.js';

/** @typedef {import('./author.js').Author} Author */
/** @typedef {Record<string, any>} Json */

const kKinds = ['read', 'build', 'predict', 'observe', 'measure', 'explain', 'hunt', 'free'];

/** @param {Author} author @param {Json} step @param {number} at */
export function stepEditor(author, step, at) {
  const {fields} = author, pointer = `/steps/${at}`, id = `author-${at}`;
  const count = author.lesson.steps.length;
  const name = () => say('author.step', {number: at + 1, kind: say(`lesson.kind.${step.kind}`), title: plain(oneText(step.title) || say('author.step.untitled'))});
  const summary = el('summary', {id: `${id}-summary`}, name());
  const button = (/** @type {string} */ what, /** @type {() => void} */ act, disabled = false) =>
      el('button', {type: 'button', class: 'action', id: `${id}-${what}`, onclick: act, 'aria-disabled': disabled ? 'true' : null,
        'aria-label': say(`author.step.${what}.label`, {number: at + 1})}, say(`author.step.${what}`));
  // A hunt hides faults in a board of its own; those come with the file and cannot be made here.
  const kinds = kKinds.filter((kind) => kind !== 'hunt' || step.faults);
  const box = el('details', {class: 'author-step', open: at === author.openStep}, summary,
    el('div', {class: 'rows'},
       fields.choice(`${id}-kind`, say('author.kind'), step, 'kind', `${pointer}/kind`, kinds.map((kind) => [kind, say(`lesson.kind.${kind}`)])),
       fields.line(`${id}-title`, say('author.step.title'), step, 'title', `${pointer}/title`),
       fields.words(`${id}-text`, say('author.step.text'), step, 'text', `${pointer}/text`, 5),
       preview(step), questionEditor(author, step, at), checksEditor(author, step, at),
       fields.hints(`${id}-hints`, step, pointer),
       el('div', {class: 'actions'}, button('up', () => author.moveStep(at, -1), at === 0), button('down', () => author.moveStep(at, 1), at === count - 1),
          button('remove', () => author.removeStep(at)))));
  box.addEventListener('input', () => (summary.textContent = name()));
  box.querySelector(`#${id}-kind`)?.addEventListener('input', () => {
    const asks = step.kind === 'predict' || step.kind === 'explain';
    if (asks && !step.question) step.question = newQuestion();
    author.rebuilt(`${id}-kind`);
  });
  box.addEventListener('toggle', () => box.open && (author.openStep = at));
  fields.place(pointer, box, summary);
  return el('li', {}, box);
}

/** How the text will look. @param {Json} step */
function preview(step) {
  const shown = el('div', {class: 'lesson-text author-preview'});
  const box = el('details', {}, el('summary', {}, say('author.preview')), shown);
  box.addEventListener('toggle', () => shown.replaceChildren(...markdown(oneText(step.text))));
  return box;
}

const newQuestion = () => ({ask: '', choices: [{id: 'a', text: '', right: true}, {id: 'b', text: ''}]});

/** @param {Author} author @param {Json} step @param {number} at */
function questionEditor(author, step, at) {
  const {fields} = author, id = `author-${at}-question`, pointer = `/steps/${at}/question`;
  const must = step.kind === 'predict' || step.kind === 'explain';
  const button = (/** @type {string} */ what, /** @type {() => void} */ act) =>
      el('button', {type: 'button', class: 'action', id: `${id}-${what}`, onclick: act}, say(`author.question.${what}`));
  if (!step.question) {
    return el('div', {class: 'actions'}, button('add', () => {
      step.question = newQuestion();
      author.rebuilt(`${id}-ask`);
    }));
  }
  const {question} = step;
  const box = el('fieldset', {class: 'author-question'}, el('legend', {}, say('author.question')), fields.words(`${id}-ask`, say('author.question.ask'), question, 'ask', `${pointer}/ask`, 2));
  if (question.choices) {
    box.append(...question.choices.map((/** @type {Json} */ choice, /** @type {number} */ c) => choiceEditor(author, step, at, choice, c)),
      el('div', {class: 'actions'}, button('choice', () => {
        let letter = 97;
        while (question.choices.some((/** @type {Json} */ one) => one.id === String.fromCharCode(letter))) ++letter;
        question.choices.push({id: String.fromCharCode(letter), text: ''});
        author.rebuilt(`${id}-${question.choices.length - 1}-text`);
      }), button('number', () => {
        delete question.choices;
        Object.assign(question, {between: [0, 1], unit: 'V', right: '', wrong: ''});
        author.rebuilt(`${id}-unit`);
      })));
  } else {
    box.append(fields.window(`${id}-between`, say('author.question.between'), question, 'between', `${pointer}/between`, question.unit ?? ''),
      fields.line(`${id}-unit`, say('author.question.unit'), question, 'unit', `${pointer}/unit`),
      fields.words(`${id}-right`, say('author.question.right'), question, 'right', `${pointer}/right`, 2),
      fields.words(`${id}-wrong`, say('author.question.wrong'), question, 'wrong', `${pointer}/wrong`, 2),
      el('div', {class: 'actions'}, button('choices', () => {
        step.question = {...newQuestion(), ask: question.ask};
        author.rebuilt(`${id}-ask`);
      })));
  }
  fields.place(`${pointer}/choices`, box);
  if (!must)
    box.append(el('div', {class: 'actions'}, button('remove', () => {
      delete step.question;
      author.rebuilt(`${id}-add`);
    })));
  return box;
}

/** @param {Author} author @param {Json} step @param {number} at @param {Json} choice @param {number} c */
function choiceEditor(author, step, at, choice, c) {
  const {fields} = author, id = `author-${at}-question-${c}`, pointer = `/steps/${at}/question/choices/${c}`;
  const right = el('input', {type: 'checkbox', id: `${id}-is-right`, checked: choice.right === true});
  right.addEventListener('input', () => {
    choice.right = right.checked;
    fields.changed();
  });
  return el('fieldset', {class: 'author-choice'}, el('legend', {}, say('author.choice', {number: c + 1})),
    fields.line(`${id}-text`, say('author.choice.text'), choice, 'text', `${pointer}/text`),
    fields.words(`${id}-reply`, say('author.choice.reply'), choice, 'reply', `${pointer}/reply`, 2),
    el('div', {class: 'author-row'}, el('label', {class: 'scope-check'}, right, say('author.choice.right')),
       step.question.choices.length > 2 ? el('button', {type: 'button', class: 'action', id: `${id}-remove`, onclick: () => {
         step.question.choices.splice(c, 1);
         author.rebuilt(`author-${at}-question-choice`);
       }, 'aria-label': say('author.choice.remove.label', {number: c + 1})}, say('author.choice.remove')) : null));
}

/** @param {Author} author @param {Json} step @param {number} at */
function checksEditor(author, step, at) {
  if (step.kind === 'read' || step.kind === 'predict') return el('div', {hidden: true});
  const checks = step.checks ?? [];
  const box = el('fieldset', {class: 'author-checks'}, el('legend', {}, say('author.checks')),
    el('p', {class: 'hint'}, say(checks.length ? 'author.checks.about' : 'author.checks.none')),
    ...checks.map((/** @type {Json} */ check, /** @type {number} */ c) => checkEditor(author, check, at, c)),
    el('button', {type: 'button', class: 'action', id: `author-${at}-take`, onclick: () => author.takeChecks(at)}, say('author.checks.take')));
  return author.fields.place(`/steps/${at}/checks`, box);
}
