// A learner takes a lesson in the page: by its address, with a wrong prediction, a typical mistake and its hint, a reload in between, and
// home again to the own board. All by real keys, clicks and touches.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {test} from 'node:test';
import {deflateRawSync} from 'node:zlib';
import {Mouse, placeOf} from './hand.mjs';
import {ask, frames, open, picture, root, settle, violations} from './site.mjs';
import {stage} from './stage.mjs';
import {startLesson, walk} from './walk.mjs';

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

/** A folder as a ZIP file (APPNOTE 6.3): local headers and packed files, central directory, end record. */
function zipOf(above, folder) {
  const locals = [], central = [];
  let at = 0;
  for (const name of readdirSync(join(above, folder)).sort()) {
    const path = Buffer.from(`${folder}/${name}`), content = readFileSync(join(above, folder, name)), packed = deflateRawSync(content);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0), common.writeUInt16LE(8, 4), common.writeUInt32LE(checksum(content), 10);
    common.writeUInt32LE(packed.length, 14), common.writeUInt32LE(content.length, 18), common.writeUInt16LE(path.length, 22);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(at, 10);
    locals.push(Buffer.from('PK\x03\x04'), common, path, packed);
    central.push(Buffer.from('PK\x01\x02\x14\0'), common, place, path);
    at += 30 + path.length + packed.length;
  }
  const directory = Buffer.concat(central), end = Buffer.alloc(18), count = locals.length / 4;
  end.writeUInt16LE(count, 4), end.writeUInt16LE(count, 6), end.writeUInt32LE(directory.length, 8), end.writeUInt32LE(at, 12);
  return Buffer.concat([...locals, directory, Buffer.from('PK\x05\x06'), end]);
}
const centralOf = (zip) => zip.indexOf('PK\x01\x02', 0, 'latin1');
const nextCentral = (zip) => zip.indexOf('PK\x01\x02', centralOf(zip) + 4, 'latin1');

/** CRC-32 (ISO 3309), bit by bit. @param {Buffer} bytes */
function checksum(bytes) {
  let c = 0xffffffff;
  for (const byte of bytes) {
    c ^= byte;
    for (let bit = 0; bit < 8; ++bit) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
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

test('the own board is recorded as a lesson, and written on without code; what is wrong is said at its field', async () => {
  await page.click('#course-record');
  await page.waitForFunction(() => document.getElementById('author-state')?.dataset.look === 'good');
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'author-heading');
  await page.fill('#author-title', 'A bell for the keeper');
  await page.focus('#author-1-summary');
  await page.keyboard.press('Enter');
  await page.fill('#author-1-text', 'Press, and **light** comes.\n\n- one\n- two');
  await page.locator('.author-step').nth(1).locator('details summary', {hasText: 'How it will look'}).click();
  await page.waitForFunction(() => document.querySelectorAll('.author-preview li').length === 2);
  await page.fill('#author-1-check-1-between-least', '30 mA');
  await page.fill('#author-1-check-1-between-most', '40 mA');
  await page.waitForFunction(() => /expected 30 mA to 40 mA/.test(document.querySelector('#problem-steps-1-checks-1')?.textContent ?? ''));
  assert.match(await text('#author-state'), /One thing is not in order/);
  await page.waitForFunction(() => /One thing is not in order/.test(document.getElementById('status')?.textContent ?? ''));
  await page.fill('#author-1-check-1-between-most', '4,5 x');
  await page.waitForFunction(() => document.querySelector('#author-1-check-1-between-least')?.getAttribute('aria-invalid') === 'true');
  assert.deepEqual(await violations(page), []);
  await picture(page, 'author-fault');
  await page.fill('#author-1-check-1-between-least', '5 mA');
  await page.fill('#author-1-check-1-between-most', '15 mA');
  await page.locator('label', {hasText: 'meet as on your board'}).click();
  await page.waitForFunction(() => document.getElementById('author-state')?.dataset.look === 'good');
});

test('a prediction is added and moved by keys, and the whole is tried as a learner at once', async () => {
  await page.selectOption('#author-add-kind', 'predict');
  await page.focus('#author-add');
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'author-3-title');
  await page.fill('#author-3-question-ask', 'What will the lamp do?');
  await page.fill('#author-3-question-0-text', 'Shine');
  await page.fill('#author-3-question-1-text', 'Stay dark');
  for (let n = 0; n < 2; ++n) {
    await page.focus(`#author-${3 - n}-up`);
    await page.keyboard.press('Enter');
  }
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'author-1-up');
  await page.focus('#author-try');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#lesson:not([hidden])');
  assert.equal(await text('#lesson-title'), 'A bell for the keeper');
  await page.click('#lesson-next');
  assert.equal(await page.locator('#lesson-locked').isVisible(), true);
  await picture(page, 'author-try');
  await page.click('#lesson-leave');
  await page.waitForSelector('#author:not([hidden])');
  assert.ok((await parts()).some((part) => part.name === 'S1'), 'the own board is back');
});

test('the file is what the terminal program finds in order, and it opens again for writing', async () => {
  const [file] = await Promise.all([page.waitForEvent('download'), page.click('#author-download')]);
  assert.equal(file.suggestedFilename(), 'a-bell-for-the-keeper.lesson.json');
  const copy = join(mkdtempSync(join(tmpdir(), 'lesson-')), file.suggestedFilename());
  await file.saveAs(copy);
  const lesson = JSON.parse(readFileSync(copy, 'utf8'));
  assert.deepEqual(lesson.steps.map(({kind}) => kind), ['read', 'predict', 'build', 'free']);
  assert.deepEqual(lesson.steps[2].checks.map(({check}) => check), ['truth', 'reading', 'no-faults']);
  assert.deepEqual(lesson.steps[2].checks[1].between, [0.005, 0.015]);
  assert.match(execFileSync(process.env.TIEPOINT_PROGRAM ?? join(root, 'build/native/tiepoint'), ['lesson', 'check', copy], {encoding: 'utf8'}), /in order/);
  await page.click('#author-shut');
  await page.click('#take-lesson');
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('#course-open')]);
  await chooser.setFiles(copy);
  await page.click('#own-edit');
  assert.equal(await page.locator('#author-title').inputValue(), 'A bell for the keeper');
  await page.click('#author-shut');
  assert.deepEqual(page.problems, []);
});

// Voltage divider rule: 9 V over 20 kilohm and 10 kilohm leave 3 V; of E12 22 kilohm is nearest by ratio.
test('which value? is answered in the notebook with the formula and its numbers, by keys', async () => {
  await page.locator('#size > summary').click();
  await page.selectOption('#size-what', 'divider');
  await page.fill('#size-supply', '9 V');
  await page.focus('#size-do');
  await page.keyboard.press('Enter');
  assert.match(await text('#size-problem'), /does not fit here/);
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'size-wanted');
  assert.equal(await page.locator('#size-wanted').getAttribute('aria-invalid'), 'true');
  await page.keyboard.type('3');
  await page.keyboard.press('Enter');
  assert.match(await text('#size-formula'), /10 kΩ × \(9 V − 3 V\) ÷ 3 V = 20 kΩ/);
  assert.match(await text('#size-rows [data-nearest="true"]'), /22 kΩ: 2.81 V/);
  assert.equal(await page.locator('#size-rows li').count(), 3);
  assert.deepEqual(await violations(page), []);
  await picture(page, 'which-value');
  await page.locator('#size > summary').click();
});

test('on the marking table a class from a ZIP file is judged as tiepoint grade judges it', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'class-'));
  mkdirSync(join(folder, 'class'));
  for (const [name, from] of Object.entries({'ann': 'two-hands.right', 'ben': 'two-hands.right', 'cleo': 'two-hands.slip'}))
    copyFileSync(join(root, `tests/lessons/${from}.board.json`), join(folder, `class/${name}.board.json`));
  writeFileSync(join(folder, 'class/dora.board.json'), '{ broken');
  writeFileSync(join(folder, 'class/ann.progress.json'), JSON.stringify({tiepoint: 'progress', version: 1, lesson: 'two-hands', help: 'parts',
    steps: [{id: 'one-only', answer: 'half', answers: 1, tags: ['L1'], seconds: 30}, {id: 'both', hints: 2, tries: 3, seconds: 65}]}));
  writeFileSync(join(folder, 'class.zip'), zipOf(folder, 'class'));
  const marking = await browser.newPage({viewport: {width: 1366, height: 768}});
  await marking.goto(`${site.url}marking.html?lesson=two-hands`);
  await marking.waitForFunction(() => /Now the hand-ins/.test(document.getElementById('marking-sum')?.textContent ?? ''));
  await marking.setInputFiles('#marking-files', join(folder, 'class.zip'));
  await marking.waitForSelector('#marks tbody tr');
  const cells = (column) => marking.$$eval(`#marks tbody [data-column="${column}"]`, (all) => all.map((one) => one.textContent));
  assert.deepEqual(await cells('name'), ['ann', 'ben', 'cleo', 'dora']);
  assert.deepEqual(await cells('result'), ['passed', 'passed', 'not yet', 'not readable']);
  assert.match((await cells('like'))[1], /^Like ann\. All 9 parts stand in the same holes\. It is the same circuit\. 4 of 4 wires/);
  const [file] = await Promise.all([marking.waitForEvent('download'), marking.click('#marking-csv')]);
  let table;
  try {
    execFileSync(process.env.TIEPOINT_PROGRAM ?? join(root, 'build/native/tiepoint'), ['grade', '--csv', join(root, 'examples/lessons/two-hands.lesson.json'), 'class'], {encoding: 'utf8', cwd: folder});
  } catch ({stdout}) {
    table = stdout;  // status 1: somebody did not pass
  }
  assert.equal(readFileSync(await file.path(), 'utf8'), table);
  await marking.focus('#sort-points');
  await marking.keyboard.press('Enter');
  assert.equal(await marking.locator('[data-column="points"][aria-sort]').getAttribute('aria-sort'), 'descending');
  await marking.keyboard.press('Enter');
  assert.deepEqual(await cells('name'), ['dora', 'cleo', 'ann', 'ben']);
  assert.deepEqual(await violations(marking), []);
  await picture(marking, 'marking');
  await marking.waitForFunction(() => /#board=/.test(document.querySelector('.marks-open')?.getAttribute('href') ?? ''));
  // A stranger's ZIP file: it claims less than it holds, two names lie over one file, it is cut off.
  const good = zipOf(folder, 'class');
  for (const [spoil, words] of [[(zip) => zip.subarray(0, zip.length - 30), /no ZIP file|damaged/],
                                [(zip) => (zip.writeUInt32LE(zip.readUInt32LE(centralOf(zip) + 24) - 9, centralOf(zip) + 24), zip), /damaged/],
                                [(zip) => (zip.writeUInt32LE(0, nextCentral(zip) + 42), zip), /lie over each other/]]) {
    writeFileSync(join(folder, 'bad.zip'), spoil(Buffer.from(good)));
    await marking.setInputFiles('#marking-files', join(folder, 'bad.zip'));
    await marking.waitForFunction((pattern) => new RegExp(pattern).test(document.getElementById('marks')?.textContent ?? ''), words.source);
  }
  await marking.setViewportSize({width: 360, height: 640});
  assert.equal(await marking.evaluate(() => document.documentElement.scrollWidth), 360);
  await marking.close();
});

// The other lessons are walked by tests/browser/walk_course.mjs.
for (const [id, by] of [['first-lamp', 'mouse'], ['sharing-voltage', 'keys']])
  test(`the lesson ${id} is taken from its first step to its last with the ${by} alone`, {timeout: 240000}, async () => {
    const hands = await startLesson(browser, site, id, by);
    await walk(id, hands);
    const [file] = await Promise.all([hands.page.waitForEvent('download'), hands.press('#lesson-hand-in')]);
    const handIn = JSON.parse(readFileSync(await file.path(), 'utf8'));
    assert.equal(handIn.progress.lesson, id);
    assert.ok(handIn.board.parts.length > 3 && handIn.progress.steps.every((step) => step.done || step.id === 'own-board'));
    assert.deepEqual(hands.page.problems, []);
    await hands.page.context().close();
  });

for (const [name, size] of Object.entries({tablet: {width: 820, height: 1180, touch: true}, phone: {width: 360, height: 640, touch: true}}))
  test(`on a ${name} the lesson is read and answered by touch, nothing sticks out`, async () => {
    const small = await open(browser, site.url, {...size, address: '?test=1&lesson=first-lamp&learner=ann'});
    // What the page draws for a learner is what the terminal program says.
    const drawn = execFileSync(process.env.TIEPOINT_PROGRAM ?? join(root, 'build/native/tiepoint'), ['lesson', 'vary', join(root, 'examples/lessons/first-lamp.lesson.json'), '--learner', 'ann'], {encoding: 'utf8'});
    assert.equal(JSON.parse((await ask(small, {do: 'lesson', act: 'see'})).progress).seed, Number(/^Seed (\d+)/.exec(drawn)[1]));
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
