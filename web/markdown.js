// The part of Markdown that lessons are written in, as DOM: paragraphs, lists, **strong**, *emphasis*, `code`. Everything else is text;
// nothing of it ever becomes markup.
import {el} from './dom.js';

const kMarks = /\*\*(.+?)\*\*|\*(.+?)\*|`(.+?)`/gs;

/** @param {string} text @returns {(Node|string)[]} */
function inline(text) {
  /** @type {(Node|string)[]} */
  const out = [];
  let at = 0;
  for (const found of text.matchAll(kMarks)) {
    if (found.index > at) out.push(text.slice(at, found.index));
    const [whole, strong, soft, code] = found;
    if (strong !== undefined) out.push(el('strong', {}, ...inline(strong)));
    else if (soft !== undefined) out.push(el('em', {}, ...inline(soft)));
    else out.push(el('code', {}, code));
    at = found.index + whole.length;
  }
  if (at < text.length) out.push(text.slice(at));
  return out;
}

/** @param {string[]} lines a paragraph's, or items of a list that may go on in the next line @returns {HTMLElement} */
function block(lines) {
  const item = /^\s*(?:[-*]|(\d+)[.)])\s+/;
  const first = lines[0].match(item);
  if (!first) return el('p', {}, ...inline(lines.join(' ')));
  /** @type {string[]} */
  const items = [];
  for (const line of lines) {
    if (item.test(line)) items.push(line.replace(item, ''));
    else items[items.length - 1] += ` ${line.trim()}`;
  }
  return el(first[1] ? 'ol' : 'ul', {}, ...items.map((one) => el('li', {}, ...inline(one))));
}

/** @param {string} text @returns {HTMLElement[]} */
export function markdown(text) {
  return text.split(/\n\s*\n/).map((part) => part.split('\n').filter((line) => line.trim())).filter((lines) => lines.length).map(block);
}

/** A line without marks, for names and announcements. @param {string} text */
export const plain = (text) => text.replace(kMarks, (_, strong, soft, code) => strong ?? soft ?? code);
