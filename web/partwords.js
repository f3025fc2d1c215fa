// Sentences about parts, leads and numbers. Pure: data of the bench in, words out.
import {hasWords, list, namesInWords, say, word} from './words.js';

/** @typedef {import('./types.js').Part} Part */

/** @param {Part} part */
export const kindName = (part) => word('kind', part.kind);

/** Its settings stand beside its screen. @param {Part} part */
export const isScope = (part) => part.kind.startsWith('oscilloscope');

/** A value as a person writes it: "330 Ω", "red". @param {import('./types.js').Value} value */
export const valueText = (value) => (value.options ? word('option', value.text) : value.text);

/** What one would ask for in the shop: "330 Ω", "red", "3 cells". @param {Part} part */
export function mark(part) {
  const value = part.values.find((one) => one.use === 'value');
  if (!value) return '';
  return hasWords(`mark.${value.key}`) ? say(`mark.${value.key}`, {value: value.text}) : valueText(value);
}

/** "a5 to a10" @param {Part} part */
export function places(part) {
  const holes = part.leads.map((lead) => showHole(lead.hole) || say('part.in-air'));
  if (part.seat === 'mat') return list(part.leads.map((lead, at) => say('part.plug', {lead: word('lead', lead.name), hole: holes[at]})));
  if (part.seat === 'rigid') return holes.length > 2 ? list(holes) : holes.join(' ');
  return holes.length === 2 ? say('part.from-to', {from: holes[0], to: holes[1]}) : list(holes);
}

/** Less than this is "no current" to a person with a hand-held meter; the engine's kIdleCurrent (engine/parts/part_type.h). */
const kIdleCurrent = 1e-6; // A
/** Less than this is "no voltage": the last digit of the same meter's finest range (from memory). */
const kIdleVoltage = 1e-4; // V

/** A quantity with a real minus. @param {string} text */
const signed = (text) => text.replace(/^-/, '−');

/** "9.2 mA through it, 1.94 V across it"; "" when there is nothing to read. @param {Part} part */
export function numbers(part) {
  const {current, voltage, currentText, voltageText, shownText} = part.reading;
  if (shownText !== undefined) return shownText === null ? '' : say('part.shows', {value: signed(shownText)});
  if (part.reading.charge !== undefined && voltageText) return batteryNumbers(part.reading);
  const flows = current !== null && Math.abs(current) >= kIdleCurrent;
  if (part.supply && currentText && voltageText)
    return flows ? say('part.supplies', {current: signed(currentText), voltage: signed(voltageText)}) : say('part.supplies.nothing', {voltage: signed(voltageText)});
  const said = [];
  if (currentText) said.push(flows ? say('part.through', {current: signed(currentText)}) : say('part.through.nothing'));
  if (voltageText && voltage !== null)
    said.push(Math.abs(voltage) < kIdleVoltage ? say('part.across.nothing') : say('part.across', {voltage: signed(voltageText)}));
  return said.join(', ');
}

/** What a battery supplies and how long it goes on doing so. @param {import('./types.js').Reading} reading */
function batteryNumbers({current, currentText, voltageText, charge, runTime}) {
  const voltage = signed(voltageText ?? ''), share = String(Math.round(100 * (charge ?? 0)));
  if (current === null || Math.abs(current) < kIdleCurrent || !currentText) return say('part.battery.nothing', {voltage, share});
  const supplied = {current: signed(currentText), voltage, share};
  return runTime === null || runTime === undefined ? say('part.battery', supplied) : say('part.battery.lasts', {...supplied, time: timeWords(runTime)});
}

/** A long time in one round number. @param {number} seconds */
function timeWords(seconds) {
  const minutes = seconds / 60, hours = minutes / 60, days = hours / 24;
  if (minutes < 100) return say('time.minutes', {count: Math.max(1, Math.round(minutes))});
  if (hours < 100) return say('time.hours', {count: Math.round(hours)});
  return say('time.days', {count: Number(days.toPrecision(2))});
}

/** A hole as it is shown: with a real minus, at which no line breaks. @param {string} hole */
export const showHole = (hole) => hole.replace('-', '−');

/** A hole as the keyboard comes to it: what is in it or over it, else what it is joined with. @param {{hole: string, under?: string, leads: {part: string, lead: string, hole: string}[]}} joined */
export function holeWords({hole, under, leads}) {
  const lead = leads.find((one) => one.hole === hole);
  if (lead) return say('say.hole.lead', {hole: showHole(hole), lead: word('lead', lead.lead), part: lead.part});
  if (under) return say('say.hole.under', {hole: showHole(hole), part: under});
  const parts = [...new Set(leads.map((one) => one.part))];
  return parts.length ? say('say.hole.joined', {hole: showHole(hole), parts: namesInWords(parts)}) : say('say.hole.free', {hole: showHole(hole)});
}

/** @param {Part} part */
export const stateWord = (part) => word('state', part.reading.state);

/** How a state looks: its class in the style sheet and a sign, so that colour is never alone. @param {string} state */
export function stateLook(state) {
  if (['too-bright', 'too-hot', 'over-voltage', 'at-limit', 'overloaded', 'being-charged', 'reversed'].includes(state)) return {look: 'warn', sign: '⚠'};
  if (state === 'broken') return {look: 'warn', sign: '✖'};
  if (['lit', 'faint'].includes(state)) return {look: 'lit', sign: '●'};
  if (['carrying', 'conducting', 'closed', 'on', 'charging', 'charged', 'discharging', 'high', 'changing'].includes(state)) return {look: 'live', sign: '▶'};
  return {look: 'calm', sign: '○'};
}

const kMostOthers = 4;

/** "anode: b12, joined with R1 lead 2 and W3 lead 1" @param {import('./types.js').Words} words @param {number} partIndex @param {number} leadIndex */
export function leadSentence(words, partIndex, leadIndex) {
  const lead = words.parts[partIndex].leads[leadIndex];
  const name = word('lead', lead.name);
  if (!lead.hole) return say('part.lead.air', {lead: name});
  const others = words.nets[lead.net].filter(([part]) => part !== partIndex).map(
      ([part, at]) => say('part.lead.ref', {part: words.parts[part].name, lead: word('lead', words.parts[part].leads[at].name)}));
  if (others.length === 0) return say('part.lead', {lead: name, hole: showHole(lead.hole)});
  const shown = others.slice(0, kMostOthers);
  if (others.length > kMostOthers) shown.push(say('part.lead.more', {count: others.length - kMostOthers}));
  return say('part.lead.joined', {lead: name, hole: showHole(lead.hole), others: list(shown)});
}

/** @param {import('./types.js').Words} words */
export function summary(words) {
  const wires = words.parts.filter((part) => part.wire).length;
  const parts = words.parts.length - wires;
  if (words.parts.length === 0) return say('notebook.summary.empty');
  return say('notebook.summary', {parts: say('notebook.summary.parts', {count: parts}), wires});
}

/** @param {import('./types.js').Words} words */
export function boardSentence(words) {
  const names = words.breadboards.map(({layout, splitRails, cracked}) => {
    const name = say(`notebook.layout.${layout}`);
    if (cracked.length) return say('notebook.layout.cracked', {layout: name, rails: list(cracked.map(showHole))});
    return splitRails ? say('notebook.layout.split', {layout: name}) : name;
  });
  return say('notebook.layout.boards', {layout: list(names)});
}

/** The button to hold and the light to watch: only where each is the only one, so that nothing else can be meant. @param {import('./types.js').Words} words */
export function holdHint(words) {
  const buttons = words.parts.filter((part) => part.values.some((value) => value.use === 'momentary'));
  if (buttons.length !== 1) return null;
  const lights = words.parts.filter((part) => part.kind === 'led');
  return {button: buttons[0].name, light: lights.length === 1 ? lights[0].name : null};
}

/** "e12, d12 and a12" shortened to "a12 to e12" where the holes follow each other. @param {string[]} holes */
export function holeRange(holes) {
  const shown = holes.map(showHole);
  return shown.length > 2 ? say('joined.range', {first: shown[0], last: shown[shown.length - 1]}) : list(shown);
}
