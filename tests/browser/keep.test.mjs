// What was built is still there after a reload, a killed page, a closed tab; where it cannot be kept the page says so.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {after, test} from 'node:test';
import {ask, launchKept, open, processOf, settle} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, folder;
stage((on) => { ({site, browser, folder} = on); }, {folder: 'tiepoint-keep-'});

const text = async (page) => JSON.stringify(JSON.parse((await ask(page, {do: 'board'})).text));
const ready = (page) => page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
const saved = (page) => page.waitForFunction(() => document.getElementById('kept').dataset.state === 'saved', undefined, {timeout: 5000});

/** Takes R1 off the bench by the notebook's own button. */
async function removeR1(page) {
  await page.click('[data-key="R1 resistor"] .part-select');
  await page.click('[data-key="R1 resistor"] [data-act="remove"]');
}

test('a first visit keeps nothing and says nothing of it', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  assert.equal(await page.locator('#kept').textContent(), '');
  assert.match(await text(page), /"R1"/);
  await page.context().close();
});

test('a change is there after a reload and in a tab opened later', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await removeR1(page);
  await saved(page);
  const left = await text(page);
  assert.doesNotMatch(left, /"R1"/);
  await page.reload();
  await ready(page);
  assert.equal(await text(page), left);
  const context = page.context();
  await page.close();
  const later = await context.newPage();
  await later.goto(`${site.url}?test=1`);
  await ready(later);
  assert.equal(await text(later), left);
  await context.close();
});

// The store answers after 1.5 s.
const slowStore = () => {
  const real = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function(...words) {
    const late = {};
    setTimeout(() => {
      const request = real.apply(this, words);
      for (const event of ['onsuccess', 'onerror', 'onblocked', 'onupgradeneeded']) request[event] = (told) => late[event]?.(told);
      Object.defineProperty(late, 'result', {get: () => request.result});
    }, 1500);
    return late;
  };
};

test('on a first visit the page does not wait for the store, and a change made before it answers is kept', {timeout: 60000}, async () => {
  const context = await browser.newContext({viewport: {width: 1366, height: 768}, serviceWorkers: 'block'}), page = await context.newPage();
  await page.addInitScript(slowStore);
  await page.goto(`${site.url}?test=1`);
  await ready(page);
  assert.equal(await page.evaluate(() => window.__tiepoint.app.keep.opening), true);
  await removeR1(page);
  const left = await text(page);
  await saved(page);
  await page.reload();
  await ready(page);
  assert.equal(await text(page), left);
  await context.close();
});

test('a kept board of which the browser remembers nothing comes all the same, and what was done meanwhile is an earlier board', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await removeR1(page);
  await saved(page);
  const left = await text(page);
  await page.addInitScript(slowStore);
  await page.evaluate(() => localStorage.clear());
  await page.reload();
  await ready(page);
  assert.match(await text(page), /"R1"/);
  await page.click('[data-key="S1 push-button"] .part-select');
  await page.click('[data-key="S1 push-button"] [data-act="remove"]');
  await page.waitForFunction((wanted) => JSON.stringify(JSON.parse(window.__tiepoint.bench.call({do: 'board'}).text)) === wanted, left, {timeout: 10000});
  await page.waitForFunction(async () => (await window.__tiepoint.app.keep.store.snapshots()).some(({text}) => /"R1"/.test(text) && !/"S1"/.test(text)), undefined, {timeout: 5000});
  assert.notEqual(await page.evaluate(() => localStorage.getItem('tiepoint-keeps')), null);
  await page.reload();
  await ready(page);
  assert.equal(await text(page), left);
  await page.context().close();
});

test('a page killed 0.3 s after a change has lost nothing', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  const context = page.context();
  await removeR1(page);
  await page.waitForTimeout(300);
  const session = await context.newCDPSession(page);
  const gone = page.waitForEvent('crash', {timeout: 10000}).catch(() => null);
  session.send('Page.crash').catch(() => {});
  await gone;
  const again = await context.newPage();
  await again.goto(`${site.url}?test=1`);
  await ready(again);
  assert.doesNotMatch(await text(again), /"R1"/);
  await context.close();
});

/** A page of a browser on a folder of its own; the browser ends with the test, however that ends: one left open keeps this file from ending. */
async function keptPage(t, profile) {
  const context = await launchKept(profile);
  t.after(() => context.close());
  const page = context.pages()[0] ?? await context.newPage();
  await page.goto(`${site.url}?test=1`);
  await ready(page);
  return page;
}

// The whole browser, by a signal that no process can hear: what was told to the disk by then is all there is. On a machine so busy that more than the
// 0.3 s went by, or that the disk had not answered in them, nothing is tried by the kill, and it is done again.
test('a browser killed 0.3 s after a change has lost nothing, and opens with the board', {timeout: 120000}, async (t) => {
  const tries = [];
  for (let k = 0; k < 5; ++k) {
    const profile = `${folder}/profile-${k}`, page = await keptPage(t, profile), id = processOf(profile);
    await removeR1(page);
    const left = await text(page), changed = Date.now();
    await page.waitForTimeout(300);
    const state = await page.evaluate(() => document.getElementById('kept').dataset.state), waited = Date.now() - changed;
    const gone = new Promise((resolve) => page.context().on('close', resolve));
    process.kill(id, 'SIGKILL');
    await gone;
    assert.throws(() => processOf(profile));
    tries.push({state, waited});
    if (waited > 1000 || state !== 'saved') continue;
    const again = await keptPage(t, profile);
    assert.equal(await text(again), left);
    assert.doesNotMatch(left, /"R1"/);
    return;
  }
  assert.fail(`never saved and killed in time: ${JSON.stringify(tries)}`);
});

test('a button held down when the page went is up again', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await page.fill('#title', 'Fog bell');
  await page.press('#title', 'Tab');
  await saved(page);
  const box = await page.locator('[data-key="S1 push-button"] [data-act="hold"]').boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.waitForFunction(() => /LED1/.test(document.getElementById('status').textContent));
  await page.waitForTimeout(300);
  await page.reload();
  await ready(page);
  const words = await ask(page, {do: 'words'});
  assert.equal(words.title, 'Fog bell');
  assert.equal(words.parts.find((part) => part.name === 'LED1').reading.state, 'dark');
  await page.mouse.up();
  await page.context().close();
});

test('a second tab says that it is not kept and leaves the first one alone', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await removeR1(page);
  await saved(page);
  const left = await text(page);
  const second = await page.context().newPage();
  await second.goto(`${site.url}?test=1`);
  await ready(second);
  assert.match(await second.locator('#kept').textContent(), /another tab/);
  await second.click('[data-key="LED1 led"] .part-select');
  await second.click('[data-key="LED1 led"] [data-act="remove"]');
  await second.waitForTimeout(300);
  await second.close();
  await page.reload();
  await ready(page);
  assert.equal(await text(page), left);
  await page.context().close();
});

test('where nothing can be stored the page works and says so', {timeout: 60000}, async () => {
  const context = await browser.newContext({viewport: {width: 1366, height: 768}});
  const page = await context.newPage();
  await page.addInitScript(() => Object.defineProperty(window, 'indexedDB', {get() { throw new DOMException('denied', 'SecurityError'); }}));
  await page.goto(`${site.url}?test=1`);
  await ready(page);
  await settle(page);
  assert.match(await page.locator('#kept').textContent(), /^Not kept/);
  await removeR1(page);
  assert.doesNotMatch(await text(page), /"R1"/);
  await context.close();
});

/** The notebook's sentence about keeping, once it says so. */
const told = (page, state) => page.waitForFunction((want) => document.getElementById('kept').dataset.state === want, state, {timeout: 5000});
const another = async (page) => {
  const tab = await page.context().newPage();
  await tab.goto(`${site.url}?test=1`);
  await ready(tab);
  return tab;
};

/** The rows of the list of earlier boards; leaves it open. */
async function earlier(page) {
  await page.click('#menu-button');
  await page.click('[data-item="earlier"]');
  await page.waitForSelector('#earlier[open]');
  return page.locator('#earlier [data-snapshot] strong').allTextContents();
}

const titled = async (page, title) => {
  await page.fill('#title', title);
  await page.press('#title', 'Tab');
};

test('another tab takes over; the board that gave way is an earlier board, and the first tab writes no more', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await titled(page, 'Fog bell');
  await saved(page);
  const second = await another(page);
  assert.equal((await ask(second, {do: 'words'})).title, 'Fog bell');
  await titled(second, 'Signal mast');
  await told(second, 'elsewhere');
  await second.click('#take-over');
  await told(second, 'saved');
  await told(page, 'lost');
  assert.match(await page.locator('#kept').textContent(), /another tab keeps its board now/);
  await titled(page, 'Written too late');
  await page.waitForTimeout(400);
  assert.deepEqual(await earlier(second), ['Fog bell']);
  const third = await another(page);
  assert.equal((await ask(third, {do: 'words'})).title, 'Signal mast');
  await page.context().close();
});

test('when the tab that kept is closed, the next change is kept in the other one', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await titled(page, 'Fog bell');
  await saved(page);
  const second = await another(page);
  await page.close();
  await titled(second, 'Signal mast');
  await saved(second);
  assert.deepEqual(await earlier(second), ['Fog bell']);
  await second.context().close();
});

test('a board that takes the place of work can be sent away again, and the work is an earlier board after a reload', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await titled(page, 'Fog bell');
  await saved(page);
  const work = await text(page);
  await page.click('#menu-button');
  await page.click('[data-item="example-two-in-series"]');
  await page.waitForSelector('#bring-back');
  assert.notEqual(await text(page), work);
  await page.click('#bring-back');
  assert.equal(await text(page), work);
  await page.click('#menu-button');
  await page.click('[data-item="example-two-in-series"]');
  await page.waitForSelector('#bring-back');
  await saved(page);
  await page.reload();
  await ready(page);
  assert.deepEqual(await earlier(page), ['Fog bell']);
  assert.match(await page.locator('#earlier .earlier-name').textContent(), /\d{1,2}:\d{2}/);
  await page.click('#earlier [data-snapshot] button');
  assert.equal(await text(page), work);
  await page.context().close();
});

test('of twenty-two earlier boards the newest twenty are listed, the newest first', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await page.evaluate(async () => {
    const {app} = window.__tiepoint;
    for (let k = 1; k <= 22; ++k) await app.keep.snapshot(JSON.stringify({title: `Lens ${k}`, parts: []}));
  });
  const names = await earlier(page);
  assert.equal(names.length, 20);
  assert.deepEqual([names[0], names[19]], ['Lens 22', 'Lens 3']);
  await page.context().close();
});

test('a kept board that cannot be read is set aside unchanged and can be saved as a file', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await removeR1(page);
  await saved(page);
  const torn = (await text(page)).slice(0, -20);
  await page.evaluate((kept) => new Promise((done) => {
    const request = window.__tiepoint.app.keep.store.database.transaction('boards', 'readwrite').objectStore('boards').put({text: kept, time: 1}, 'current');
    request.transaction.oncomplete = done;
  }), torn);
  await page.reload();
  await ready(page);
  assert.match(await page.locator('#toast p').textContent(), /cannot be read any more.*set aside/);
  const [file] = await Promise.all([page.waitForEvent('download'), page.click('#download-unread')]);
  assert.equal(readFileSync(await file.path(), 'utf8'), torn);
  await removeR1(page);
  await saved(page);
  await earlier(page);
  const [again] = await Promise.all([page.waitForEvent('download'), page.click('#earlier [data-aside] button')]);
  assert.equal(readFileSync(await again.path(), 'utf8'), torn);
  await page.context().close();
});
