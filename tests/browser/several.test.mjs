// Several parts with real mouse, keys and clipboard: selected, moved by a hole, copied within a board and into another tab; and the list of keys.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {isDeepStrictEqual} from 'node:util';
import {Mouse, placeOf} from './hand.mjs';
import {ask, open, picture, settle, violations} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page, mouse;
after(() => assert.deepEqual(page?.problems ?? [], []));
stage(async (on) => {
  ({site, browser} = on);
  page = await open(browser, site.url);
  mouse = new Mouse(page);
});

const words = (of = page) => ask(of, {do: 'words'});
const selection = async () => (await words()).selection;
const holes = async (name) => (await words()).parts.find((part) => part.name === name).leads.map((lead) => lead.hole);
const undoName = () => page.locator('.bar-button[aria-label^="Undo"]').getAttribute('aria-label');

/** A loaded machine may take a while to draw the frame that reads a key. */
async function becomes(read, expected) {
  let seen;
  for (let tries = 0; tries < 50; ++tries) {
    seen = await read();
    if (isDeepStrictEqual(seen, expected)) return;
    await new Promise((done) => setTimeout(done, 100));
  }
  assert.deepEqual(seen, expected);
}

async function press(key) {
  await page.keyboard.press(key);
  await settle(page);
}

async function selectTwo() {
  await press('Escape');
  await becomes(selection, []);
  await page.keyboard.down('Shift');
  await mouse.click(await placeOf(page, {part: 'R1'}));
  await mouse.click(await placeOf(page, {part: 'LED1'}));
  await page.keyboard.up('Shift');
  await becomes(selection, ['R1', 'LED1']);
}

test('Shift and click selects two, Alt and an arrow moves them by a hole without leaving the page', {timeout: 60000}, async () => {
  await page.focus('#bench');
  await selectTwo();
  await becomes(selection, ['R1', 'LED1']);
  await picture(page, 'several-two');
  const before = await holes('R1'), address = page.url();
  await press('Alt+ArrowLeft');
  await becomes(undoName, 'Undo: move R1 and LED1');
  assert.notDeepEqual(await holes('R1'), before);
  assert.equal(page.url(), address, 'it did not go back');
  await press('Control+z');
  await becomes(() => holes('R1'), before);
});

test('Shift and drag draws a box; a drag without Shift moves the view', {timeout: 60000}, async () => {
  await press('Escape');
  await press('Escape');
  const [a, b] = [await placeOf(page, {hole: 'a9'}), await placeOf(page, {hole: 'e17'})];
  await page.keyboard.down('Shift');
  await mouse.drag({x: a.x - 8, y: a.y - 8}, {x: b.x + 8, y: b.y + 8});
  await page.keyboard.up('Shift');
  await becomes(selection, ['R1', 'LED1']);
});

test('Ctrl+D duplicates instead of making a bookmark; one undo takes both copies away', {timeout: 60000}, async () => {
  await selectTwo();
  await press('Control+d');
  await becomes(selection, ['R2', 'LED2']);
  await becomes(undoName, 'Undo: place R2 and LED2');
  await press('Control+z');
  await becomes(async () => (await words()).parts.some((part) => part.name === 'R2'), false);
});

test('Ctrl+A and Ctrl+C here, Ctrl+V in another tab: the same parts in their holes', {timeout: 90000}, async () => {
  await press('Control+a');
  await becomes(() => page.locator('#several p').textContent(), '6 parts selected: PS1, W1 and 4 more');
  await press('Control+c');
  const other = await page.context().newPage();
  await other.goto(`${site.url}?test=1`);
  await other.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
  await other.click('#empty-board');
  await other.focus('#bench');
  await other.keyboard.press('Control+v');
  await settle(other);
  const strip = ({parts}) => parts.map(({name, kind, leads}) => [name, kind, leads.map((lead) => lead.hole)]);
  await becomes(async () => strip(await words(other)), strip(await words()));
  await other.close();
  await page.bringToFront();
});

test('a clipboard that holds no parts is refused in words and changes nothing', {timeout: 60000}, async () => {
  const before = (await words()).parts.length;
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData('text/plain', 'The lamp is lit at dusk');
    document.getElementById('bench').dispatchEvent(new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
  });
  assert.match(await page.locator('#toast').textContent(), /holds no parts for this bench/);
  assert.equal((await words()).parts.length, before);
  await page.locator('#toast button').click();
});

test('Ctrl+X and Ctrl+V: cut parts come back under their names', {timeout: 60000}, async () => {
  await page.focus('#bench');
  await selectTwo();
  const before = await holes('R1');
  await press('Control+x');
  await becomes(undoName, 'Undo: remove R1 and LED1');
  await press('Control+v');
  await becomes(() => holes('R1'), before);
});

test('? lists every key of the table, Escape closes it and the bench has the keyboard again', {timeout: 60000}, async () => {
  await page.focus('#bench');
  await page.keyboard.press('?');
  assert.equal(await page.locator('#shortcuts').isVisible(), true);
  const {shortcuts} = await ask(page, {do: 'shortcuts'});
  assert.equal(await page.locator('#shortcuts [data-shortcut]').count(), shortcuts.length);
  assert.deepEqual(await violations(page), []);
  await picture(page, 'shortcuts');
  await page.keyboard.press('Escape');
  assert.equal(await page.locator('#shortcuts').isVisible(), false);
  assert.equal(await page.evaluate(() => document.activeElement.id), 'bench');
  await page.click('#menu-button');
  await page.click('[data-item="shortcuts"]');
  assert.equal(await page.locator('#shortcuts').isVisible(), true, 'also from the menu');
  await page.click('#shortcuts-close');
});
