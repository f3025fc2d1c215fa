// The language of the page: asked for by its address, chosen in the menu and remembered, or the first of the browser's that there is. Its
// catalogue is fetched before anything is shown; English has the words that the program falls back on while nothing is there.
import {fetchFile} from './program.js';
import {useWords} from './words.js';

/** Each names itself, so that whoever cannot read this page finds it. @type {Record<string, {name: string, words: string, font?: string}>} */
export const languages = {
  en: {name: 'English', words: 'words/en.json'},
  es: {name: 'Español', words: 'words/es.json'},
  de: {name: 'Deutsch', words: 'words/de.json'},
  he: {name: 'עברית', words: 'words/he.json', font: 'fonts/hebrew.ttf'},
};

const kLanguage = 'tiepoint-language', kMarking = 'tiepoint-marking';

/** @param {string} key */
export function remembered(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null; // a frame without storage
  }
}

/** Whether it is remembered. @param {string} key @param {string} value */
export function remember(key, value) {
  try {
    localStorage.setItem(key, value);
    return true;
  } catch {
    return false;
  }
}

const asked = (/** @type {string} */ name) => new URLSearchParams(location.search).get(name);

/** "de-AT" is German; "iw" is what Hebrew was called before. */
export function language() {
  const wishes = [asked('lang'), remembered(kLanguage), ...navigator.languages].map((tag) => (tag ?? '').toLowerCase().split('-')[0].replace('iw', 'he'));
  return wishes.find((tag) => Object.hasOwn(languages, tag)) ?? 'en';
}

/** How values on parts are written: "4.7 kΩ", or in the letter code of IEC 60062, "4k7". @returns {'prefix'|'letter'} */
export const marking = () => ((asked('marking') ?? remembered(kMarking)) === 'letter' ? 'letter' : 'prefix');

/** Gets the words, and turns the page to the way they are read. @returns {Promise<ArrayBuffer|undefined>} letters that the canvas needs for them */
export async function loadLanguage() {
  const {words, font} = languages[language()];
  const [messages, letters] = await Promise.all([fetchFile(words).then((answer) => answer.json()), font ? fetchFile(font).then((answer) => answer.arrayBuffer()) : undefined]);
  useWords({...messages, 'number.marking': marking()});
  document.documentElement.lang = messages['language.tag'];
  document.documentElement.dir = messages['language.direction'];
  return letters;
}

/**
 * The page anew with another choice; the board must be kept by then. Where the browser remembers nothing, the choice goes into the address,
 * and the board into its fragment. @param {'lang'|'marking'} what @param {string} value @param {() => Promise<string>} [link] to the board
 */
export async function changeTo(what, value, link) {
  const address = new URL(location.href);
  address.searchParams.delete(what);
  if (!remember(what === 'lang' ? kLanguage : kMarking, value)) address.searchParams.set(what, value);
  if (link) address.hash = new URL(await link()).hash;
  if (address.search !== location.search) return location.replace(address);
  if (link) history.replaceState(null, '', address);
  location.reload();
}
