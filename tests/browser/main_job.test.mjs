// The main job, by hand: from an empty board to a lit LED with nothing but the browser's own mouse, and once more by touch.
// The bench is asked where things lie and what it reads; it is never told what to do except by those hands.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {test} from 'node:test';
import {Finger, Mouse, placeOf} from './hand.mjs';
import {ask, open, picture, settle, solve} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser;
stage((on) => { ({site, browser} = on); });

const words = (page) => ask(page, {do: 'words'});
const part = async (page, name) => (await words(page)).parts.find((one) => one.name === name);
const holesOf = (one) => one.leads.map((lead) => lead.hole);
const middle = (a, b) => ({x: (a.x + b.x) / 2, y: (a.y + b.y) / 2});
const hole = (page, name) => placeOf(page, {hole: name});

/** Takes a part out of the parts box to a place of the page; then seats each lead where it belongs. */
async function placePart(page, hand, kind, name, at, leads) {
  await hand.drag(await placeOf(page, {box: kind}), {x: at.x, y: at.y + hand.lift});
  const placed = await part(page, name);
  assert.ok(placed, `${kind} dropped at ${JSON.stringify(at)} stands on the board`);
  for (const [lead, wanted] of Object.entries(leads)) {
    const now = (await part(page, name)).leads.find((one) => one.name === lead).hole;
    if (now === wanted) continue;
    await closeCard(page, hand);
    const to = await hole(page, wanted);
    await hand.drag(await placeOf(page, {part: name, lead}), {x: to.x, y: to.y + hand.leadLift});
  }
  assert.deepEqual(Object.fromEntries((await part(page, name)).leads.filter((one) => one.name in leads).map((one) => [one.name, one.hole])), leads);
}

/** The card of the chosen part may lie over what is wanted next: a person closes it first. */
async function closeCard(page, hand) {
  if (!(await ask(page, {do: 'point', widget: 'inspector'})).found) return;
  await hand.click(await placeOf(page, {widget: 'inspector.close'}));
  await settle(page);
}

async function wire(page, hand, from, to, name) {
  await closeCard(page, hand);
  const start = await hole(page, from), end = await hole(page, to);
  await hand.drag(start, end);
  const drawn = await part(page, name);
  assert.ok(drawn, `a wire from ${from} to ${to}`);
  assert.deepEqual(holesOf(drawn).sort(), [from, to].sort());
}

async function clickOn(page, hand, selector) {
  const box = await page.locator(selector).boundingBox();
  await hand.click({x: box.x + box.width / 2, y: box.y + box.height / 2});
}

async function build(page, hand) {
  const [e8, f10, b10, b15, e15, e16, rail] = await Promise.all(['e8', 'f10', 'b10', 'b15', 'e15', 'e16', 'top-5'].map((name) => hole(page, name)));
  await placePart(page, hand, 'usb-supply', 'PS1', {x: rail.x, y: rail.y - 4 * (f10.x - e8.x) / 2}, {'+': 'top+8', '-': 'top-7'});
  await placePart(page, hand, 'push-button', 'S1', middle(e8, f10), {1: 'e8', 2: 'f8', 3: 'e10', 4: 'f10'});
  await placePart(page, hand, 'resistor', 'R1', middle(b10, b15), {1: 'b10', 2: 'b15'});
  await placePart(page, hand, 'led', 'LED1', middle(e15, e16), {anode: 'e15', cathode: 'e16'});
  await wire(page, hand, 'top+6', 'a8', 'W1');
  await wire(page, hand, 'a16', 'top-13', 'W2');
}

/** Saves the board through the menu, as a person does. */
async function save(page, hand) {
  await clickOn(page, hand, '#menu-button');
  const [download] = await Promise.all([page.waitForEvent('download'), clickOn(page, hand, '[data-item="save"]')]);
  return download.path();
}

async function readLed(page) {
  await settle(page);
  return (await part(page, 'LED1')).reading;
}

async function mainJob(page, hand, label) {
  await clickOn(page, hand, '#empty-board');
  await settle(page);
  assert.equal((await words(page)).parts.length, 0);
  await build(page, hand);
  await settle(page);
  await picture(page, `${label}-built`);
  assert.equal((await readLed(page)).state, 'dark');

  const file = await save(page, hand);
  const expected = solve(file, '--set', 'S1=down').parts.LED1;
  assert.equal(expected.state, 'lit');
  await hand.down(await placeOf(page, {part: 'S1'}));
  const lit = await readLed(page);
  await picture(page, `${label}-lit`);
  assert.equal(lit.state, 'lit');
  assert.ok(Math.abs(lit.current / expected.current - 1) < 0.01, `page ${lit.current} A, terminal ${expected.current} A`);
  assert.ok(Math.abs(lit.voltage / expected.voltage - 1) < 0.01, `page ${lit.voltage} V, terminal ${expected.voltage} V`);
  await page.waitForFunction(() => document.querySelector('[data-key="LED1 led"] .state-word')?.textContent === 'lit');
  await hand.up();
  assert.equal((await readLed(page)).state, 'dark');

  const whole = readFileSync(file, 'utf8');
  assert.equal((await ask(page, {do: 'board'})).text, whole, 'a press leaves no trace in the document');
  let steps = 0;
  for (; (await words(page)).undo; ++steps) {
    assert.ok(steps < 100);
    await clickOn(page, hand, '.bar-button[aria-label^="Undo"]');
    await settle(page);
  }
  assert.equal((await words(page)).parts.length, 0, 'undone to the empty board');
  for (let again = 0; again < steps; ++again) {
    await clickOn(page, hand, '.bar-button[aria-label^="Redo"]');
    await settle(page);
  }
  assert.equal((await words(page)).redo, null);
  assert.equal((await ask(page, {do: 'board'})).text, whole, 'redone to the same board');
  assert.deepEqual(page.problems, []);
}

test('from an empty board to a lit LED and back with the mouse alone', {timeout: 600000}, async () => {
  const page = await open(browser, site.url);
  await mainJob(page, new Mouse(page), 'mouse');
  await page.context().close();
});

test('the same by touch', {timeout: 600000}, async () => {
  const page = await open(browser, site.url, {width: 1180, height: 820, touch: true});
  await mainJob(page, await Finger.of(page), 'touch');
  await page.context().close();
});
