// A board goes out as a link and comes back from it; a link that is no good says so and changes nothing.
import assert from 'node:assert/strict';
import {test} from 'node:test';
import {ask, open, settle} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, first, link, swollen;
stage((on) => { ({site, browser} = on); });

const board = async (page) => (await ask(page, {do: 'board'})).text;

test('a copied link opens the same board', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  first = await board(page);
  await page.fill('#title', 'Lantern room');
  await page.press('#title', 'Tab');
  await settle(page);
  const sent = await board(page);
  assert.notEqual(sent, first);
  await page.click('#menu-button');
  await page.click('[data-item="link"]');
  await page.waitForSelector('#toast:not([hidden])');
  assert.match(await page.locator('#toast p').textContent(), /^Link copied/);
  link = new URL(await page.evaluate(() => navigator.clipboard.readText()));
  const other = await open(browser, site.url, {address: `?test=1${link.hash}`});
  assert.equal(await board(other), sent);
  assert.deepEqual(other.problems, []);
  // A true checksum, so that only the limit on what comes out can refuse it.
  swollen = await page.evaluate(async (text) => `#${await (await import('./share.js')).pack(text)}`, sent + ' '.repeat(3 << 20));
  await page.context().close();
  await other.context().close();
});

const bad = {
  'cut off': [() => link.hash.slice(0, -12), /damaged/],
  'with another checksum': [() => link.hash.replace(/\.[0-9a-f]{8}\./, '.00000000.'), /damaged/],
  'from a newer form': [() => link.hash.replace('=1.', '=2.'), /newer/],
  'from an older form': [() => link.hash.replace('=1.', '=0.'), /older/],
  'that inflates to more than 2 MB': [() => swollen, /damaged/],
};
for (const [name, [hash, message]] of Object.entries(bad)) {
  test(`a link ${name} is refused in a sentence`, {timeout: 60000}, async () => {
    const page = await open(browser, site.url, {address: `?test=1${hash()}`});
    assert.match(await page.locator('#toast p').textContent(), message);
    assert.equal(await board(page), first);
    await page.context().close();
  });
}

test('a link followed while somebody works only offers its board, which replaces the work when it is taken and gives it back', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await page.fill('#title', 'Fog bell');
  await page.press('#title', 'Tab');
  await settle(page);
  const work = await board(page);
  await page.evaluate((hash) => { location.hash = hash; }, link.hash);
  await page.waitForSelector('#open-link');
  assert.equal(await board(page), work);
  assert.equal(new URL(page.url()).hash, '');
  await page.click('#open-link');
  assert.match(await board(page), /Lantern room/);
  await page.click('#bring-back');
  assert.equal(await board(page), work);
  await page.context().close();
});
