// The dialog in which a teacher hides a fault of her choice; chance hides some from the menu.
import {el, showDialog} from './dom.js';
import {say, sayError} from './words.js';

/** @typedef {{part?: string, rail?: string, what: string, times?: number}} Fault */

/** @param {Fault} fault */
const where = ({part, rail = ''}) => part ?? say('hide.rail', {rail: rail.replace('-', '−')});
/** @param {Fault} fault */
const what = ({what, times = 1}) => say(`hide.what.${what}`, {times: String(times)});

/** @param {import('./app.js').App} app */
export function showHide(app) {
  /** @type {Fault[]} */
  let faults = [];
  const places = el('select', {id: 'hide-where', onchange: () => offer()}), kinds = el('select', {id: 'hide-what'});
  const told = el('p', {role: 'status', id: 'hide-told'});
  const fill = (/** @type {HTMLSelectElement} */ select, /** @type {[string, string][]} */ options) => {
    const now = select.value;
    select.replaceChildren(...options.map(([value, text]) => el('option', {value}, text)));
    if (options.some(([value]) => value === now)) select.value = now;
  };
  /** What can be wrong with the place that is chosen. */
  const offer = () => fill(kinds, faults.map((fault, at) => /** @type {[string, string]} */ ([String(at), what(fault)])).filter((_, at) => where(faults[at]) === places.value));
  const look = () => {
    faults = app.bench.call({do: 'faults'}).faults;
    fill(places, [...new Set(faults.map(where))].map((name) => /** @type {[string, string]} */ ([name, name])));
    offer();
    button.disabled = faults.length === 0;
    if (!faults.length && !told.textContent) told.textContent = say('hide.none');
  };
  const hide = (/** @type {Event} */ event) => {
    event.preventDefault();
    const fault = Number(kinds.value), answer = app.bench.call({do: 'hide', fault});
    told.textContent = answer.ok ? say('hide.done', {where: where(faults[fault]), what: what(faults[fault])}) : sayError(answer.error);
    look();
  };
  const button = el('button', {type: 'submit', class: 'action strong', id: 'hide-do'}, say('hide.do'));
  look();
  showDialog('hide', {heading: say('hide.heading'), close: say('hide.close')},
    el('form', {class: 'dialog-body rows', onsubmit: hide}, el('p', {}, say('hide.about')),
       el('label', {class: 'row'}, say('hide.where'), places), el('label', {class: 'row'}, say('hide.what'), kinds), button, told));
}
