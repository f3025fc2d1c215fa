// Reads the message catalogues and finds their faults: messages that are missing, used nowhere, or that take other arguments than the
// English ones.
import {readdirSync, readFileSync} from 'node:fs';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = `${root}shell/words/`;

/** @param {string} language */
export const fileOf = (language) => `${folder}${language}.json`;
/** @param {string} language @returns {Record<string, string>} */
export const read = (language) => JSON.parse(readFileSync(fileOf(language), 'utf8'));
/** All but English. */
export const languagesHere = () => readdirSync(folder).map((name) => /^([a-z]{2})\.json$/.exec(name)?.[1]).filter((name) => name && name !== 'en');

/** Says of itself what the language is: its own in each. */
const kOwn = /^(language\.|number\.)/;

/** @typedef {{name: string, kind: string, branches: Record<string, string>}} Taken an argument where it stands; kind "" is a plain one */

/** Index of the brace that closes the one at `open`. @param {string} text @param {number} open */
function closing(text, open) {
  let depth = 0;
  for (let at = open; at < text.length; ++at) {
    if (text[at] === '{') ++depth;
    if (text[at] === '}' && --depth === 0) return at;
  }
  throw new Error('a brace is not closed');
}

/** Every argument of a message, those within branches too. @param {string} message @returns {Taken[]} */
export function argumentsOf(message) {
  const found = [];
  for (let at = message.indexOf('{'); at >= 0; at = message.indexOf('{', at)) {
    const end = closing(message, at), [name, kind = '', ...rest] = message.slice(at + 1, end).split(',');
    /** @type {Record<string, string>} */
    const branches = {};
    const body = rest.join(',');
    for (let from = 0; kind && body.indexOf('{', from) >= 0;) {
      const open = body.indexOf('{', from), close = closing(body, open);
      branches[body.slice(from, open).trim()] = body.slice(open + 1, close);
      from = close + 1;
    }
    found.push({name: name.trim(), kind: kind.trim(), branches}, ...Object.values(branches).flatMap(argumentsOf));
    at = end + 1;
  }
  if (/[{}]/.test(message.replace(/\{(?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*\}/g, ''))) throw new Error('a brace stands alone');
  return found;
}

/** The names and kinds of what a message takes, in order. @param {Taken[]} taken */
const shape = (taken) => [...new Set(taken.map(({name, kind}) => `{${name}${kind && `, ${kind}`}}`))].sort().join(' ');

/** @param {string} key @param {Taken} one @param {string} language @param {Taken[]} theirs */
function branchFaults(key, one, language, theirs) {
  const here = Object.keys(one.branches);
  const say = (/** @type {string} */ text) => `${language}: "${key}": ${text}`;
  if (!here.includes('other')) return [say(`{${one.name}} has no branch "other"`)];
  if (one.kind === 'select') {
    const wanted = Object.keys(theirs.find((other) => other.name === one.name && other.kind === 'select')?.branches ?? {});
    return wanted.sort().join() === here.sort().join() ? [] : [say(`{${one.name}} has the branches ${here}, English has ${wanted}`)];
  }
  // Large round numbers have a class of their own in some languages ("many"); no count here is so large.
  const classes = new Intl.PluralRules(language).resolvedOptions().pluralCategories.filter((name) => name !== 'many');
  return [...here.filter((name) => !/^=\d+$/.test(name) && !classes.includes(name)).map((name) => say(`there is no plural "${name}" in this language`)),
    ...classes.filter((name) => !here.includes(name)).map((name) => say(`{${one.name}} has no branch "${name}"`))];
}

/** @param {Record<string, string>} english @param {Record<string, string>} said @param {string} language @returns {string[]} one line each */
export function faultsIn(english, said, language) {
  const faults = [];
  for (const key of Object.keys(english))
    if (!Object.hasOwn(said, key)) faults.push(`${language}: "${key}" is missing: ${english[key]}`);
  for (const [key, message] of Object.entries(said)) {
    if (!Object.hasOwn(english, key)) {
      faults.push(`${language}: "${key}" is used nowhere: en.json has no such message`);
      continue;
    }
    if (kOwn.test(key)) continue;
    try {
      const theirs = argumentsOf(english[key]), ours = argumentsOf(message);
      if (shape(theirs) !== shape(ours)) faults.push(`${language}: "${key}" takes ${shape(ours) || 'nothing'}, English takes ${shape(theirs) || 'nothing'}`);
      faults.push(...ours.filter(({kind}) => kind).flatMap((one) => branchFaults(key, one, language, theirs)));
    } catch (error) {
      faults.push(`${language}: "${key}": ${error.message}`);
    }
    if (message.trim() === '' || /^\s/.test(message) !== /^\s/.test(english[key]) || /\s$/.test(message) !== /\s$/.test(english[key]))
      faults.push(`${language}: "${key}" is empty, or begins or ends with other blanks than English`);
  }
  return faults;
}

/** @param {string} at @param {RegExp} wanted @returns {string[]} texts of the files below a folder */
function sources(at, wanted) {
  return readdirSync(at, {withFileTypes: true}).flatMap((entry) => {
    const name = `${at}/${entry.name}`;
    return entry.isDirectory() ? (entry.name === 'node_modules' ? [] : sources(name, wanted)) : wanted.test(name) ? [readFileSync(name, 'utf8')] : [];
  });
}

/** Keys of messages that nothing in the program names, in whole or by what they begin with. @param {Record<string, string>} english */
export function unused(english) {
  const code = ['web', 'shell', 'engine'].flatMap((name) => sources(root + name, /\.(js|cpp|h|html)$/)).join('\n');
  const whole = new Set([...code.matchAll(/["'`]([\w.+?'-]+)["'`]/g)].map((found) => found[1]));
  // say(`step.${…}`), say("state." + …), word('kind', …)
  const begun = [...new Set([...[...code.matchAll(/["'`]([a-z][\w.-]*[.-])(?:["'`]|\$\{)/g)].map((found) => found[1]),
    ...[...code.matchAll(/\bword\('([\w-]+)'/g)].map((found) => `${found[1]}.`)])].filter((name) => name.length > 2);
  const followed = [...new Set([...code.matchAll(/\$\{\w+\}(\.[\w.-]+)[`$]/g)].map((found) => found[1]))];
  // What errors say in English is looked up by those words (shell/words/phrases.cpp): the longest stretch between {names} stands in the code.
  const kPhrase = /^phrase\./, stretch = (/** @type {string} */ key) => key.replace(kPhrase, '').split(/\{\w+\}/).sort((a, b) => b.length - a.length)[0];
  const sought = new Set(sources(`${root}engine/parts`, /\.cpp$/).flatMap((text) => [...text.matchAll(/"([^"\n]*)"/g)].flatMap(([, words]) => words.split(' '))));
  return Object.keys(english).filter((key) => kPhrase.test(key) ? !code.includes(stretch(key)) : key.startsWith('find.') ? !sought.has(key.slice(5)) : !kOwn.test(key) && !whole.has(key) && !begun.some((name) => key.startsWith(name)) &&
    !followed.some((end) => key.endsWith(end) && whole.has(key.slice(0, -end.length))));
}

// ---- Lessons: examples/lessons/<language>/<id>.words.json holds the words of examples/lessons/<id>.lesson.json by JSON pointer.

const lessons = `${root}examples/lessons/`;
/** @param {string} id @returns {any} */
export const lesson = (id) => JSON.parse(readFileSync(`${lessons}${id}.lesson.json`, 'utf8'));
/** @param {string} language @param {string} id @returns {{lesson: string, language: string, words: Record<string, string>}} */
export const lessonWords = (language, id) => JSON.parse(readFileSync(`${lessons}${language}/${id}.words.json`, 'utf8'));

const kSpoken = /^(title|goal|text|ask|reply|right|wrong|fail|says)$/, kSpokenList = /^(cautions|hints)$/;

/** What a learner reads of a lesson: JSON pointer -> text. @param {any} node @returns {Record<string, string>} */
export function spokenIn(node, at = '', key = '') {
  if (key === 'outline' || key === 'start') return node?.title ? {[`${at}/title`]: node.title} : {};
  const lines = Array.isArray(node) && node.every((one) => typeof one === 'string');
  if (kSpoken.test(key) && (typeof node === 'string' || lines)) return {[at]: lines ? node.join('\n') : node};
  if (kSpokenList.test(key) && lines) return Object.fromEntries(node.map((/** @type {string} */ text, /** @type {number} */ k) => [`${at}/${k}`, text]));
  if (node === null || typeof node !== 'object') return {};
  return Object.assign({}, ...Object.entries(node).map(([name, one]) => spokenIn(one, `${at}/${name}`, Array.isArray(node) ? key : name)));
}

/** Numbers and hole names of a text, in any order. @param {string} text */
const numbers = (text) => (text.match(/[a-z]?[+-]?\d+(?:[.,]\d+)?/g) ?? []).map((one) => one.replace(',', '.')).sort().join(' ');

/** @param {string} language @param {string} id @returns {string[]} */
export function lessonFaults(language, id) {
  const english = spokenIn(lesson(id)), {words} = lessonWords(language, id), place = `${language}/${id}`;
  return [...Object.keys(english).filter((at) => !words[at]?.trim()).map((at) => `${place}: ${at} is missing: ${english[at]}`),
    ...Object.keys(words).filter((at) => !Object.hasOwn(english, at)).map((at) => `${place}: ${at} is not in the lesson`),
    ...Object.keys(words).filter((at) => Object.hasOwn(english, at) && numbers(words[at]) !== numbers(english[at]))
        .map((at) => `${place}: ${at} has the numbers ${numbers(words[at])}, English has ${numbers(english[at])}`)];
}
