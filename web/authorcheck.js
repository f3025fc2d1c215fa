// One check of a step that is written: what it asks in words, whether it is asked, its windows, what is said when it fails, points, hints.
import {el} from './dom.js';
import {list, say, sentence, word} from './words.js';

/** @typedef {Record<string, any>} Json */

/** @type {Record<string, string>} */
const kUnits = {voltage: 'V', current: 'A', power: 'W', brightness: '', frequency: 'Hz', speed: 'rad/s', angle: 'rad', temperature: '°C', shown: ''};
const kWaveWindows = {frequency: 'Hz', duty: '', rise: 's', fall: 's', lowest: null, highest: null};

/** @param {unknown} one @returns {string[]} */
const many = (one) => (Array.isArray(one) ? one.map(String) : one === undefined ? [] : [String(one)]);
/** @param {Json} term */
const unitOf = (term) => (term.what ? kUnits[term.what] ?? '' : 'V');
/** @param {Json} term */
const termWords = (term) => (term.what ? say('author.term', {what: word('lesson.what', term.what), part: term.part ?? ''})
                                       : say('author.term.between', {a: pointWords(term.at), b: pointWords(term.against)}));
/** @param {unknown} point */
const pointWords = (point) => (typeof point === 'string' ? point : Object.values(/** @type {Json} */ (point ?? {})).map(String).join(' '));

/** What it asks for, in one sentence. @param {Json} check */
function asked(check) {
  switch (check.check) {
    case 'state': return say('author.asks.state', {part: check.part, is: list(many(check.is).map((state) => word('state', state)))});
    case 'reading': return check.over ? say('author.asks.ratio', {a: termWords(check), b: termWords(check.over)}) : say('author.asks.reading', {term: termWords(check)});
    case 'truth': return say('author.asks.truth', {output: check.output, inputs: list(many(check.inputs)), works: list(many(check.works)), count: many(check.works).length});
    case 'wave': return say('author.asks.wave', {term: termWords(check)});
    case 'joined': return say(check.joined === false ? 'author.asks.apart' : 'author.asks.joined', {a: pointWords(check.a), b: pointWords(check.b)});
    case 'measured': return say('author.asks.measured', {where: check.across ?? check.through ?? ''});
    case 'parts': return say('author.asks.parts', {kind: list(many(check.kind).map((kind) => word('kind', kind)))});
    case 'series': return say('author.asks.series', {parts: list(many(check.parts))});
    case 'parallel': return say('author.asks.parallel', {parts: list(many(check.parts))});
    case 'shape': return say('author.asks.shape', {parts: list(Object.keys(check.nets ?? {}))});
    default: return say('author.asks.no-faults');
  }
}

/** "with S1 down" @param {Json} check */
function situation(check) {
  const when = Object.entries(check.when ?? {});
  return when.length ? say('author.asks.when', {settings: list(when.map(([part, to]) => `${part} ${word('option', String(to))}`))}) : '';
}

/** @param {import('./author.js').Author} author @param {Json} check @param {number} at step @param {number} c */
export function checkEditor(author, check, at, c) {
  const {fields} = author, id = `author-${at}-check-${c}`, pointer = `/steps/${at}/checks/${c}`;
  const on = el('input', {type: 'checkbox', id: `${id}-on`, checked: !check.off});
  const more = el('div', {class: 'rows', hidden: !!check.off}, ...windows(fields, check, id, pointer),
    fields.words(`${id}-fail`, say('author.check.fail'), check, 'fail', `${pointer}/fail`, 2),
    fields.whole(`${id}-points`, say('author.check.points'), check, 'points', `${pointer}/points`), fields.hints(`${id}-hints`, check, pointer));
  on.addEventListener('input', () => {
    if (on.checked) delete check.off;
    else check.off = true;
    more.hidden = !on.checked;
    fields.changed();
  });
  const box = el('div', {class: 'author-check'}, el('label', {class: 'scope-check', for: on.id}, on, el('span', {}, sentence(asked(check)), ' ', situation(check))), more);
  return fields.place(pointer, box, on, box.firstElementChild);
}

/** @param {import('./authorfields.js').Fields} fields @param {Json} check @param {string} id @param {string} pointer */
function windows(fields, check, id, pointer) {
  if (check.check === 'reading')
    return [fields.window(`${id}-between`, say('author.check.between'), check, 'between', `${pointer}/between`, check.over ? '' : unitOf(check))];
  if (check.check === 'measured' && check.shown)
    return [fields.window(`${id}-shown`, say('author.check.between'), check, 'shown', `${pointer}/shown`, '')];
  if (check.check === 'wave')
    return Object.entries(kWaveWindows).filter(([key]) => check[key]).map(([key, unit]) =>
        fields.window(`${id}-${key}`, say(`lesson.what.${key}`), check, key, `${pointer}/${key}`, unit ?? unitOf(check)));
  if (check.check === 'parts')
    return ['at-least', 'at-most'].map((key) => fields.whole(`${id}-${key}`, say(`author.check.${key}`), check, key, `${pointer}/${key}`));
  return [];
}
