// The form that places a part without the canvas: kind, holes, turn, values. Also the question "what is joined with this hole?".
import {el, setAttribute, setText} from './dom.js';
import {holeRange, showHole} from './partwords.js';
import {foundName} from './search.js';
import {list, say, sayError, word} from './words.js';

/** @typedef {import('./types.js').Kind} Kind */

/** @param {string} label @param {HTMLElement} field @param {string} [hint] */
const labelled = (label, field, hint) =>
    el('label', {class: 'row'}, el('span', {}, label), field, hint ? el('span', {class: 'hint'}, hint) : null);

/** @param {Record<string, any>} props */
const holeField = (props) => el('input', {type: 'text', autocomplete: 'off', spellcheck: 'false', autocapitalize: 'none', size: 8, ...props});

export class AddPart {
  /** @param {import('./app.js').App} app @param {Kind[]} kinds */
  constructor(app, kinds) {
    this.app = app;
    this.kinds = kinds;
    /** @type {HTMLInputElement[]} */
    this.holes = [];
    this.kind = el('select', {id: 'add-kind', onchange: () => this.showKind()});
    this.offered = kinds;
    this.find = el('input', {type: 'search', id: 'add-find', autocomplete: 'off', autocapitalize: 'none', spellcheck: 'false', maxlength: 80, 'aria-describedby': 'add-find-hint',
      oninput: () => this.look(true)});
    this.found = el('p', {class: 'hint', id: 'add-find-hint'}, say('add.find.hint'));
    this.list();
    this.fields = el('div', {class: 'rows'});
    this.answer = el('p', {class: 'answer', id: 'add-answer'});
    const form = el('form', {class: 'rows'}, labelled(say('add.find'), this.find), this.found, labelled(say('add.kind'), this.kind), this.fields,
                    el('button', {type: 'submit', class: 'action strong', id: 'add-do'}, say('add.do')), this.answer);
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.place();
    });
    this.node = el('section', {class: 'card', 'aria-labelledby': 'add-heading'}, el('h2', {id: 'add-heading'}, say('add.heading')), form);
    this.showKind();
  }

  /** All that is offered, group by group, what was used of late before it. */
  list() {
    const options = (/** @type {string[]} */ keys) => keys.map((key) => el('option', {value: key}, word('kind', key)));
    const recent = this.ask('').map(({kind}) => kind);
    const groups = [...new Set(this.offered.map((kind) => kind.group))];
    this.kind.replaceChildren(...(recent.length ? [el('optgroup', {label: say('add.recent')}, ...options(recent))] : []),
      ...groups.map((group) => el('optgroup', {label: word('group', group)}, ...options(this.offered.filter((kind) => kind.group === group).map(({key}) => key)))));
  }

  /** What fits, of what is offered. @param {string} text @returns {import('./search.js').Found[]} */
  ask(text) {
    if (text === '' && !this.app.bench.whole) return [];  // nothing was used yet
    const {found} = this.app.bench.call({do: 'find', text});
    return found.filter((/** @type {import('./search.js').Found} */ {kind}) => this.offered.some(({key}) => key === kind));
  }

  /** The list follows what is searched for; the best fit is chosen, with the value that was asked for. @param {boolean} aloud */
  look(aloud) {
    const text = this.find.value.trim();
    /** @type {import('./search.js').Found[]} */
    this.hits = text ? this.ask(text) : [];
    if (!text) this.list();
    else this.kind.replaceChildren(...this.hits.map((found) => el('option', {value: found.kind}, foundName(found))));
    setText(this.found, !text ? say('add.find.hint') : this.hits.length ? say('search.count', {count: this.hits.length, first: foundName(this.hits[0])}) : say('add.find.none'));
    if (aloud && text) this.app.announcer.say(this.found.textContent ?? '');
    if (this.chosen) this.showKind();
  }

  /** Only these kinds can be placed; null for all. @param {?string[]} keys */
  offer(keys) {
    this.offered = keys ? this.kinds.filter(({key}) => keys.includes(key)) : this.kinds;
    this.find.value = '';
    this.look(false);
  }

  get chosen() {
    return /** @type {Kind} */ (this.kinds.find((kind) => kind.key === this.kind.value));
  }

  showKind() {
    const kind = this.chosen;
    const wanted = this.hits?.find((found) => found.kind === kind.key)?.values ?? {};
    const rigid = kind.seat === 'rigid';
    const leads = rigid ? kind.leads.slice(0, 1) : kind.leads;
    this.holes = leads.map((lead, at) => holeField({id: `add-hole-${at}`, 'aria-describedby': 'add-hint'}));
    const reach = rigid ? say('add.rigid') : kind.reachMax === null || kind.seat === 'mat' || kind.reachMax > 100 ? say('add.reach.any') :
        say('add.reach', {min: Math.ceil(kind.reachMin), max: Math.floor(kind.reachMax)});
    this.turn = el('select', {id: 'add-turn'}, ...[0, 1, 2, 3].map((turn) => el('option', {value: turn}, String(turn))));
    this.values = kind.values.filter((value) => value.use === 'value').map((value) => ({key: value.key, field: this.valueField({...value, text: wanted[value.key] ?? value.text})}));
    this.fields.replaceChildren(
        ...leads.map((lead, at) => labelled(say('add.hole', {lead: word('lead', lead.name)}), this.holes[at])),
        el('p', {class: 'hint', id: 'add-hint'}, say('add.hint', {example: say('add.hole.hint'), reach})),
        ...(rigid ? [labelled(say('add.turn'), this.turn)] : []),
        ...this.values.map(({key, field}) => labelled(word('value', key), field)));
  }

  /** What has just been used goes before the others; the choice stays. */
  recall() {
    const {value} = this.kind;
    this.list();
    this.kind.value = value;
  }

  /** @param {import('./types.js').Value} value */
  valueField(value) {
    if (!value.options) return el('input', {type: 'text', autocomplete: 'off', size: 8, value: value.text, id: `add-${value.key}`});
    const field = el('select', {id: `add-${value.key}`}, ...value.options.map((option) => el('option', {value: option}, word('option', option))));
    field.value = value.text;
    return field;
  }

  place() {
    const kind = this.chosen;
    if (!kind) return this.find.focus();
    const {holes} = this;
    const answer = this.app.bench.call({
      do: 'place', kind: kind.key, holes: holes.map((field) => field.value.trim()), turn: kind.seat === 'rigid' ? Number(this.turn?.value) : 0,
      values: Object.fromEntries((this.values ?? []).map(({key, field}) => [key, field.value])),
    });
    setText(this.answer, answer.ok ? say('add.done', {part: answer.part}) : sayError(answer.error));
    setAttribute(this.answer, 'data-look', answer.ok ? 'good' : 'bad');
    const wrong = answer.ok ? null : kind.leads.findIndex((lead) => lead.name === answer.error.lead);
    holes.forEach((field, at) => setAttribute(field, 'aria-invalid', wrong === at || wrong === -1 ? 'true' : null));
    this.app.announcer.say(this.answer.textContent ?? '');
    if (wrong !== null) return holes[Math.max(wrong, 0)]?.focus();
    for (const field of holes) field.value = '';
    if (!this.find.value) this.recall();
    holes[0]?.focus();
  }
}

export class Joined {
  /** @param {import('./app.js').App} app */
  constructor(app) {
    this.app = app;
    this.field = holeField({id: 'joined-hole', 'aria-describedby': 'joined-answer'});
    this.answer = el('p', {class: 'answer', id: 'joined-answer'});
    const form = el('form', {class: 'field'}, el('label', {}, say('joined.hole'), this.field),
                    el('button', {type: 'submit', class: 'action', id: 'joined-do'}, say('joined.do')));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.look();
      app.announcer.say(this.answer.textContent ?? '');
    });
    this.node = el('section', {class: 'card', 'aria-labelledby': 'joined-heading'}, el('h2', {id: 'joined-heading'}, say('joined.heading')), form, this.answer);
  }

  look() {
    const answer = this.app.bench.call({do: 'joined', hole: this.field.value.trim()});
    setAttribute(this.field, 'aria-invalid', answer.ok ? null : 'true');
    setText(this.answer, answer.ok ? this.words(answer) : sayError(answer.error));
  }

  /** @param {{hole: string, strips: string[][], leads: {part: string, lead: string}[], voltageText: ?string}} answer */
  words(answer) {
    const leads = answer.leads.map(({part, lead}) => say('part.lead.ref', {part, lead: word('lead', lead)}));
    return [
      say('joined.strip', {hole: showHole(answer.hole), holes: list(answer.strips.map(holeRange))}),
      leads.length ? say('joined.leads', {leads: list(leads)}) : say('joined.none'),
      answer.voltageText ? say('joined.voltage', {voltage: answer.voltageText}) : say('joined.floating'),
    ].join(' ');
  }
}
