// Lessons in the language of the page: the words of a lesson in another language are a list of JSON pointers (RFC 6901) and what stands
// there instead. All else of a lesson (boards, checks, limits) is one and the same in every language.
import {language} from './language.js';

/** Those that are translated, in each language of examples/lessons. */
export const translated = ['hidden-joints', 'first-lamp', 'call-button', 'two-hands', 'two-doors'];

/** The language that a lesson is read in here. @param {string} id */
export const lessonLanguage = (id) => (translated.includes(id) ? language() : 'en');

/** A text of a lesson file, which may be one string or its lines. @param {unknown} words */
export const oneText = (words) => (Array.isArray(words) ? words.join('\n') : String(words ?? ''));

/** A lesson with other words in it. @param {any} lesson @param {Record<string, string>} words */
export function withWords(lesson, words) {
  for (const [pointer, text] of Object.entries(words)) {
    const path = pointer.slice(1).split('/').map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
    const last = /** @type {string} */ (path.pop());
    const at = path.reduce((node, step) => node?.[step], lesson);
    if (at === null || typeof at !== 'object' || !Object.hasOwn(at, last)) throw new Error(`${pointer}: there is no such place in the lesson`);
    at[last] = text;
  }
  return lesson;
}

/** @param {string} id @param {string} text the lesson file @returns {Promise<string>} */
export async function inLanguage(id, text) {
  const tag = lessonLanguage(id);
  if (tag === 'en') return text;
  const name = `examples/lessons/${tag}/${id}.words.json`, answer = await fetch(name);
  if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
  return JSON.stringify(withWords(JSON.parse(text), (await answer.json()).words));
}
