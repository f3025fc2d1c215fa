// The page that lists every part: leads, values, ratings, the model with its equations, where its figures are from, what it leaves out.
// All of it is data of the engine (parts.json, written by web/build from the catalogue); this file only sets it out and searches it.
import {el, setText} from './dom.js';
import {loadLanguage} from './language.js';
import {list, say, word} from './words.js';

/** @typedef {{standard: string, minimum: string, maximum: string}} Shown */
/** @typedef {{key: string, standard: string|number, options?: string[], shown?: Shown}} PartValue */
/** @typedef {{name: string, what: string, equation: string, source: string}} PartElement */
/**
 * @typedef {{kind: string, name: string, group: string, leads: string[], values: PartValue[], ratings: {shown: Record<string, string>},
 *   model: string, source: string, limits: string, elements: PartElement[]}} ListedPart
 */

/** @param {PartValue} value */
function valueWords(value) {
  const name = word('value', value.key);
  if (value.options) return say('parts.value.options', {value: name, options: list(value.options.map((option) => word('option', option)))});
  const shown = /** @type {Shown} */ (value.shown);
  return say('parts.value.range', {value: name, minimum: shown.minimum, maximum: shown.maximum, standard: shown.standard});
}

/** What is told of a part's model is written in English only. @param {string} text */
const english = (text) => el('span', {lang: 'en', dir: 'ltr'}, text);

/** @param {string} heading @param {...(Node|string)} content */
const row = (heading, ...content) => el('div', {class: 'fact'}, el('dt', {}, heading), ...content.map((one) => el('dd', {}, one)));

/** @param {PartElement} element */
const equation = (element) => el('span', {lang: 'en', dir: 'ltr'}, el('span', {class: 'fact-what'}, element.what), ' ', el('span', {class: 'equation'}, element.equation), ' ',
                                 el('span', {class: 'fact-source'}, element.source));

/** @param {ListedPart} part */
function card(part) {
  const ratings = Object.entries(part.ratings.shown).map(([name, rating]) => say(`parts.rating.${name}`, {rating}));
  return el('article', {class: 'sheet-part', id: part.kind, 'aria-labelledby': `${part.kind}-name`},
            el('h3', {id: `${part.kind}-name`}, word('kind', part.kind)),
            el('p', {class: 'sheet-model', lang: 'en', dir: 'ltr'}, part.model),
            el('dl', {},
               row(say('parts.leads'), list(part.leads.map((lead) => word('lead', lead)))),
               ...(part.values.length ? [row(say('parts.values'), ...part.values.map(valueWords))] : []),
               ...(ratings.length ? [row(say('parts.ratings'), ...ratings)] : []),
               row(say('parts.limits'), english(part.limits)),
               ...(part.elements.length ? [row(say('parts.equations'), ...part.elements.map(equation))] : []),
               row(say('parts.source'), english(part.source))));
}

/** Small letters, without marks, so that "Würth" is found as "wurth". @param {string} text */
const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

class Sheet {
  /** @param {HTMLElement} root @param {ListedPart[]} parts */
  constructor(root, parts) {
    this.count = el('p', {class: 'sheet-count', id: 'count', role: 'status'});
    this.field = el('input', {type: 'search', id: 'search', autocomplete: 'off', spellcheck: 'false', 'aria-describedby': 'count'});
    this.field.addEventListener('input', () => this.search());
    this.none = el('p', {class: 'sheet-none', id: 'none', hidden: true}, say('parts.none'));
    const groups = [...new Set(parts.map((part) => part.group))];
    this.sections = groups.map((group) => {
      const cards = parts.filter((part) => part.group === group).map((part) => ({part, node: card(part), text: ''}));
      for (const one of cards) one.text = plain(`${one.part.kind} ${word('group', group)} ${one.node.textContent}`);
      return {cards, node: el('section', {'aria-labelledby': `group-${group}`}, el('h2', {id: `group-${group}`}, word('group', group)),
                             el('div', {class: 'sheet-parts'}, ...cards.map((one) => one.node)))};
    });
    root.append(el('h1', {}, say('parts.title')), el('p', {class: 'sheet-lead'}, say('parts.lead', {count: parts.length})),
                el('div', {class: 'sheet-search', role: 'search'}, el('label', {for: 'search'}, say('parts.search')), this.field, this.count),
                ...this.sections.map((section) => section.node), this.none,
                el('p', {class: 'sheet-foot'}, say('parts.foot')));
    this.search();
  }

  /** A part is shown when every word that was typed stands somewhere in it. */
  search() {
    const wanted = plain(this.field.value).split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const section of this.sections) {
      let here = 0;
      for (const {node, text} of section.cards) {
        node.hidden = !wanted.every((one) => text.includes(one));
        if (!node.hidden) here += 1;
      }
      section.node.hidden = here === 0;
      shown += here;
    }
    this.none.hidden = shown > 0;
    setText(this.count, say('parts.count', {count: shown}));
  }
}

async function start() {
  const main = /** @type {HTMLElement} */ (document.getElementById('main'));
  const parts = fetch('parts.json').then((answer) => (answer.ok ? answer.json() : Promise.reject(new Error(`parts.json: ${answer.status}`))));
  try {
    await loadLanguage();
    document.title = `${say('parts.title')} – ${say('app.name')}`;
    setText(/** @type {HTMLElement} */ (document.getElementById('to-bench')), say('parts.back'));
    new Sheet(main, await parts);
    document.getElementById(decodeURIComponent(location.hash.slice(1)))?.scrollIntoView();
  } catch (error) {
    main.append(el('p', {role: 'alert'}, say('app.no-start', {reason: String(error)})));
  }
  document.body.classList.add('ready');
}

start();
