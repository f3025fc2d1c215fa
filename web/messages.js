// The language between a bench in a frame and the page around it: versioned messages, checked here as what they are, strangers' input.
//
//   to the bench     {tiepoint: 'ask', version: 1, id: 7, do: 'press', part: 'S1', down: true}
//   its answer       {tiepoint: 'answer', version: 1, id: 7, ok: true, …}   or   {…, ok: false, error: {code, text, …}}
//   by itself        {tiepoint: 'event', version: 1, event: 'changed', …}
//
// embed/index.html tells course authors of every ask and event.

export const kVersion = 1;
/** A board of 200 parts has some 40 kB; this is room for one much larger. */
export const kLargestBoard = 1 << 20; // characters
const kLongestName = 60; // characters

/** @typedef {{code: string, text: string, found?: string, expected?: string}} Refusal */
/** @typedef {{id: string|number|null, refusal: Refusal}} Refused */
/** @typedef {{id: string|number, ask: string, args: Record<string, any>}} Ask */

/** What each ask takes; '?' stands for what may be left out. @type {Record<string, Record<string, string>>} */
export const asks = {
  load: {board: 'board', keepWork: 'truth?'},
  board: {},
  readings: {},
  press: {part: 'name', down: 'truth'},
  'read-only': {on: 'truth'},
  reset: {},
  focus: {},
};

const kFrameKeys = new Set(['tiepoint', 'version', 'id', 'do']);

/** @param {any} value */
const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

/** @param {any} value what a message may call itself by */
const isId = (value) => (typeof value === 'string' && value.length > 0 && value.length <= kLongestName) || Number.isSafeInteger(value);

/** What came, short enough for a message. @param {any} value */
const shown = (value) => (typeof value === 'string' ? `"${value.slice(0, kLongestName)}"` : Array.isArray(value) ? 'a list' : value === null ? 'null' : typeof value);

/** @param {string} expected @param {any} found @param {string} [code] @returns {Refusal} */
const refuse = (expected, found, code = 'wrong-type') => ({code, text: `expected ${expected}, found ${shown(found)}`, expected, found: shown(found)});

/** One reader for each sort of value: [value] or a refusal. @type {Record<string, (value: any, key: string) => [any] | Refusal>} */
const readers = {
  truth: (value, key) => (typeof value === 'boolean' ? [value] : refuse(`${key}: true or false`, value)),
  name: (value, key) => (typeof value === 'string' && value.length > 0 && value.length <= kLongestName
    ? [value] : refuse(`${key}: a name of up to ${kLongestName} characters`, value)),
  board: (value, key) => {
    if (typeof value !== 'string' && !isObject(value)) return refuse(`${key}: a board file, as text or as an object`, value);
    let text = value;
    try {
      if (typeof value !== 'string') text = JSON.stringify(value);
    } catch {
      return refuse(`${key}: an object that can be written as JSON`, value); // it contains itself, or goes too deep
    }
    return text.length <= kLargestBoard ? [text] : refuse(`${key}: at most ${kLargestBoard} characters`, `${text.length} characters`, 'too-large');
  },
};

/**
 * Reads one message. null: it is not for the bench (course pages talk to many things).
 * @param {any} data @returns {Ask | Refused | null}
 */
export function readAsk(data) {
  if (!isObject(data) || data.tiepoint !== 'ask') return null;
  const id = isId(data.id) ? data.id : null;
  const refused = (/** @type {Refusal} */ refusal) => ({id, refusal});
  if (data.version !== kVersion) return refused(refuse(`version ${kVersion}`, data.version, 'version'));
  if (id === null) return refused(refuse(`id: a whole number or a text of up to ${kLongestName} characters`, data.id));
  const known = Object.keys(asks).join(', ');
  if (typeof data.do !== 'string' || !Object.hasOwn(asks, data.do)) return refused(refuse(`do: one of ${known}`, data.do, 'unknown-ask'));
  const shape = asks[data.do];
  for (const key of Object.keys(data)) {
    if (!kFrameKeys.has(key) && !Object.hasOwn(shape, key))
      return refused(refuse(`only ${[...kFrameKeys, ...Object.keys(shape)].join(', ')}`, key, 'unknown-key'));
  }
  /** @type {Record<string, any>} */
  const args = {};
  for (const [key, sort] of Object.entries(shape)) {
    if (sort.endsWith('?') && data[key] === undefined) continue;
    const read = readers[sort.replace('?', '')](data[key], key);
    if (!Array.isArray(read)) return refused(read);
    args[key] = read[0];
  }
  return {id, ask: data.do, args};
}

/** @param {string|number|null} id @param {object} content */
export const answer = (id, content) => ({tiepoint: 'answer', version: kVersion, id, ...content});

/** @param {string} event @param {object} content */
export const event = (event, content) => ({tiepoint: 'event', version: kVersion, event, ...content});
