// Files that are no boards: each gets one clear sentence, nothing breaks, and the board that was there stays.
import assert from 'node:assert/strict';
import {readFileSync, truncateSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {ask, open, picture, root, settle} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page, folder;
stage(async (on) => {
  ({site, browser, folder} = on);
  page = await open(browser, site.url);
}, {folder: 'boards-'});

const good = readFileSync(join(root, 'examples/one-button.board.json'), 'utf8');
const changed = (change) => {
  const board = JSON.parse(good);
  change(board);
  return JSON.stringify(board, null, 2);
};

/** name -> [content, what the message must say] */
const files = {
  'truncated.board.json': [good.slice(0, good.length / 2), /Line \d+, column \d+: This is not valid JSON/],
  'empty.board.json': ['', /not valid JSON/],
  'poem.txt': ['The lamp is out.', /not valid JSON/],
  'list.json': ['[1, 2, 3]', /./],
  'other.json': ['{"tiepoint": "circuit", "version": 1}', /./],
  'newer.board.json': [changed((board) => (board.version = 99)), /version 99/],
  'wrong-type.board.json': [changed((board) => (board.parts[3].leads['1'] = 7)), /At \/parts\/3\/leads\/1: /],
  'unknown-kind.board.json': [changed((board) => (board.parts[3].kind = 'anchor')), /At \/parts\/3\/kind: .*anchor/],
  'unknown-hole.board.json': [changed((board) => (board.parts[3].leads['1'] = 'z77')), /At \/parts\/3\/leads\/1: .*z77/],
  'occupied.board.json': [changed((board) => (board.parts[3].leads['1'] = 'a8')), /a8/],
  'zero-ohm.board.json': [changed((board) => (board.parts[3].set.resistance = 0)), /At \/parts\/3\/set\/resistance: /],
  'nan.board.json': [good.replace('330', 'NaN'), /not valid JSON/],
  'binary.board.json': [Buffer.from([0, 255, 254, 1, 2, 3]), /./],
  'deep.board.json': ['['.repeat(200000), /./],
};

/** Opens a file through the menu and the browser's own file chooser. */
async function openFile(path) {
  await page.click('#menu-button');
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('[data-item="open"]')]);
  await chooser.setFiles(path);
}

const board = async () => (await ask(page, {do: 'board'})).text;

for (const [name, [content, message]] of Object.entries(files)) {
  test(`${name} is refused and the board stays`, {timeout: 60000}, async () => {
    const before = await board();
    const path = join(folder, name);
    writeFileSync(path, content);
    await openFile(path);
    await page.waitForSelector('#toast:not([hidden])');
    const text = await page.locator('#toast p').textContent();
    assert.match(text, message);
    assert.ok(text.startsWith(name), text);
    assert.equal(await board(), before);
    if (name === 'truncated.board.json') await picture(page, 'bad-file');
    await page.click('#toast button');
    assert.equal(await page.locator('#toast').isVisible(), false);
  });
}

test('a file of 200 MB is refused unread', {timeout: 60000}, async () => {
  const before = await board(), path = join(folder, 'huge.board.json');
  writeFileSync(path, '{');
  truncateSync(path, 200 << 20);
  await openFile(path);
  await page.waitForSelector('#toast:not([hidden])');
  assert.match(await page.locator('#toast p').textContent(), /200\.0 MB.*8\.0 MB/);
  assert.equal(await board(), before);
  await page.click('#toast button');
});

test('after all that a good file still opens and works', {timeout: 60000}, async () => {
  await openFile(join(root, 'examples/two-in-series.board.json'));
  await page.waitForFunction(() => document.querySelector('.bar-title').textContent === 'Two buttons in series');
  await settle(page);
  assert.equal((await ask(page, {do: 'words'})).parts.length, 9);
  assert.deepEqual(page.problems, []);
});
