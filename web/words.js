// The message catalogue in the page: messages with {name}, {n, plural, =0 {…} one {…} other {…}} and {x, select, a {…} other {…}},
// the syntax of ICU MessageFormat, of which this is the part the catalogue uses. Plural classes come from Intl.

/** @type {Record<string, string>} */
let catalogue = {};
let locale = 'en-GB';
/** @typedef {Record<string, string|number>} Arguments */

/** Names and numbers in a language read from the right stand in isolates (UAX 9), or its letters would turn them around. */
let isolated = false;

/** What writes numbers, plurals and lists: one of a kind, since making one takes longer than all it will write. @type {Map<string, any>} */
const writers = new Map();

/** @template T @param {string} name @param {() => T} make @returns {T} */
function writer(name, make) {
  if (!writers.has(name)) writers.set(name, make());
  return writers.get(name);
}

/** @param {Record<string, string>} messages a catalogue; it says itself which language it is */
export function useWords(messages) {
  catalogue = messages;
  locale = messages['language.tag'] ?? 'en-GB';
  isolated = messages['language.direction'] === 'rtl';
  writers.clear();
}

/** @param {string|number} value */
const isolate = (value) => (isolated && value !== '' ? `\u2068${value}\u2069` : String(value));

// What the platform knows of a language is loaded when it is first asked, a tenth of the start. Small whole numbers need none of it.
const isSmall = (/** @type {number} */ value) => Number.isInteger(value) && value >= 0 && value < 1000;

/** The plural class of a number, as Intl.PluralRules has it (a test holds the languages here against that). @param {number} value */
export function pluralClass(value) {
  if (isSmall(value)) return value === 1 ? 'one' : value === 2 && locale === 'he' ? 'two' : 'other';
  return writer('plural', () => new Intl.PluralRules(locale)).select(value);
}

/** @param {number} value */
const grouped = (value) => (isSmall(value) ? String(value) : writer('number', () => new Intl.NumberFormat(locale)).format(value));

/** A number as the language writes it, without groups. @param {number} value @param {number} [digits] after the decimal sign */
export const decimals = (value, digits) =>
    digits === undefined && isSmall(value) ? String(value) : writer(`decimals ${digits}`, () => new Intl.NumberFormat(locale, {useGrouping: false, minimumFractionDigits: digits, maximumFractionDigits: digits ?? 9})).format(value);

/** A size of a file. @param {number} bytes */
export const megabytes = (bytes) => `${decimals(bytes / (1 << 20), 1)} MB`;

/** The whole catalogue, for the bench. */
export const allWords = () => catalogue;

/** The language that numbers and times are written in. */
export const languageTag = () => locale;

/** @param {string} key */
export const hasWords = (key) => Object.hasOwn(catalogue, key);

/**
 * The message of a key, arguments filled in; the key itself when there is none, so that a missing word shows.
 * @param {string} key @param {Arguments} [args]
 */
export function say(key, args = {}) {
  return hasWords(key) ? fill(catalogue[key], args) : key;
}

/** The word for something the engine names by key; the key when the catalogue has none. @param {string} group @param {string} key */
export function word(group, key) {
  return hasWords(`${group}.${key}`) ? say(`${group}.${key}`) : key;
}

/** "R1, S1 and LED1" @param {string[]} items */
export function list(items) {
  if (items.length < 2) return items.map(isolate).join();
  const [first, second, third] = items, last = items[items.length - 1];
  // What follows changes "y" into "e".
  const asWritten = items.length <= 3 && !(locale.startsWith('es') && /^h?i/i.test(last));
  if (asWritten && hasWords(`bench.names.${items.length}`)) return say(`bench.names.${items.length}`, {first, second, third});
  return writer('list', () => new Intl.ListFormat(locale, {type: 'conjunction'})).format(items.map(isolate));
}

/** "R1, LED1 and 2 more", as the bench says it. @param {string[]} names */
export function namesInWords(names) {
  if (names.length <= 3) return list(names);
  return say('bench.names.more', {first: names[0], second: names[1], count: names.length - 2});
}

/** First letter large, full stop at the end. @param {string} text */
export function sentence(text) {
  const begun = text.charAt(0).toLocaleUpperCase(locale) + text.slice(1);
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}

/** An error of the bench as a sentence with its place. @param {import('./types.js').BenchError} error */
export function sayError(error) {
  const args = {part: '', lead: '', hole: '', found: '', expected: '', ...error};
  const text = sentence(hasWords(`error.${error.code}`) ? say(`error.${error.code}`, args) : error.text);
  if (error.line) return say('say.error.position', {line: error.line, column: error.column ?? 0, error: text});
  if (error.pointer) return say('say.error.pointer', {pointer: error.pointer, error: text});
  return text;
}

/** @param {string} message @param {Arguments} args @param {string} [counted] what # stands for @returns {string} */
function fill(message, args, counted = '#') {
  let out = '';
  for (let i = 0; i < message.length; ) {
    const c = message[i];
    if (c === '{') {
      const end = closing(message, i);
      out += argument(message.slice(i + 1, end), args);
      i = end + 1;
    } else {
      out += c === '#' ? counted : c;
      ++i;
    }
  }
  return out;
}

/** Index of the brace that closes the one at `open`. @param {string} text @param {number} open */
function closing(text, open) {
  let depth = 0;
  for (let i = open; i < text.length; ++i) {
    if (text[i] === '{') ++depth;
    if (text[i] === '}' && --depth === 0) return i;
  }
  return text.length;
}

/** @param {string} body between the braces @param {Arguments} args */
function argument(body, args) {
  const [name, kind, ...rest] = body.split(',');
  const value = args[name.trim()] ?? '';
  if (kind === undefined) return isolate(typeof value === 'number' ? decimals(value) : value);
  const branches = readBranches(rest.join(','));
  if (kind.trim() === 'select') return fill(branches[String(value)] ?? branches.other ?? '', args);
  const number = Number(value);
  const branch = branches[`=${number}`] ?? branches[pluralClass(number)] ?? branches.other ?? '';
  return fill(branch, args, grouped(number));
}

/** "one {…} other {…}" @param {string} text */
function readBranches(text) {
  /** @type {Record<string, string>} */
  const branches = {};
  for (let i = 0; i < text.length; ) {
    const open = text.indexOf('{', i);
    if (open < 0) break;
    const end = closing(text, open);
    branches[text.slice(i, open).trim()] = text.slice(open + 1, end);
    i = end + 1;
  }
  return branches;
}
