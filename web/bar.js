// The bar over the bench: what board this is, undo and redo named in words, zoom, and the menu of boards and files.
import {el, icon, setAttribute, setText} from './dom.js';
import {examples, pickFile, saveBoard, saveDrawing, savePicture} from './files.js';
import {language, languages, marking} from './language.js';
import {Seeing} from './seeing.js';
import {namesInWords, say} from './words.js';

/** A step of the journal in words: "place R1", "move R1, LED1 and 2 more". @param {import('./types.js').Step} step */
export function sayStep(step) {
  const edits = step.edits ?? [];
  const names = [step, ...edits].map((one) => one.part ?? one.name ?? '').filter(Boolean);
  const alike = edits.length > 0 && edits.every((one) => one.edit === edits[0].edit && !one.edits);
  return say(`step.${alike ? edits[0].edit : step.edit}`, {part: namesInWords(names), count: edits.length});
}

/** @param {string} path @param {string} name @param {() => void} act @param {string} [kind] */
function iconButton(path, name, act, kind = '') {
  const button = el('button', {type: 'button', class: `bar-button ${kind}`, 'aria-label': name, title: name, onclick: act});
  button.append(icon(path));
  return button;
}

const kUndo = 'M8 4 3.5 8.5 8 13M4 8.5h8a4.5 4.5 0 0 1 0 9H9';
const kRedo = 'M12 4l4.500 4.500L12 13M16 8.500H8a4.500 4.500 0 0 0 0 9h3';
const kFit = 'M3 7V3h4M13 3h4v4M17 13v4h-4M7 17H3v-4';

export class Bar {
  /** @param {HTMLElement} root @param {import('./app.js').App} app */
  constructor(root, app) {
    this.app = app;
    const {bench} = app;
    this.title = el('h1', {class: 'bar-title'});
    this.undo = iconButton(kUndo, say('bar.undo'), () => app.undo());
    this.redo = iconButton(kRedo, say('bar.redo'), () => app.redo());
    this.notebook = el('button', {type: 'button', class: 'bar-button wide', 'aria-controls': 'notebook', onclick: () => app.toggleNotebook()},
                       say('bar.notebook'));
    this.seeing = new Seeing(bench);
    this.mark = el('img', {alt: '', width: 26, height: 26});
    this.newer = el('div', {class: 'menu-group', hidden: true});
    root.append(
        el('span', {class: 'brand'}, this.mark, el('span', {class: 'brand-name'}, say('app.name'))),
        this.title, this.seeing.node,
        el('div', {class: 'bar-group'}, this.undo, this.redo),
        el('div', {class: 'bar-group zoom'}, iconButton('M4 10h12', say('bar.zoom-out'), () => bench.call({do: 'view', zoom: 1 / 1.25})),
           iconButton(kFit, say('bar.zoom-fit'), () => bench.call({do: 'view', fit: true})),
           iconButton('M4 10h12M10 4v12', say('bar.zoom-in'), () => bench.call({do: 'view', zoom: 1.25}))),
        this.menu(), this.notebook, ...this.leave());
    root.setAttribute('aria-label', say('bar.label'));
  }

  /** A picture is a document of its own: it comes when the bench is there. */
  finish() {
    this.mark.src = 'icon.svg';
  }

  /** In a frame: a way out for hands without a keyboard. */
  leave() {
    const {frame} = this.app;
    if (!frame) return [];
    return [el('button', {type: 'button', class: 'bar-button wide leave', id: 'leave', title: say('frame.leave.how'), onclick: () => frame.sleep('button')},
               say('frame.leave'))];
  }

  menu() {
    const {app} = this;
    const panel = el('div', {class: 'menu-panel', id: 'menu', hidden: true});
    const button = el('button', {type: 'button', class: 'bar-button wide', 'aria-expanded': 'false', 'aria-controls': 'menu', id: 'menu-button'},
                      say('bar.menu'), icon('M5 8l5 5 5-5'));
    const shut = (/** @type {boolean} */ back) => {
      panel.hidden = true;
      setAttribute(button, 'aria-expanded', 'false');
      if (back) button.focus();
    };
    const item = (/** @type {string} */ label, /** @type {() => void} */ act, /** @type {string} */ id) =>
        el('li', {}, el('button', {type: 'button', class: 'menu-item', dataset: {item: id}, onclick: () => { shut(true); act(); }}, label));
    const group = (/** @type {string} */ heading, /** @type {HTMLElement[]} */ ...items) =>
        el('div', {class: 'menu-group'}, el('h2', {}, heading), el('ul', {}, ...items));
    const empty = (/** @type {string} */ layout, split = false) =>
        item(say(`menu.new.${layout}${split ? '-split' : ''}`), () => app.newBoard(layout, split), `new-${layout}${split ? '-split' : ''}`);
    /** One of several, the present one marked. */
    const choice = (/** @type {string} */ label, /** @type {'lang'|'marking'} */ what, /** @type {string} */ value, /** @type {string} */ now, more = {}) => {
      const row = item(label, () => void app.change(what, value), `${what}-${value}`);
      for (const [name, text] of Object.entries({...more, ...(value === now ? {'aria-current': 'true'} : {})})) row.firstElementChild?.setAttribute(name, text);
      return row;
    };
    panel.append(this.newer, group(say('lesson.menu'), item(say('lesson.menu.course'), () => void app.lessons.course.show(), 'course'),
                       el('li', {}, el('a', {class: 'menu-item', href: 'marking.html', target: '_blank', id: 'menu-marking'}, say('marking.menu')))),
                 group(say('menu.new'), empty('400'), empty('830'), empty('830', true), empty('170')),
                 group(say('menu.boards'), ...['400', '830', '170'].map((layout) => item(say(`menu.boards.add.${layout}`), () => app.joinBoard(layout), `join-${layout}`)),
                       item(say('menu.boards.away'), () => app.joinBoard(null), 'board-away')),
                 group(say('menu.file'), item(say('menu.open'), () => pickFile((file) => app.openFile(file)), 'open'),
                       item(say('menu.save'), () => saveBoard(app), 'save'), item(say('menu.picture'), () => savePicture(app), 'picture'),
                       item(say('menu.drawing'), () => saveDrawing(app), 'drawing'),
                       item(say('menu.link'), () => app.copyLink(), 'link'),
                       item(say('menu.earlier'), () => app.earlier.show(), 'earlier')),
                 group(say('menu.life'), item(say('menu.life.spared'), () => app.live('spared'), 'life-spared'),
                       item(say('menu.life.real'), () => app.live('real'), 'life-real'), item(say('menu.life.spread'), () => app.live('spread'), 'life-spread'),
                       item(say('menu.life.hide'), () => app.hunt('hide'), 'life-hide'), item(say('menu.life.choose'), () => app.chooseFault(), 'life-choose'),
                       item(say('menu.life.reveal'), () => app.hunt('reveal'), 'life-reveal')),
                 group(say('menu.language'), ...Object.entries(languages).map(([tag, {name}]) => choice(name, 'lang', tag, language(), {lang: tag}))),
                 group(say('menu.marking'), ...['prefix', 'letter'].map((way) => choice(say(`menu.marking.${way}`), 'marking', way, marking()))),
                 group(say('menu.look-up'), item(say('menu.shortcuts'), () => app.shortcuts.show(), 'shortcuts'), el('li', {}, el('a', {class: 'menu-item', href: 'parts.html', target: '_blank', id: 'menu-parts'}, say('menu.parts')))),
                 group(say('menu.examples'), ...examples.map((name) => item(say(`example.${name}`), () => app.openExample(name), `example-${name}`))));
    button.addEventListener('click', () => {
      panel.hidden = !panel.hidden;
      setAttribute(button, 'aria-expanded', String(!panel.hidden));
      if (!panel.hidden) panel.querySelector('button')?.focus();
    });
    const root = el('div', {class: 'menu'}, button, panel);
    root.addEventListener('keydown', (event) => this.menuKey(event, panel, () => shut(true)));
    document.addEventListener('pointerdown', (event) => {
      if (!panel.hidden && !root.contains(/** @type {Node} */ (event.target))) shut(false);
    });
    root.addEventListener('focusout', (event) => {
      if (event.relatedTarget && !root.contains(/** @type {Node} */ (event.relatedTarget))) shut(false);
    });
    return root;
  }

  /** A newer form of the page is here: it stays in the menu until it is taken. @param {() => void} load */
  offerUpdate(load) {
    const item = el('button', {type: 'button', class: 'menu-item', dataset: {item: 'update'}, onclick: load}, say('update.load'));
    this.newer.replaceChildren(el('h2', {}, say('update.heading')), el('ul', {}, el('li', {}, item)));
    this.newer.hidden = false;
  }

  /** @param {KeyboardEvent} event @param {HTMLElement} panel @param {() => void} shut */
  menuKey(event, panel, shut) {
    if (panel.hidden) return;
    if (event.key === 'Escape') {
      event.stopPropagation();
      return shut();
    }
    const step = {ArrowDown: 1, ArrowUp: -1}[event.key];
    if (!step) return;
    event.preventDefault();
    const items = /** @type {HTMLElement[]} */ ([...panel.querySelectorAll('.menu-item')]);
    const at = items.indexOf(/** @type {HTMLElement} */ (document.activeElement));
    items[(at + step + items.length) % items.length].focus();
  }

  /** @param {import('./types.js').Words} words */
  update(words) {
    setText(this.title, words.title || say('bar.title.empty'));
    this.seeing.update(words);
    this.name(this.undo, words.undo, 'bar.undo');
    this.name(this.redo, words.redo, 'bar.redo');
    const open = !document.body.classList.contains('notebook-hidden');
    setAttribute(this.notebook, 'aria-expanded', String(open));
    this.notebook.title = say(open ? 'bar.notebook.hide' : 'bar.notebook.show');
  }

  /** @param {HTMLButtonElement} button @param {?import('./types.js').Step} step @param {string} key */
  name(button, step, key) {
    const label = step ? say(`${key}.step`, {step: sayStep(step)}) : say(`${key}.nothing`);
    setAttribute(button, 'aria-label', label);
    setAttribute(button, 'title', label);
    setAttribute(button, 'aria-disabled', step ? null : 'true');  // stays focusable: the keyboard is not thrown out at the last step
  }
}
