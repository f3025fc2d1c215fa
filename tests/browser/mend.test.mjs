// Broken boards, mended by somebody who only does what the notebook says: opened from a file, asked what is wrong, asked deeper, mended with
// its button. The last one burns its LED first, as in life.
import assert from 'node:assert/strict';
import {readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {placeOf} from './hand.mjs';
import {ask, open, picture, root, settle} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page, folder;
stage(async (on) => {
  ({site, browser, folder} = on);
  page = await open(browser, site.url);
}, {folder: 'boards-'});

const example = (name) => JSON.parse(readFileSync(join(root, `examples/${name}.board.json`), 'utf8'));
const one = (board, name) => board.parts.find((part) => part.name === name);
const spoiled = (change) => {
  const board = example('one-button');
  change(board);
  return board;
};

async function openBoard(board) {
  const path = join(folder, 'broken.board.json');
  writeFileSync(path, JSON.stringify(board));
  await page.click('#menu-button');
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('[data-item="open"]')]);
  await chooser.setFiles(path);
  await page.waitForFunction((title) => window.__tiepoint.bench.call({do: 'words'}).title === title, board.title);
  await settle(page);
  if (!(await page.locator('#why').getAttribute('open').then((value) => value !== null))) await page.click('#why > summary');
}

/** Does what the first finding says until there is none; what was said, in order. */
async function mend() {
  const said = [];
  for (let look = 0; look < 4; ++look) {
    await settle(page);
    const first = page.locator('#findings > li').first();
    if ((await first.count()) === 0) return said;
    for (let deeper = 0; deeper < 2; ++deeper) if (await page.locator('#finding-deeper-0').count()) await page.click('#finding-deeper-0');
    assert.ok((await ask(page, {do: 'view'})).flags > 0, 'a flag on the bench');
    said.push((await first.innerText()).replace(/\s+/g, ' '));
    await page.click('#finding-apply-0');
  }
  return said;
}

const states = async () => Object.fromEntries((await ask(page, {do: 'words'})).parts.map((part) => [part.name, part.reading.state]));

/** Holds the button down with the mouse and tells what the lamp does meanwhile. */
async function whilePressed(name, then) {
  const at = await placeOf(page, {part: name});
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.waitForTimeout(300);
  const result = await then();
  await page.mouse.up();
  await settle(page);
  return result;
}

const cases = {
  'a turned LED': [example('led-reversed'), /LED1/],
  'a resistor one strip off': [spoiled((board) => (one(board, 'R1').leads['2'] = 'b14')), /R1/],
  'a missing way back': [spoiled((board) => (board.parts = board.parts.filter((part) => part.name !== 'W2'))), /minus|back|return/i],
  'a dead resistor': [spoiled((board) => (one(board, 'R1').defect = {kind: 'open', bore: 2.1, rating: 0.25, seconds: 3, unit: 'W'})), /R1 is burnt out: 2.1 W in a part for 250 mW, for 3 s/],
};

for (const [name, [board, words]] of Object.entries(cases)) {
  test(`the notebook alone mends ${name}`, {timeout: 30000}, async () => {
    await openBoard(board);
    const said = await mend();
    assert.ok(said.length >= 1 && said.length <= 2, said.join(' | '));
    assert.match(said.join(' '), words);
    const lit = await whilePressed('S1', states);
    assert.equal(lit.LED1, 'lit', JSON.stringify(lit));
  });
}

test('an LED without its resistor burns out, and the notebook alone puts both right', {timeout: 40000}, async () => {
  const board = example('no-resistor');
  await openBoard(board);
  await whilePressed('S1', () => page.waitForFunction(() => window.__tiepoint.bench.call({do: 'words'}).parts.some((part) => part.reading.state === 'broken'), null, {timeout: 15000}));
  await settle(page);
  await picture(page, 'burnt-led');
  const said = await mend();
  assert.match(said.join(' '), /LED1 is burnt out/);
  assert.equal((await whilePressed('S1', states)).LED1, 'lit');
  assert.deepEqual(page.problems, []);
});

test('who hunts a hidden fault writes down what they guess and measure, and undo takes it back', {timeout: 30000}, async () => {
  await openBoard(example('one-button'));
  assert.equal(await page.isVisible('#hunt'), false);
  await page.click('#menu-button');
  await page.click('[data-item="life-hide"]');
  await page.waitForSelector('#hunt');
  await page.fill('#hunt-text', 'R1 lets nothing through');
  await page.press('#hunt-text', 'Enter');
  await page.selectOption('#hunt-kind', 'measurement');
  await page.fill('#hunt-text', 'no tone across R1');
  await page.click('#hunt-add');
  await page.waitForFunction(() => document.querySelectorAll('.hunt-log li').length === 2);
  assert.deepEqual(await page.locator('.hunt-log li').allTextContents(), ['My guess: R1 lets nothing through', 'I measured: no tone across R1']);
  assert.deepEqual(JSON.parse((await ask(page, {do: 'board'})).text).hunt.map((entry) => entry.what), ['guess', 'measurement']);
  await picture(page, 'hunt-log');
  await page.getByRole('button', {name: /^undo/i}).first().click();
  await page.waitForFunction(() => document.querySelectorAll('.hunt-log li').length === 1);
});

test('a teacher hides a fault of her choice: the list follows the place, the board looks whole, the file does not tell', {timeout: 30000}, async () => {
  await openBoard(example('one-button'));
  await page.click('#menu-button');
  await page.click('[data-item="life-choose"]');
  await page.waitForSelector('#hide[open]');
  assert.deepEqual(await page.locator('#hide-where option').allTextContents(), ['W1', 'S1', 'R1', 'LED1', 'W2', 'Rail top−', 'Rail top+', 'Rail bottom−', 'Rail bottom+']);
  await page.selectOption('#hide-where', 'Rail top+');
  assert.deepEqual(await page.locator('#hide-what option').allTextContents(), ['cracked in the middle']);
  await page.selectOption('#hide-where', 'R1');
  await page.selectOption('#hide-what', {label: '1000 times the value printed on it'});
  await picture(page, 'hide-a-fault');
  await page.click('#hide-do');
  assert.equal(await page.textContent('#hide-told'), 'Hidden: R1, 1000 times the value printed on it.');
  assert.equal((await page.locator('#hide-where option').allTextContents()).includes('R1'), false, 'one fault a part');
  await page.keyboard.press('Escape');
  await page.waitForSelector('#hide', {state: 'detached'});
  const {text} = await ask(page, {do: 'board'});
  assert.match(text, /"sealed":"[0-9a-f]+"/);
  assert.doesNotMatch(text, /off-value/);
  await page.waitForSelector('#hunt');
  await ask(page, {do: 'press', part: 'S1', down: true});
  await settle(page);
  assert.notEqual((await states()).LED1, 'lit');
  assert.deepEqual(page.problems, []);
});
