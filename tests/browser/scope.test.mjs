// The oscilloscope in the page: its front under the mouse, its form controls under the keyboard, its words, and what it saves.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {before, test} from 'node:test';
import {Mouse, placeOf} from './hand.mjs';
import {ask, open, picture} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page;
stage(async (on) => {
  ({site, browser} = on);
  page = await open(browser, site.url);
});

const value = async (key) => (await ask(page, {do: 'words'})).parts.find((part) => part.name === 'OS1').values.find((one) => one.key === key);

async function openExample(name) {
  await page.click('#menu-button');
  await page.getByRole('button', {name}).click();
  await page.locator('.scope-screen').waitFor();
}

/** Waits until the measurement of a channel says so. */
const measured = (row, channel, text) => page.waitForFunction(
    ([r, c, t]) => document.querySelector('.scope-table')?.tBodies[0]?.rows[r]?.cells[c]?.textContent === t, [row, channel, text], {timeout: 8000});

test('the notebook tells what a known square wave and its filtered shape measure', async () => {
  await openExample('A scope on a filter');
  await measured(0, 1, '200 Hz');
  await measured(0, 2, '200 Hz');
  // 5 V through 10 kilohm on 0.1 µF, 2.5 ms each way: 5 V tanh(2.5 ms / 2 RC) = 4.24 V from peak to peak, closed form. The probe's 10 megohm take 0.1 %.
  const swing = await page.evaluate(() => document.querySelector('.scope-table').tBodies[0].rows[2].cells[2].textContent);
  assert.ok(Math.abs(parseFloat(swing) - 5 * Math.tanh(1.25)) < 0.03, swing);
  assert.match(await page.locator('.scope-screen').getAttribute('aria-label'), /triggered.*One square across is 1 ms.*1: 200 Hz, 5 V swing/);
  await picture(page, 'scope-1366x768');
});

test('a button of its front is pressed with the mouse, and a probe dragged to another hole', async () => {
  const mouse = new Mouse(page);
  const body = await ask(page, {do: 'point', part: 'OS1'});
  const canvas = await page.locator('#bench').boundingBox();
  const step = body.w / 21; // its case is 21 hole steps wide: shell/bench/pose.cpp
  await mouse.click({x: canvas.x + body.x + (9.95 - 0.49) * step, y: canvas.y + body.y + (-3.95 + 0.49) * step});
  assert.equal((await value('time-scale')).text, '2 ms');
  assert.equal(await page.locator('[data-value="time-scale"]').first().inputValue(), String((await value('time-scale')).number));
  await mouse.drag(await placeOf(page, {part: 'OS1', lead: 'probe-2'}), await placeOf(page, {hole: 'e4'}));
  const part = (await ask(page, {do: 'words'})).parts.find((one) => one.name === 'OS1');
  assert.equal(part.leads[1].hole, 'e4');
  await page.getByRole('button', {name: /^Undo/}).click();
  await page.getByRole('button', {name: /^Undo/}).click();
  assert.equal((await value('time-scale')).text, '1 ms');
});

test('every setting is reached and changed by the keyboard alone', async () => {
  const field = page.locator('.scope [data-value="time-scale"]');
  const before = String((await value('time-scale')).number);
  await page.waitForFunction((wanted) => document.querySelector('.scope [data-value="time-scale"]').value === wanted, before); // the form has followed the undo
  await field.focus();
  await page.keyboard.press('ArrowDown');
  assert.equal((await value('time-scale')).text, '2 ms');
  await page.keyboard.press('Tab');
  await page.keyboard.press('ArrowDown');
  assert.equal((await value('display')).text, 'strip-chart');
  await page.keyboard.press('ArrowUp');
  assert.equal((await value('display')).text, 'waves');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  assert.equal((await value('shown-1')).text, 'off');
  await page.keyboard.press('Space');
  await page.locator('.scope-more[data-more="trigger"] summary').focus();
  await page.keyboard.press('Enter');
  const level = page.locator('.scope [data-value="trigger-level"]');
  await level.focus();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('1.5');
  await page.keyboard.press('Tab');
  assert.equal((await value('trigger-level')).number, 1.5);
  await page.locator('.scope-more[data-more="cursors"] summary').focus();
  await page.keyboard.press('Enter');
  await page.locator('.scope [data-value="cursors"]').focus();
  for (let i = 0; i < 3; ++i) await page.keyboard.press('ArrowDown');
  await page.waitForFunction(() => document.querySelector('.scope-cursors').textContent.includes('From A to B: 8 ms (once in that time is 125 Hz). From C to D: 4 V.'));
  const all = await page.locator('.scope [data-value]').evaluateAll((fields) => fields.filter((f) => !f.closest('label')?.textContent.trim()).length);
  assert.equal(all, 0, 'each field has a label');
  await picture(page, 'scope-cursors');
  await page.locator('.scope [data-value="time-scale"]').focus();
  await page.keyboard.press('ArrowUp');
});

test('it catches one picture, says so, and takes the next only when asked', async () => {
  await page.locator('.scope [data-act="single"]').click();
  await page.waitForFunction(() => document.querySelector('.scope-screen').getAttribute('aria-label').includes('caught once'));
  await page.locator('.scope [data-act="single"]').click();
  await page.waitForFunction(() => document.getElementById('status').textContent.includes('OS1 has caught a picture'));
  await page.locator('.scope [data-act="run"]').click();
  assert.equal((await value('running')).text, 'held');
});

const saved = async (act) => {
  const [download] = await Promise.all([page.waitForEvent('download'), page.locator(`.scope [data-act="${act}"]`).click()]);
  return {name: download.suggestedFilename(), bytes: readFileSync(await download.path())};
};

test('the saved table holds the wave on the screen, the saved picture is one', async () => {
  const table = await saved('csv');
  assert.equal(table.name, 'os1-scope.csv');
  const [head, ...rows] = table.bytes.toString('utf8').trim().split('\r\n');
  assert.equal(head, 'time (s),channel 1 (V),channel 2 (V)');
  const numbers = rows.map((row) => row.split(',').map(Number));
  assert.ok(numbers.length > 40, `${numbers.length} rows`); // a machine under load takes fewer samples, never wrong ones
  const inside = numbers.filter(([time]) => time > 0.1e-3 && time < 2.4e-3); // the first half period behind the trigger
  assert.ok(inside.length > 4);
  assert.ok(inside.every(([, one]) => Math.abs(one - 5) < 0.03)); // the source has 50 ohm: up to 25 mV less
  // The filter's own law between two instants: v2 = 5 - (5 - v1) exp(-(t2 - t1) / RC), RC = 1 ms.
  const [first, last] = [inside[0], inside.at(-1)];
  const expected = 5 - (5 - first[2]) * Math.exp(-(last[0] - first[0]) / 1e-3);
  assert.ok(Math.abs(last[2] - expected) < 0.02, `${last[2]} ${expected}`);
  const image = await saved('png');
  assert.equal(image.name, 'os1-scope.png');
  assert.deepEqual([...image.bytes.subarray(0, 8)], [0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]);
  assert.equal(image.bytes.readUInt32BE(16), 1200);
  assert.deepEqual(page.problems, []);
});

test('a scope on a board at rest draws no frame', async () => {
  await openExample('A scope on the button');
  await page.waitForTimeout(4000); // its strip is two seconds long
  const before = await page.evaluate(() => window.__tiepoint.counts().frames);
  await page.waitForTimeout(1500);
  assert.equal(await page.evaluate(() => window.__tiepoint.counts().frames), before);
});
