// The marking table: a class of hand-ins judged in this browser by the engine that `tiepoint grade` uses. A row for each; sort, open a
// board, export the table. Nothing leaves the machine.
import {Announcer} from './announce.js';
import {course, readLesson} from './courselist.js';
import {el, setText} from './dom.js';
import {download, fileName, kLargestFile} from './files.js';
import {chosen, droppedFiles, handInsOf} from './handins.js';
import {startMarking} from './host.js';
import {loadLanguage} from './language.js';
import {MarksTable} from './markstable.js';
import {allWords, say, sayError} from './words.js';

/** @typedef {import('./handins.js').HandIn} HandIn */
/** @typedef {import('./markstable.js').Row} Row */

const kTurn = 40; // ms of judging before the page gets its turn

/** @param {string} id */
const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));
const turn = () => new Promise((done) => setTimeout(done, 0));

class MarkingPage {
  /** @param {HTMLElement} root @param {(request: object) => any} ask */
  constructor(root, ask) {
    this.ask = ask;
    this.announcer = new Announcer(byId('status'), byId('status'));
    /** @type {HandIn[]} */
    this.handIns = [];
    this.others = 0;
    this.run = 0;  // a later run makes an earlier one stop
    this.lessonTitle = '';
    this.lesson = el('select', {id: 'marking-lesson', onchange: () => void this.choose(this.lesson.value)}, el('option', {value: ''}, say('marking.lesson.choose')));
    this.file = this.picker('marking-lesson-file', {accept: '.json'}, (files) => void this.openLesson(files[0]));
    this.problem = el('p', {class: 'answer', 'data-look': 'bad', id: 'marking-problem'});
    this.files = this.picker('marking-files', {multiple: true, accept: '.json,.zip,.png'}, (files) => void this.take(chosen(files)));
    this.folder = this.picker('marking-folder', {webkitdirectory: true}, (files) => void this.take(chosen(files)));
    this.drop = el('div', {class: 'marking-drop', id: 'marking-drop'}, el('p', {}, say('marking.drop')),
      el('div', {class: 'actions'}, this.button('marking-files-do', say('marking.files'), () => this.files.click(), 'strong'),
         this.button('marking-folder-do', say('marking.folder'), () => this.folder.click())));
    this.progress = el('progress', {id: 'marking-progress', 'aria-label': say('marking.progress'), hidden: true});
    this.sum = el('p', {class: 'marking-sum', id: 'marking-sum'});
    this.table = new MarksTable(this.announcer);
    this.csv = this.button('marking-csv', say('marking.csv'), () => this.save());
    this.csv.hidden = true;
    root.append(el('h1', {}, say('marking.title')), el('p', {class: 'sheet-lead'}, say('marking.lead')),
      el('section', {class: 'marking-step', 'aria-labelledby': 'marking-one'}, el('h2', {id: 'marking-one'}, say('marking.one')),
         el('div', {class: 'marking-choose'}, el('label', {for: 'marking-lesson'}, say('marking.lesson')), this.lesson,
            this.button('marking-lesson-do', say('marking.lesson.file'), () => this.file.click())), this.file, this.problem),
      el('section', {class: 'marking-step', 'aria-labelledby': 'marking-two'}, el('h2', {id: 'marking-two'}, say('marking.two')), this.drop, this.files, this.folder),
      el('section', {class: 'marking-step', 'aria-labelledby': 'marking-three'}, el('h2', {id: 'marking-three'}, say('marking.three')),
         el('div', {class: 'marking-head'}, this.sum, this.csv), this.progress, this.table.node));
    this.acceptDrops();
    this.tell();
    void this.listCourse();
  }

  /** @param {string} id @param {string} label @param {() => void} act */
  button(id, label, act, kind = '') {
    return el('button', {type: 'button', class: `action ${kind}`, id, onclick: act}, label);
  }

  /** A field for files, worked by a button. @param {string} id @param {object} how @param {(files: File[]) => void} then */
  picker(id, how, then) {
    const input = el('input', {type: 'file', id, class: 'visually-hidden', tabindex: -1, 'aria-hidden': 'true', ...how});
    input.addEventListener('change', () => {
      const files = [...input.files ?? []];
      input.value = '';  // the same file may be chosen again
      if (files.length) then(files);
    });
    return input;
  }

  async listCourse() {
    for (const id of course) {
      try {
        const {title} = JSON.parse(await readLesson(id));
        this.lesson.append(el('option', {value: id}, title));
      } catch {
        // A lesson that is not there cannot be chosen.
      }
    }
    const asked = new URLSearchParams(location.search).get('lesson');
    if (!asked || !course.includes(asked)) return;
    this.lesson.value = asked;
    await this.choose(asked);
  }

  acceptDrops() {
    document.body.addEventListener('dragover', (event) => {
      if (!event.dataTransfer?.types.includes('Files')) return;
      event.preventDefault();
      this.drop.dataset.over = '';
    });
    document.body.addEventListener('dragleave', (event) => event.relatedTarget || delete this.drop.dataset.over);
    document.body.addEventListener('drop', (event) => {
      delete this.drop.dataset.over;
      if (!event.dataTransfer) return;
      event.preventDefault();
      const {files} = event.dataTransfer;
      if (files.length === 1 && files[0].name.endsWith('.lesson.json')) void this.openLesson(files[0]);
      else void droppedFiles(event.dataTransfer).then((found) => this.take(found));
    });
  }

  /** @param {string} id of a lesson of the course */
  async choose(id) {
    if (!id) return;
    try {
      await this.begin(await readLesson(id), id);
    } catch (reason) {
      this.fail(say('lesson.unread', {reason: String(reason)}));
    }
  }

  /** @param {File} file */
  async openLesson(file) {
    if (file.size > kLargestFile) return this.fail(say('zip.file-large'));
    if (!await this.begin(await file.text(), file.name)) return;
    const value = `file ${file.name}`;
    if (![...this.lesson.options].some((option) => option.value === value)) this.lesson.append(el('option', {value, disabled: true}, this.lessonTitle));
    this.lesson.value = value;
  }

  /** @param {string} text @param {string} name @returns {Promise<boolean>} */
  async begin(text, name) {
    const answer = this.ask({do: 'begin', text});
    if (!answer.ok) {
      this.fail(say('say.error.in-file', {file: name, error: sayError(answer.error)}));
      return false;
    }
    setText(this.problem, '');
    this.text = text;
    this.lessonTitle = answer.about.title;
    this.announcer.say(say('marking.say.lesson', {title: this.lessonTitle}));
    if (this.handIns.length) await this.judge();
    else this.tell();
    return true;
  }

  /** @param {string} words */
  fail(words) {
    setText(this.problem, words);
    this.announcer.say(words);
  }

  /** @param {import('./handins.js').Found[]} files */
  async take(files) {
    setText(this.sum, say('marking.reading', {count: files.length}));
    const {handIns, others} = await handInsOf(files);
    this.handIns = handIns;
    this.others = others;
    if (!handIns.length) return this.fail(say('marking.none', {count: files.length}));
    setText(this.problem, '');
    await this.judge();
  }

  /** All hand-ins by the lesson, in turns, so that the page stays awake. */
  async judge() {
    const run = ++this.run, {handIns} = this;
    if (!this.text) return this.tell();
    this.ask({do: 'begin', text: this.text});
    /** @type {Row[]} */
    const rows = [];
    this.progress.hidden = false;
    this.progress.max = handIns.length;
    this.csv.hidden = true;
    let since = performance.now();
    for (const [n, {file, board, progress, error}] of handIns.entries()) {
      const answer = this.ask(error === undefined ? {do: 'mark', file, board, progress} : {do: 'refuse', file, error});
      rows.push(answer.ok ? {...answer.row, sketch: answer.sketch, board, at: n} : {...this.ask({do: 'refuse', file, error: sayError(answer.error)}).row, at: n});
      if (performance.now() - since < kTurn) continue;
      this.progress.value = n + 1;
      await turn();
      if (run !== this.run) return;
      since = performance.now();
    }
    for (const {row, like, evidence} of this.ask({do: 'alike'}).alike) Object.assign(rows[row], {like: rows[like].file, evidence});
    this.progress.hidden = true;
    this.rows = rows;
    this.table.show(rows);
    this.csv.hidden = false;
    this.tell();
    this.announcer.say(this.sum.textContent ?? '');
  }

  tell() {
    const {rows} = this;
    if (!rows?.length) return setText(this.sum, say(this.text ? 'marking.wait.files' : this.handIns.length ? 'marking.wait.lesson' : 'marking.wait'));
    const unread = rows.filter((row) => row.error && !row.checks).length;
    setText(this.sum, say('marking.sum', {count: rows.length, title: this.lessonTitle, passed: rows.filter((row) => row.passed).length,
      alike: rows.filter((row) => row.like).length, unread, others: this.others}));
  }

  save() {
    const answer = this.ask({do: 'csv'});
    if (!answer.ok) return this.fail(sayError(answer.error));
    const name = download(fileName(`${this.lessonTitle} marks`, '.csv'), new Blob([answer.text], {type: 'text/csv'}));
    this.announcer.say(say('marking.say.saved', {file: name}));
  }
}

async function start() {
  const main = byId('main');
  try {
    await loadLanguage();
    setText(byId('to-bench'), say('parts.back'));
    new MarkingPage(main, await startMarking({words: allWords()}));
  } catch (error) {
    main.append(el('p', {role: 'alert'}, say('app.no-start', {reason: String(error)})));
  }
  document.body.classList.add('ready');
}

start();
