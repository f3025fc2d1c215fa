// A learner takes a lesson in the page: by its address, with a wrong prediction, a typical mistake and its hint, a reload in between, and
// home again to the own board. All by real keys, clicks and touches.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {copyFileSync, mkdtempSync, readFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {Mouse, placeOf} from './hand.mjs';
import {ask, frames, open, picture, root, settle, violations} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page;
stage(async (on) => {
  ({site, browser} = on);
  page = await open(browser, site.url, {address: '?test=1&lesson=first-lamp'});
});

const text = (selector) => page.locator(selector).innerText();
const step = () => text('#lesson-step');
const parts = async () => (await ask(page, {do: 'words'})).parts;
const supplyOn = async () => (await parts()).some((part) => part.supply && part.values.some((value) => value.key === 'on' && value.number === 1));

/** Through the page's own way of opening files. */
async function load(name) {
  await page.click('#menu-button');
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('[data-item="open"]')]);
  await chooser.setFiles(join(root, `tests/lessons/${name}.board.json`));
  await page.waitForFunction(() => window.__tiepoint.bench.call({do: 'words'}).parts.length > 3);
}

/** Places a part with the notebook's form, by keys alone. */
async function place(kind, holes) {
  await page.selectOption('#add-kind', kind);
  for (const [at, hole] of holes.entries()) {
    await page.focus(`#add-hole-${at}`);
    await page.keyboard.type(hole);
  }
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.getElementById('add-answer')?.dataset.look === 'good');
}

test('the address opens the lesson: its first step, its parts alone, and the own board put aside', async () => {
  assert.equal(await text('#lesson-title'), 'The first lamp');
  assert.equal(await step(), 'One small light');
  assert.equal((await parts()).length, 0);
  const box = await page.$$eval('#add-kind option', (options) => options.map((option) => option.value));
  assert.deepEqual(box.sort(), ['jumper-wire', 'led', 'meter', 'resistor', 'usb-supply']);
  assert.equal((await ask(page, {do: 'point', box: 'resistor'})).found, true);
  assert.equal((await ask(page, {do: 'point', box: 'push-button'})).found, false);
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'lesson-title');
  assert.deepEqual(await violations(page), []);
  await picture(page, 'lesson-read');
});

test('before the prediction no hand switches the supply on, and the page says why', async () => {
  await page.focus('#lesson-next');
  await page.keyboard.press('Enter');
  assert.equal(await step(), 'Which side?');
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'lesson-step');
  await place('usb-supply', ['top+1', 'top-1']);
  assert.equal(await supplyOn(), false);
  await settle(page);
  const mouse = new Mouse(page);
  await mouse.click(await placeOf(page, {widget: 'control.PS1'}));
  await page.waitForFunction(() => /answer the question/.test(document.getElementById('status')?.textContent ?? ''));
  const seen = await page.locator('#lesson-locked').boundingBox();
  assert.ok(seen && seen.y > 44 && seen.y + seen.height < 768, 'the reason is in sight');
  assert.equal(await supplyOn(), false);
  await picture(page, 'lesson-predict-locked');
});

test('a wrong prediction counts, is answered, and cannot be changed; then the supply may be switched on', async () => {
  await page.focus('#lesson-answer');
  await page.keyboard.press('Enter');
  assert.match(await text('#lesson-answer-problem'), /Choose/);
  await page.focus('input[value="burns"]');
  await page.keyboard.press('Space');
  await page.focus('#lesson-answer');
  await page.keyboard.press('Enter');
  assert.match(await text('#lesson-reply'), /one current/);
  assert.equal(await page.locator('input[value="same"]').isDisabled(), true);
  await page.waitForFunction(() => /one current/.test(document.getElementById('status')?.textContent ?? ''));
  await page.click('#lesson-on');
  assert.equal(await supplyOn(), true);
  await picture(page, 'lesson-predicted');
});

test('an LED the wrong way round is found, shown on the bench, and gets its hint', async () => {
  await page.click('#lesson-next');
  assert.equal(await step(), 'Build it');
  await load('first-lamp.slip');
  await page.waitForFunction(() => /lamp does not shine/.test(document.getElementById('lesson-fail')?.textContent ?? ''));
  await page.click('#lesson-show');
  assert.deepEqual((await ask(page, {do: 'words'})).selection, ['LED1']);
  await page.click('#lesson-hint');
  await page.click('#lesson-hint');
  assert.match(await text('#lesson-hints'), /which way round the LED stands/);
  assert.equal(await page.locator('#lesson-next').getAttribute('aria-disabled'), 'true');
  await settle(page);
  assert.deepEqual(await violations(page), []);
  await picture(page, 'lesson-mistake');
});

test('turned round by the notebook it passes at once and is announced', async () => {
  await page.click('[data-key="LED1 led"] [data-act="turn"]');  // its row is open: it was shown on the bench
  await page.waitForFunction(() => document.getElementById('lesson-count')?.textContent === 'Everything is as it should be.');
  await page.waitForFunction(() => /Step done: Build it/.test(document.getElementById('status')?.textContent ?? ''));
  assert.equal(await page.locator('#lesson-next').getAttribute('aria-disabled'), null);
  await picture(page, 'lesson-passed');
});

test('a reload finds the same step, the same board and the same answer', async () => {
  await page.waitForTimeout(900); // progress is kept a moment after the last change
  await page.reload();
  await page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
  await page.waitForSelector('#lesson:not([hidden])');
  assert.equal(await step(), 'Build it');
  assert.equal((await parts()).length, 5);
  assert.equal(await page.locator('#lesson-next').getAttribute('aria-disabled'), null);
  await page.locator('.lesson-dot').nth(1).click();
  assert.equal(await page.locator('input[value="burns"]').isChecked(), true);
  assert.equal(await page.locator('input[value="same"]').isDisabled(), true);
});

test('leaving is one click and the own board is back; the list knows what was begun', async () => {
  await page.click('#lesson-leave');
  assert.equal(await page.locator('#lesson').isHidden(), true);
  assert.ok((await parts()).some((part) => part.name === 'S1'));
  assert.equal(new URL(page.url()).searchParams.has('lesson'), false);
  await page.click('#take-lesson');
  await page.waitForSelector('[data-lesson="first-lamp"] [data-look="begun"]');
  assert.equal(await page.locator('.course-row').count(), 15);
  assert.deepEqual(await violations(page), []);
  await picture(page, 'lesson-course');
  assert.deepEqual(page.problems, []);
});

test('the own board is recorded as a lesson that the terminal program finds in order', async () => {
  const [file] = await Promise.all([page.waitForEvent('download'), page.click('#course-record')]);
  assert.match(file.suggestedFilename(), /\.lesson\.json$/);
  const path = await file.path();
  const lesson = JSON.parse(readFileSync(path, 'utf8'));
  assert.deepEqual(lesson.steps[1].checks.map(({check}) => check), ['truth', 'reading', 'shape', 'no-faults']);
  assert.deepEqual(lesson.steps[1].checks[0].works, ['1']);
  const copy = join(mkdtempSync(join(tmpdir(), 'lesson-')), 'recorded.lesson.json');
  copyFileSync(path, copy);
  assert.match(execFileSync(process.env.TIEPOINT_PROGRAM ?? join(root, 'build/native/tiepoint'), ['lesson', 'check', copy], {encoding: 'utf8'}), /in order/);
});

for (const [name, size] of Object.entries({tablet: {width: 820, height: 1180, touch: true}, phone: {width: 360, height: 640, touch: true}}))
  test(`on a ${name} the lesson is read and answered by touch, nothing sticks out`, async () => {
    const small = await open(browser, site.url, {...size, address: '?test=1&lesson=first-lamp'});
    await picture(small, `lesson-${name}-read`);
    await small.tap('#lesson-next');
    await small.tap('.lesson-choice:has([value="same"])');
    await small.tap('#lesson-answer');
    await frames(small, 3);
    assert.match(await small.locator('#lesson-reply').innerText(), /Yes/);
    const out = await small.evaluate(() => [...document.querySelectorAll('#lesson *')].filter((node) => node.getBoundingClientRect().right > innerWidth + 1).length);
    assert.equal(out, 0);
    await picture(small, `lesson-${name}-answered`);
    assert.deepEqual(small.problems, []);
    await small.context().close();
  });
