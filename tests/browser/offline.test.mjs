// After one visit the page works without a network; a newer form of it is offered in words and taken only on request.
import assert from 'node:assert/strict';
import {cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, statSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {ask, launch, serve, settle, siteFolder} from './site.mjs';

let site, browser, folder;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tiepoint-site-'));
  cpSync(siteFolder, folder, {recursive: true, filter: (name) => !/\.(br|gz)$/.test(name)});
  site = await serve(folder);
  browser = await launch();
});
after(async () => {
  await browser?.close();
  site?.close();
  rmSync(folder, {recursive: true, force: true});
});

const ready = (page) => page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
const installed = (page) => page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
const cached = (page) => page.evaluate(async () => {
  const cache = await caches.open((await caches.keys()).at(-1));
  return (await cache.keys()).map(({url}) => url.slice(location.origin.length + 1));
});

/** The page in a context that allows service workers, as a person's browser does. */
async function visit() {
  const context = await browser.newContext({viewport: {width: 1366, height: 768}});
  const page = await context.newPage();
  await page.goto(`${site.url}?test=1`);
  await ready(page);
  await installed(page);
  return page;
}

test('without a network the page opens again, drives the bench and has every board and page', {timeout: 90000}, async () => {
  const page = await visit();
  const have = await cached(page);
  for (const name of readdirSync(join(siteFolder, 'examples')).filter((one) => one.endsWith('.json'))) assert.ok(have.includes(`examples/${name}`), name);
  site.close(); // not only Chromium's switch: nothing answers any more
  await page.context().setOffline(true);
  await page.goto(`${site.url}?test=1&lesson=none#about`);
  await ready(page);
  await settle(page);
  await page.click('#menu-button');
  await page.click('[data-item="example-scope-on-a-filter"]');
  await page.waitForFunction(() => window.__tiepoint.app.words.parts.some((part) => part.kind === 'oscilloscope'));
  await page.click('#menu-button');
  await page.click('[data-item="example-one-button"]');
  await page.waitForFunction(() => window.__tiepoint.app.words.parts.some((part) => part.name === 'S1'));
  const box = await page.locator('[data-key="S1 push-button"] [data-act="hold"]').boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.waitForFunction(() => window.__tiepoint.bench.call({do: 'words'}).parts.find((part) => part.name === 'LED1').reading.brightness > 0);
  await page.mouse.up();
  const parts = await page.context().newPage();
  await parts.goto(`${site.url}parts.html`);
  await parts.waitForSelector('#main h2');
  await page.context().close();
  site = await serve(folder);
});

/** A file has a new name: so has each that names it, as a build does it. @param {string} before @param {string} after */
function changeName(before, after) {
  for (const name of readdirSync(folder).filter((one) => /\.(js|html)$/.test(one))) {
    const to = name.replace(/(?<=\.)[0-9A-F]{8}\.js$/, '00000000.js');
    if (!existsSync(join(folder, name))) continue;  // renamed since
    const text = readFileSync(join(folder, name), 'utf8');
    if (!text.includes(before)) continue;
    writeFileSync(join(folder, name), text.replaceAll(before, after));
    if (to === name) continue;
    renameSync(join(folder, name), join(folder, to));
    changeName(name, to);
  }
}

test('a newer form is offered in words, changes nothing until it is taken, and then keeps the board', {timeout: 90000}, async () => {
  const page = await visit();
  await page.reload();
  await ready(page);
  await page.fill('#title', 'Fog bell');
  await page.press('#title', 'Tab');
  const before = await cached(page);
  // A new build: another text on the page, another service worker.
  const words = readdirSync(join(folder, 'words')).find((name) => /^en\.[0-9A-F]{8}\.json$/.test(name));
  const changed = readFileSync(join(folder, 'words', words), 'utf8').replace('"Boards"', '"Boards!"');
  const renamed = words.replace(/[0-9A-F]{8}/, '00000000');
  writeFileSync(join(folder, 'words', renamed), changed);
  changeName(words, renamed);
  const worker = join(folder, 'sw.js');
  writeFileSync(worker, readFileSync(worker, 'utf8').replace(/kVersion = "[0-9A-F]{8}"/, 'kVersion = "NEWER"'));
  await page.evaluate(() => navigator.serviceWorker.getRegistration().then((registration) => registration.update()));
  await page.waitForSelector('#update');
  assert.match(await page.locator('#toast p').textContent(), /newer form of this page.*your board stays/);
  await page.waitForTimeout(500);
  assert.equal(await page.locator('#menu-button').textContent(), 'Boards');
  assert.equal((await ask(page, {do: 'words'})).title, 'Fog bell');
  await page.locator('#toast button', {hasText: 'Dismiss'}).click();
  await page.click('#menu-button');
  await Promise.all([page.waitForEvent('load'), page.click('[data-item="update"]')]);
  await ready(page);
  assert.equal(await page.locator('#menu-button').textContent(), 'Boards!');
  assert.equal((await ask(page, {do: 'words'})).title, 'Fog bell');
  const now = await cached(page);
  assert.ok(now.includes(`words/${renamed}`) && !now.includes(`words/${words}`));
  assert.equal(now.length, before.length);
  assert.equal((await page.evaluate(() => caches.keys())).length, 1);
  await page.context().close();
});

test('the manifest names icons of the sizes that it says', () => {
  const manifest = JSON.parse(readFileSync(join(siteFolder, 'manifest.webmanifest'), 'utf8'));
  assert.ok(manifest.icons.length >= 3);
  for (const {src, sizes} of manifest.icons) {
    const png = readFileSync(join(siteFolder, src));
    assert.equal(`${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`, sizes);
    assert.ok(statSync(join(siteFolder, src)).size > 1000);
  }
});
