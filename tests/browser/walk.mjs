// Somebody takes a lesson from its first step to its last, with the mouse and the bench, or with keys alone and the notebook. Only real input
// does anything; the bench is asked where things lie and how far the lesson has come. What is built is the author's own build.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {Mouse, placeOf} from './hand.mjs';
import {ask, frames, open, root, settle} from './site.mjs';

export const lessonFile = (id) => JSON.parse(readFileSync(join(root, `examples/lessons/${id}.lesson.json`), 'utf8'));

// What a step wants beside the author's build: meters, a lead seated elsewhere, another value.
const kMore = {
  'first-lamp': {'across-lamp': [{meter: 'volts', across: 'LED1'}]},
  'call-button': {'gap-volts': [{meter: 'volts', across: 'S1'}]},
  'two-doors': {'same-current': [{seat: 'R1', lead: 1, hole: 'b17'}, {meter: 'amperes', at: ['b17', 'b18']}]},
  'two-paths': {'before-after': [{seat: 'R1', lead: 1, hole: 'b8'}, {meter: 'amperes', at: ['b8', 'b9']}], 'try-unequal': [{set: 'R2', key: 'resistance', to: '1k'}]},
  'sharing-voltage': {'tap-volts': [{meter: 'volts', acrossRole: 'Lower resistor'}]},
  'hidden-joints': {'first-beep': [{seat: 'M1', lead: 1, hole: 'e10'}], bridge: [{wire: ['e10', 'f10']}, {seat: 'M1', lead: 1, hole: 'h10'}], rails: [{wire: ['top+5', 'bottom+5']}]},
};
const kProbes = new Set(['meter']);

const words = (page) => ask(page, {do: 'words'});
const stateOf = (page) => ask(page, {do: 'lesson', act: 'see'});
const partOf = async (page, name) => (await words(page)).parts.find((one) => one.name === name);

/** What both ways of working have in common: a part of a board file comes onto the bench, its holes and values as there. */
class Hands {
  constructor(page) {
    this.page = page;
    this.names = new Map();  // in the file -> on the bench
  }

  async place(part) {
    const before = new Set((await words(this.page)).parts.map(({name}) => name));
    await this.put(part);
    const placed = (await words(this.page)).parts.find(({name}) => !before.has(name));
    assert.ok(placed, `${part.kind} ${part.name} stands on the board: ${await this.page.locator('#add-answer').textContent()}`);
    this.names.set(part.name, placed.name);
    await this.setValues(part, placed);
  }

  async setValues(part, placed) {
    for (const [key, value] of Object.entries(part.set ?? {})) {
      const now = (await partOf(this.page, placed.name)).values.find((one) => one.key === key);
      if (now && now.text !== value && now.number !== value && (now.options?.[now.number] ?? '') !== value) await this.setValue(placed.name, key, String(value));
    }
  }

  /** In the row of the part, opened. */
  async setValue(name, key, to) {
    const part = await partOf(this.page, name), row = `[data-key="${name} ${part.kind}"]`;
    if (part.wire) return;  // its colour is nobody's business
    await this.openRow(name, row);
    const field = `${row} [data-value="${key}"]`;
    if (await this.page.locator(field).first().evaluate((node) => node.tagName) === 'SELECT') {
      const at = part.values.find((one) => one.key === key).options.indexOf(to);
      await this.choose(field, await this.page.$eval(`${field} option[value="${at}"]`, (option) => option.textContent));
    } else {
      await this.write(field, to);
      await this.page.keyboard.press('Enter');
    }
    await settle(this.page);
  }

  async seatByRow(name, lead, hole) {
    const {kind} = await partOf(this.page, name), row = `[data-key="${name} ${kind}"]`;
    await this.openRow(name, row);
    await this.write(`${row} [data-lead="${lead}"]`, hole);
    await this.page.keyboard.press('Enter');
    await settle(this.page);
  }

  async openRow(name, row) {
    if (!(await words(this.page)).selection.includes(name)) await this.press(`${row} .part-select`);
    await settle(this.page);
  }

  async build(board) {
    for (const part of board.parts) await this.place(part);
  }

  async clear() {
    await this.press('#select-all');
    await this.press('#several-remove');
    await settle(this.page);
  }

  /** The form of the notebook, whatever fills it in. */
  async form(part) {
    const leads = part.at ? [part.at] : Object.values(part.leads);
    await this.choose('#add-kind', await this.page.$eval(`#add-kind option[value="${part.kind}"]`, (option) => option.textContent));
    for (const [key, value] of Object.entries(part.set ?? {})) {
      const field = this.page.locator(`#add-${key}`);
      if (!await field.count()) continue;  // what a hand moves is set once the part is there
      if (await field.evaluate((node) => node.tagName) === 'SELECT') await this.choose(`#add-${key}`, await this.page.$eval(`#add-${key} option[value="${value}"]`, (option) => option.textContent));
      else await this.write(`#add-${key}`, String(value));
    }
    for (const [at, hole] of leads.entries()) await this.write(`#add-hole-${at}`, hole);
    await this.press('#add-do');
  }

  async more(id, step, action) {
    const lesson = lessonFile(id);
    if (action.wire) return this.place({name: `W ${action.wire}`, kind: 'jumper-wire', leads: {1: action.wire[0], 2: action.wire[1]}});
    if (action.seat) return this.seat(this.names.get(action.seat) ?? action.seat, action.lead, action.hole);
    if (action.set) return this.setValue(this.names.get(action.set) ?? action.set, action.key, action.to);
    let holes = action.at;
    if (!holes) {
      const name = action.across ? this.names.get(action.across) : (await ask(this.page, {do: 'lesson', act: 'look'})).verdict.roles?.[action.acrossRole] ?? 'R2';
      const {leads} = await partOf(this.page, name);
      const ends = leads.length === 2 ? [0, 1] : [0, leads.findIndex((lead) => lead.net !== leads[0].net)];
      holes = ends.map((end) => leads[end].hole);
    }
    return this.place({name: 'M', kind: 'meter', set: {function: action.meter}, leads: {'red-probe': holes[0], 'black-probe': holes[1]}});
  }
}

export class MouseHands extends Hands {
  label = 'mouse';

  constructor(page) {
    super(page);
    this.mouse = new Mouse(page);
  }

  async press(selector) {
    const target = this.page.locator(selector).first();
    await target.scrollIntoViewIfNeeded();
    const box = await target.boundingBox();
    await this.mouse.click({x: box.x + box.width / 2, y: box.y + box.height / 2});
  }

  /** A list that opens is the browser's own: clicked, and then a letter or two. */
  async choose(selector, label) {
    await this.page.locator(selector).scrollIntoViewIfNeeded();
    await this.page.focus(selector);
    await this.page.keyboard.type(label);
  }

  async write(selector, text) {
    await this.press(selector);
    await this.page.keyboard.press('Control+A');
    await this.page.keyboard.type(text);
  }

  async closeCard() {
    if (!(await ask(this.page, {do: 'point', widget: 'inspector'})).found) return;
    await this.mouse.click(await placeOf(this.page, {widget: 'inspector.close'}));
    await settle(this.page);
  }

  /** Two leads: out of the box, then hole by hole. What lies on the mat or has many pins: by the form. */
  async put(part) {
    const holes = Object.values(part.leads ?? {});
    const boxed = await ask(this.page, {do: 'point', box: part.kind});
    if (part.at || part.mat || kProbes.has(part.kind) || holes.length !== 2 || !boxed.found) return this.form(part);
    await this.closeCard();
    await this.mouse.click(await placeOf(this.page, {box: part.kind}));
    for (const hole of holes) await this.mouse.click(await placeOf(this.page, {hole}));
    await settle(this.page);
    if (part.kind === 'jumper-wire') await this.page.keyboard.press('Escape');  // the wire stays in the hand for the next one
  }

  async seat(name, lead, hole) {
    await this.closeCard();
    const part = await partOf(this.page, name);
    const from = await placeOf(this.page, {part: name, lead: part.leads[lead].name});
    await this.mouse.drag(from, await placeOf(this.page, {hole}));
    await settle(this.page);
    if ((await partOf(this.page, name)).leads[lead].hole === hole) return;
    await this.seatByRow(name, lead, hole);
  }

  async answer(choice) {
    await this.press(`.lesson-choice:has(input[value="${choice}"])`);
  }

}

export class KeyHands extends Hands {
  label = 'keys';

  /** Tab, or Shift and Tab, until it has the focus. */
  async reach(selector) {
    const way = await this.page.evaluate((wanted) => {
      const target = document.querySelector(wanted), from = document.activeElement;
      if (!target || target === from) return '';
      return from && from.compareDocumentPosition(target) & Node.DOCUMENT_POSITION_PRECEDING ? 'Shift+Tab' : 'Tab';
    }, selector);
    for (let n = 0; n < 300; ++n) {
      if (await this.page.evaluate((wanted) => document.activeElement?.matches(wanted), selector)) return;
      await this.page.keyboard.press(way || 'Tab');
    }
    assert.fail(`the keyboard does not reach ${selector}`);
  }

  async press(selector) {
    await this.reach(selector);
    await this.page.keyboard.press('Enter');
    await frames(this.page);
  }

  async choose(selector, label) {
    await this.reach(selector);
    await this.page.keyboard.type(label);
  }

  async write(selector, text) {
    await this.reach(selector);
    await this.page.keyboard.press('Control+A');
    await this.page.keyboard.type(text);
  }

  async put(part) {
    await this.form(part);
    await settle(this.page);
  }

  async seat(name, lead, hole) {
    await this.seatByRow(name, lead, hole);
  }

  /** Into the group of answers, and down to the one. */
  async answer(choice) {
    await this.reach('input[name="lesson-choice"]');
    await this.page.keyboard.press('Space');
    for (let n = 0; n < 8; ++n) {
      if (await this.page.evaluate((wanted) => /** @type {HTMLInputElement} */ (document.activeElement).value === wanted, choice)) return;
      await this.page.keyboard.press('ArrowDown');
    }
    assert.fail(`no answer ${choice}`);
  }

}

const middle = ([low, high]) => (low === null ? high : high === null ? low : (low + high) / 2);

/**
 * From the first step to the last. @param {string} id @param {Hands} hands whose page has the lesson open
 * @param {(step: object, at: number) => Promise<void>} [look] after each step
 */
export async function walk(id, hands, look = async () => {}) {
  const {page} = hands, lesson = lessonFile(id), more = kMore[id] ?? {};
  let built = false;
  for (const [at, step] of lesson.steps.entries()) {
    await page.waitForFunction((wanted) => document.querySelector('.lesson-dot[aria-current="step"]')?.textContent === String(wanted), at + 1);
    if (step.kind === 'hunt') {
      await hands.clear();
      await hands.build(step.board);
    } else if (step.checks && !built && !more[step.id]) {
      built = true;
      await hands.build(lesson.outline);
    }
    for (const action of more[step.id] ?? []) await hands.more(id, step, action);
    if (step.question && !(await stateOf(page)).step.done) {
      const {choices, between} = step.question;
      if (choices) await hands.answer(choices.find((one) => one.right).id);
      else await hands.write('#lesson-number[type="text"], input#lesson-number', String(Number(middle(between).toPrecision(4))));
      await hands.press('#lesson-answer');
    }
    if (await page.locator('#lesson-on').isVisible()) await hands.press('#lesson-on');
    if (step.checks && !(await stateOf(page)).step.done) await hands.press('#lesson-check');
    await settle(page);
    await look(step, at);
    const now = await stateOf(page);
    if (step.question || step.checks) assert.equal(now.step.done, true, `${id}, ${step.id} with the ${hands.label}: ${JSON.stringify(now.words)} ${await page.locator('#lesson-reason').textContent()}`);
    if (await page.locator('#lesson-next').isVisible()) await hands.press('#lesson-next');
  }
  await page.waitForSelector('#lesson-done:not([hidden])');
  assert.equal((await stateOf(page)).complete, true);
}

/** @param {'mouse'|'keys'} by */
export async function startLesson(browser, site, id, by, size = {}) {
  const page = await open(browser, site.url, {address: `?test=1&lesson=${id}&seed=1`, ...size});
  await page.waitForSelector('#lesson:not([hidden])');
  return by === 'keys' ? new KeyHands(page) : new MouseHands(page);
}
