// The whole main job with the keyboard alone, in the notebook: nothing on the canvas is touched.
import assert from 'node:assert/strict';
import {before, test} from 'node:test';
import {ask, open, picture, settle} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page;
stage(async (on) => {
  ({site, browser} = on);
  page = await open(browser, site.url);
});

const words = () => ask(page, {do: 'words'});
const led = async () => (await words()).parts.find((part) => part.name === 'LED1').reading;

/** Tab until the wanted thing has the focus. */
async function tabTo(selector, key = 'Tab') {
  for (let i = 0; i < 150; ++i) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted), selector)) return;
    await page.keyboard.press(key);
  }
  assert.fail(`the keyboard does not reach ${selector}`);
}

async function place(kind, holes) {
  await tabTo('#add-kind');
  await page.keyboard.type(kind, {delay: 5});
  for (const [at, hole] of holes.entries()) {
    await tabTo(`#add-hole-${at}`);
    await page.keyboard.type(hole);
  }
  const before = (await words()).parts.length;
  await page.keyboard.press('Enter');
  assert.equal((await words()).parts.length, before + 1, `${kind} in ${holes}: ${await page.locator('#add-answer').textContent()}`);
  await page.keyboard.press('Shift+Tab');
  await tabTo('#add-kind', 'Shift+Tab');
}

test('F6 goes from the bench to the notebook and back', async () => {
  await tabTo('#bench');
  await page.keyboard.press('F6');
  assert.equal(await page.evaluate(() => document.getElementById('notebook').contains(document.activeElement)), true);
  await page.keyboard.press('F6');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'bench');
  await page.keyboard.press('F6');
});

test('supply, button, resistor, LED and wires by keyboard light the LED', {timeout: 120000}, async () => {
  await tabTo('#empty-board');
  await page.keyboard.press('Enter');
  await settle(page);
  await place('USB', ['top+8', 'top-7']);
  await place('Push', ['e8']);
  await place('Resistor', ['b10', 'b15']);
  await place('LED', ['c15', 'c16']);
  await place('Jumper', ['top+6', 'a8']);
  await place('Jumper', ['a16', 'top-13']);
  await settle(page);
  assert.equal((await led()).state, 'dark');
  await tabTo('[data-key="S1 push-button"] [data-act="hold"]', 'Shift+Tab');
  await page.keyboard.down('Enter');
  await settle(page);
  assert.equal((await led()).state, 'lit');
  await page.waitForFunction(() => /LED1 lit/.test(document.getElementById('status').textContent), undefined, {timeout: 3000});
  await picture(page, 'keyboard-lit');
  await page.keyboard.up('Enter');
  await settle(page);
  assert.equal((await led()).state, 'dark');
});

test('a value is set, a part swapped, moved and removed by keyboard', {timeout: 60000}, async () => {
  await tabTo('[data-key="R1 resistor"] .part-select');
  await page.keyboard.press('Enter');
  await settle(page);
  await tabTo('[data-key="R1 resistor"] input[data-value="resistance"]');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('4k7');
  await page.keyboard.press('Enter');
  await settle(page);
  const r1 = async () => (await words()).parts.find((part) => part.name === 'R1');
  assert.equal((await r1()).values.find((value) => value.key === 'resistance').number, 4700);
  await tabTo('[data-key="R1 resistor"] [data-act="turn"]');
  await page.keyboard.press('Enter');
  assert.deepEqual((await r1()).leads.map((lead) => lead.hole), ['b15', 'b10']);
  await tabTo('[data-key="R1 resistor"] input[data-lead="0"]', 'Shift+Tab');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('b16');
  await page.keyboard.press('Enter');
  assert.deepEqual((await r1()).leads.map((lead) => lead.hole), ['b16', 'b10']);
  // The keyboard is in the field before the words have followed the board.
  await page.evaluate(() => {
    const row = document.querySelector('[data-key="R1 resistor"]');
    row.querySelector('[data-act="turn"]').click();
    row.querySelector('[data-lead="0"]').focus();
  });
  await settle(page);
  assert.deepEqual(await page.evaluate(() => [...document.querySelectorAll('[data-key="R1 resistor"] [data-lead]')].map((field) => field.value)),
                   ['b10', 'b16'], 'fields follow the board while nobody writes in them');
  await tabTo('[data-key="R1 resistor"] [data-step="left"]');
  await page.keyboard.press('Enter');
  assert.deepEqual((await r1()).leads.map((lead) => lead.hole), ['b9', 'b15']);
  await page.waitForFunction(() => /R1 one hole to the left/.test(document.getElementById('status').textContent), undefined, {timeout: 3000});
  await tabTo('[data-key="R1 resistor"] [data-act="remove"]');
  await page.keyboard.press('Enter');
  await settle(page);
  assert.equal(await r1(), undefined);
  assert.equal(await page.evaluate(() => document.getElementById('notebook').contains(document.activeElement)), true, 'the keyboard is not thrown out');
});

test('a hole that does not exist is refused in words and the field is marked', async () => {
  await tabTo('#add-kind');
  await page.keyboard.type('Resistor', {delay: 5});
  await tabTo('#add-hole-0');
  await page.keyboard.type('z99');
  await page.keyboard.press('Enter');
  assert.match(await page.locator('#add-answer').textContent(), /no hole called "z99"/);
  assert.equal(await page.locator('#add-hole-0').getAttribute('aria-invalid'), 'true');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'add-hole-0');
});

test('what is joined with a hole is told in words', async () => {
  await tabTo('#joined-hole');
  await page.keyboard.type('e8');
  await page.keyboard.press('Enter');
  assert.match(await page.locator('#joined-answer').textContent(), /^e8 is one piece of metal with .*a8 to e8/);
});

test('the hole cursor says where it comes to rest, and the bench what was done, in one short sentence', {timeout: 60000}, async () => {
  const status = async (pattern) => {
    const told = page.waitForFunction((wanted) => new RegExp(wanted).test(document.getElementById('status').textContent), pattern, {timeout: 3000});
    await told.catch(async () => assert.fail(`“${await page.locator('#status').textContent()}” in place of ${pattern}`));
  };
  await ask(page, {do: 'select', part: ''});
  await page.locator('#bench').focus();
  await page.keyboard.type('j25', {delay: 30});
  await status('j25, free$');
  await page.keyboard.type('c16', {delay: 30});
  await status('^c16, lead cathode .* of LED1');
  await page.keyboard.press('ArrowDown');  // right after an address
  await status('^d16, free, joined with');
  await page.keyboard.press('Enter');
  await status('now the hole for its second lead');
  await page.keyboard.type('c16', {delay: 30});
  await page.keyboard.press('Enter');
  await status('c16 already');
  await page.keyboard.type('d20', {delay: 30});  // the wire is still in the hand
  await page.keyboard.press('Enter');
  await status('W3 placed');
  await page.keyboard.press('Control+z');
  await status('W3');
  await page.keyboard.press('Escape');
});

test('the values are read out on request, not by themselves', async () => {
  await tabTo('#read');
  const before = await page.locator('#values').textContent();
  assert.equal(before, '');
  await page.keyboard.press('Enter');
  assert.match(await page.locator('#values').textContent(), /LED1: /);
});

test('a part is searched by its purpose from the bench, its value in the notebook, and both come to hand with it', {timeout: 60000}, async () => {
  await page.focus('#bench');
  await page.keyboard.press('/');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'search');
  await page.keyboard.type('4.7 k');
  await settle(page);
  const field = page.locator('#search');
  assert.equal(await field.getAttribute('aria-expanded'), 'true');
  const option = () => field.evaluate((node) => document.getElementById(node.getAttribute('aria-activedescendant')).textContent);
  assert.equal(await option(), 'Resistor, 4.7 kΩ');
  assert.equal((await ask(page, {do: 'point', box: 'led'})).found, false, 'the box shows what is found alone');
  await page.keyboard.press('ArrowDown');
  assert.notEqual(await option(), 'Resistor, 4.7 kΩ');
  await page.keyboard.press('ArrowUp');
  await picture(page, 'search');
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'bench');
  const before = (await words()).parts.map(({name}) => name);
  for (const hole of ['i20', 'i25']) {
    await page.keyboard.type(hole, {delay: 40});
    await settle(page);
    await page.keyboard.press('Enter');
    await settle(page);
  }
  const added = (await words()).parts.find(({name}) => !before.includes(name));
  assert.deepEqual([added?.kind, added?.values.find(({key}) => key === 'resistance').text, added?.leads.map(({hole}) => hole).join()], ['resistor', '4.7 kΩ', 'i20,i25']);
  assert.equal(await page.locator('#search').inputValue(), '');

  await page.fill('#add-find', 'timer');
  assert.match(await page.locator('#add-kind option:checked').textContent(), /555/);
  await page.fill('#add-find', '10k');
  assert.equal(await page.locator('#add-kind').inputValue(), 'resistor');
  assert.equal(await page.locator('#add-resistance').inputValue(), '10 kΩ');
  await page.fill('#add-find', 'nosuchthing');
  assert.equal(await page.locator('#add-find-hint').textContent(), 'Nothing found');
  await page.fill('#add-find', '');
  assert.equal(await page.locator('#add-kind optgroup').first().getAttribute('label'), 'Recently used');
});
