// What a teacher drops on the marking table, as hand-ins: files, whole folders, ZIP files, pictures with a board inside. Each comes out as
// a board's text with the progress that stood beside it, or as what is wrong with it.
import {kLargestFile} from './files.js';
import {boardIn, isPng} from './picture.js';
import {say} from './words.js';
import {entriesOf, fileIn, ZipError} from './zip.js';

/** @typedef {{file: string, board?: string, progress?: string, error?: string}} HandIn */
/** @typedef {{path: string, bytes: () => Promise<Uint8Array>, zip?: Blob}} Found */

const kBoard = '.board.json', kProgress = '.progress.json';

/** Files that a system puts beside those of people. @param {string} path */
const isLitter = (path) => path.split('/').some((part) => part.startsWith('.') || part === '__MACOSX');
/** @param {string} path */
const isHandIn = (path) => /\.(json|png)$/i.test(path) && !path.endsWith(kProgress) && !path.endsWith('.lesson.json');

/** @param {File} file @param {string} path @returns {Found} */
function found(file, path) {
  return {path, zip: /\.zip$/i.test(path) ? file : undefined, bytes: async () => {
    if (file.size > kLargestFile) throw new Error(say('zip.file-large'));
    return new Uint8Array(await file.arrayBuffer());
  }};
}

/** Chosen files; those of a chosen folder know their path. @param {Iterable<File>} files @returns {Found[]} */
export const chosen = (files) => [...files].map((file) => found(file, file.webkitRelativePath || file.name));

/** Dropped files and folders, folders to their ends. @param {DataTransfer} dropped @returns {Promise<Found[]>} */
export async function droppedFiles(dropped) {
  const entries = [...dropped.items].map((item) => item.webkitGetAsEntry?.()).filter((entry) => entry !== null && entry !== undefined);
  if (!entries.length) return chosen(dropped.files);
  /** @type {Found[]} */
  const out = [];
  const walk = async (/** @type {any} */ entry, /** @type {string} */ path) => {
    if (entry.isFile) out.push(found(await new Promise((resolve, reject) => entry.file(resolve, reject)), path + entry.name));
    else if (entry.isDirectory) {
      const reader = entry.createReader();
      for (;;) {
        /** @type {any[]} */
        const some = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
        if (!some.length) break;
        for (const one of some) await walk(one, `${path}${entry.name}/`);
      }
    }
  };
  for (const entry of entries) await walk(entry, '');
  return out;
}

/** @param {Found} one @returns {Promise<{found: Found[], error?: string}>} a ZIP file opened */
async function opened(one) {
  const zip = /** @type {Blob} */ (one.zip);
  try {
    const entries = await entriesOf(zip);
    return {found: entries.map((entry) => ({path: entry.name, bytes: async () => {
      try {
        return await fileIn(zip, entry, kLargestFile);
      } catch (reason) {
        throw reason instanceof ZipError ? new Error(say(reason.message)) : reason;
      }
    }}))};
  } catch (reason) {
    return {found: [], error: reason instanceof ZipError ? say(reason.message) : String(reason)};
  }
}

/**
 * All hand-ins among them, in the order of their names, and how many files were none.
 * @param {Found[]} files @returns {Promise<{handIns: HandIn[], others: number}>}
 */
export async function handInsOf(files) {
  /** @type {HandIn[]} */
  const handIns = [];
  /** @type {Found[]} */
  const all = [];
  for (const one of files) {
    if (!one.zip) {
      all.push(one);
      continue;
    }
    const inside = await opened(one);
    all.push(...inside.found);
    if (inside.error) handIns.push({file: one.path, error: inside.error});
  }
  const people = all.filter(({path}) => !isLitter(path));
  const progress = new Map(people.filter(({path}) => path.endsWith(kProgress)).map((one) => [one.path, one]));
  const boards = people.filter(({path}) => isHandIn(path));
  for (const one of boards) {
    try {
      const bytes = await one.bytes();
      const beside = one.path.endsWith(kBoard) ? progress.get(one.path.slice(0, -kBoard.length) + kProgress) : undefined;
      handIns.push({file: one.path, board: isPng(bytes) ? boardIn(bytes) : new TextDecoder().decode(bytes),
                    progress: beside ? new TextDecoder().decode(await beside.bytes()) : ''});
    } catch (reason) {
      const text = reason instanceof Error ? reason.message : String(reason);
      handIns.push({file: one.path, error: say(text, {file: one.path})});
    }
  }
  const order = new Intl.Collator('en', {caseFirst: 'upper'});
  handIns.sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : order.compare(a.file, b.file)));
  return {handIns, others: people.length - boards.length - progress.size};
}
