// The page that lists every part: all of them, found by search and by link, readable for everyone.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {join} from 'node:path';
import {test} from 'node:test';
import {open, picture, root, violations} from './site.mjs';
import {stage} from './stage.mjs';

const kinds = JSON.parse(execFileSync(process.env.TIEPOINT_PROGRAM ?? join(root, 'build/native/tiepoint'), ['parts', '--json'], {encoding: 'utf8'}));

let site, browser;
stage((on) => { ({site, browser} = on); });

/** The list in a window of its own. */
async function sheet({width = 1366, height = 768, hash = ''} = {}) {
  const page = await (await browser.newContext({viewport: {width, height}})).newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error)));
  page.on('console', (message) => message.type() === 'error' && page.problems.push(message.text()));
  await page.goto(`${site.url}parts.html${hash}`);
  await page.waitForSelector('body.ready');
  return page;
}
const shown = (page) => page.$$eval('.sheet-part:not([hidden])', (nodes) => nodes.map((node) => node.id));

test('every part of the engine is listed with model, source and limits', {timeout: 60000}, async () => {
  const page = await sheet();
  assert.deepEqual((await shown(page)).sort(), kinds.map((one) => one.kind).sort());
  for (const one of kinds) {
    const text = await page.$eval(`[id="${one.kind}"]`, (node) => node.textContent);
    for (const word of [one.name, one.model, one.source, one.limits, one.elements[0]?.equation ?? '']) assert.ok(text.includes(word), `${one.kind}: ${word}`);
  }
  assert.deepEqual(page.problems, []);
  await picture(page, 'parts-list');
  await page.context().close();
});

test('search shows what has every word, says how many, and comes back', {timeout: 60000}, async () => {
  const page = await sheet();
  await page.click('#search');
  await page.keyboard.type('MOSFET p-channel');
  assert.deepEqual(await shown(page), ['bs250', 'irf9540n']);
  assert.equal(await page.textContent('#count'), '2 parts');
  await page.fill('#search', 'wurth');
  assert.deepEqual(await shown(page), ['push-button']);
  assert.equal(await page.textContent('#count'), '1 part');
  await page.fill('#search', 'no such thing');
  assert.ok(await page.isVisible('#none'));
  await page.fill('#search', '');
  assert.equal((await shown(page)).length, kinds.length);
  await page.context().close();
});

for (const [width, height] of [[1366, 768], [360, 640]])
  test(`no violations, and nothing wider than a window of ${width} × ${height}`, {timeout: 60000}, async () => {
    const page = await sheet({width, height});
    assert.deepEqual(await violations(page), []);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
    await page.context().close();
  });

test('a link leads to one part, and the menu of the bench leads here', {timeout: 60000}, async () => {
  const page = await sheet({hash: '#ne555'});
  const top = await page.$eval('#ne555', (node) => node.getBoundingClientRect().top);
  assert.ok(top >= 0 && top < 200, String(top));
  await page.context().close();
  const bench = await open(browser, site.url);
  await bench.click('#menu-button');
  await bench.keyboard.press('ArrowUp');  // from the first item round to the last
  const opened = bench.context().waitForEvent('page');
  await bench.focus('#menu-parts');
  await bench.keyboard.press('Enter');
  await (await opened).waitForSelector('#resistor');
  await bench.context().close();
});
