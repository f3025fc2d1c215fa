// Boards in and out: examples, files from the disk, files dropped on the page.
import {el} from './dom.js';
import {boardIn, boardInSvg, isPng, isSvg, PictureError, withBoard, withBoardInSvg} from './picture.js';
import {say} from './words.js';

/** The largest file the engine reads (engine/file/json.h): a larger one is refused before it is read into memory. */
export const kLargestFile = 8 << 20; // byte

/** Boards shown in the menu; each is examples/<name>.board.json. */
export const examples = [
  'one-button', 'two-in-series', 'two-in-parallel', 'call-bell-lamp', 'signal-lantern', 'harbour-lights', 'rc-afterglow', 'led-reversed',
  'no-resistor', 'rail-split', 'meter-on-a-divider', 'lamp-room', 'scope-on-a-filter', 'scope-on-the-button',
];

/** @param {string} name @returns {Promise<string>} */
export async function readExample(name) {
  const brought = document.getElementById('first-board');
  if (brought?.dataset.name === name) return String(brought.textContent);
  const answer = await fetch(`examples/${name}.board.json`);
  if (!answer.ok) throw new Error(`examples/${name}.board.json: ${answer.status}`);
  return answer.text();
}

/** A board named in an address: one of the examples, or a file of this site. @param {string} name */
export async function readBoard(name) {
  if (/^[a-z0-9-]{1,60}$/.test(name)) return readExample(name);
  const address = new URL(name, location.href);
  if (address.origin !== new URL(location.href).origin) throw new Error(say('file.other-site'));
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${answer.status}`);
  const text = await answer.text();
  if (text.length > kLargestFile) throw new Error(`${text.length}`);
  return text;
}

/** Lets the person choose a file. @param {(file: File) => void} then */
export function pickFile(then) {
  const input = el('input', {type: 'file', accept: '.json,application/json,.png,image/png,.svg,image/svg+xml', id: 'file-input', class: 'visually-hidden', tabindex: -1});
  input.addEventListener('change', () => {
    if (input.files?.[0]) then(input.files[0]);
    input.remove();
  });
  input.addEventListener('cancel', () => input.remove());
  document.getElementById('file-input')?.remove();
  document.body.append(input);
  input.click();
}

/** @param {HTMLElement} target @param {(file: File) => void} then */
export function acceptDrops(target, then) {
  target.addEventListener('dragover', (event) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  });
  target.addEventListener('drop', (event) => {
    const file = event.dataTransfer?.files[0];
    if (!file) return;
    event.preventDefault();
    then(file);
  });
}

/** The board in a file: the file itself, or what a picture carries (PictureError). @param {File} file */
export async function boardText(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (isPng(bytes) || file.type === 'image/png') return boardIn(bytes);
  const text = file.type.startsWith('image/') && file.type !== 'image/svg+xml' ? '' : new TextDecoder().decode(bytes);
  if (file.type === 'image/svg+xml' || isSvg(text)) return boardInSvg(text);
  if (file.type.startsWith('image/')) throw new PictureError('picture.foreign');
  return text;
}

/** "Two hands on the lantern" -> "two-hands-on-the-lantern.board.json" @param {string} title @param {string} [ending] */
export function fileName(title, ending = '.board.json') {
  const stem = title.normalize('NFKD').toLowerCase().replace(/[^\p{Letter}\p{Number}]+/gu, '-').replace(/^-+|-+$/g, '').slice(0, 60);
  return `${stem || 'board'}${ending}`;
}

/** Hands the board to the browser as a download. @param {import('./app.js').App} app */
export function saveBoard(app) {
  const answer = app.bench.call({do: 'board'});
  if (!answer.ok) return app.fail(answer.error);
  app.saved(download(fileName(app.words.title), new Blob([answer.text], {type: 'application/json'})));
}

/** The bench as it is seen, with its board inside, as a download. @param {import('./app.js').App} app */
export async function savePicture(app) {
  const text = app.boardAtRest();
  // Without the parts box, which lies below its tabs.
  const tabs = app.bench.call({do: 'point', widget: 'tray.start'});
  const seen = await app.bench.host.picture(tabs.found === false ? undefined : tabs.y - tabs.h / 2 - 6);
  if (text === null || !seen) return app.show(say('picture.failed'));
  const png = withBoard(new Uint8Array(await seen.arrayBuffer()), text);
  app.saved(download(fileName(app.words.title, '.png'), new Blob([/** @type {any} */ (png)], {type: 'image/png'})));
}

/** The same as a drawing that stays sharp at any size. @param {import('./app.js').App} app */
export function saveDrawing(app) {
  if (!app.bench.whole) return app.whenWhole(() => saveDrawing(app));
  const text = app.boardAtRest(), answer = app.bench.call({do: 'vector'});
  if (text === null || !answer.ok) return app.show(say('picture.failed'));
  const svg = withBoardInSvg(answer.svg, app.words.title || say('bar.title.empty'), text);
  app.saved(download(fileName(app.words.title, '.svg'), new Blob([svg], {type: 'image/svg+xml'})));
}

/** Gives the browser a file to keep; its name again. @param {string} name @param {Blob} content */
export function download(name, content) {
  const url = URL.createObjectURL(content);
  const link = el('a', {href: url, download: name});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
  return name;
}
