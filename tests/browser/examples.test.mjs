// Every example opens in the page and in the terminal program and shows the readings written beside it.
//   {"cases": [{"set": {"S1": "down"} or {"S1": ["down", "up@1s"]}, "for": "1.4s", "parts": {"LED1": {"state", "current": [least, most]}}}]}
// Without "for" the settled state counts; with it everything starts empty. null: no reading.
import assert from 'node:assert/strict';
import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {describe, test} from 'node:test';
import {ask, open, picture, root, settle, solve} from './site.mjs';
import {stage} from './stage.mjs';

const folder = join(root, 'examples');
const names = readdirSync(folder).filter((name) => name.endsWith('.board.json')).map((name) => name.slice(0, -'.board.json'.length));
const casesOf = (name) => JSON.parse(readFileSync(join(folder, `${name}.expect.json`), 'utf8')).cases;

let site, browser, page;
stage(async (on) => {
  ({site, browser} = on);
  page = await open(browser, site.url);
});

/** @param {Record<string, any>} parts readings by name @param {object} expected of one case */
function check(parts, expected, where) {
  for (const [name, wanted] of Object.entries(expected.parts)) {
    const got = parts[name];
    assert.ok(got, `${where}: ${name} is there`);
    for (const [key, value] of Object.entries(wanted)) {
      const said = `${where} ${JSON.stringify(expected.set)}: ${name} ${key} is ${got[key]}, expected ${JSON.stringify(value)}`;
      if (Array.isArray(value)) assert.ok(got[key] !== null && got[key] >= value[0] && got[key] <= value[1], said);
      else assert.equal(got[key], value, said);
    }
  }
}

/** Each word of "set", in the order of time: [part, position, second]. */
function* settings(expected) {
  const all = Object.entries(expected.set).flatMap(([part, given]) => [given].flat().map((word) => [part, ...word.split('@')]));
  for (const [part, position, at] of all) yield [part, position, parseFloat(at ?? '0')];
}

const kMomentary = {down: true, up: false};

async function apply(part, position) {
  const words = await ask(page, {do: 'words'});
  const values = words.parts.find((one) => one.name === part).values;
  const command = position in kMomentary ? {do: 'press', part, down: kMomentary[position]} :
      position === 'on' || position === 'off' ? {do: 'set', part, key: 'on', number: position === 'on' ? 1 : 0} :
      {do: 'set', part, key: values.find((value) => value.use === 'position').key, text: position};
  assert.equal((await ask(page, command)).ok, true, `${part}=${position}`);
}

/** Waits until so much simulated time has passed; a bench at rest stands still and needs no waiting. */
const passed = (seconds) => page.evaluate(async (until) => {
  const {bench} = window.__tiepoint;
  for (const begun = performance.now(); performance.now() - begun < 20000;) {
    const words = bench.call({do: 'words'});
    if (words.time >= until || (words.atRest && performance.now() - begun > 1000)) return;
    await new Promise((done) => setTimeout(done, 10));
  }
}, seconds);

async function openExample(name) {
  const text = readFileSync(join(folder, `${name}.board.json`), 'utf8');
  assert.deepEqual(await ask(page, {do: 'load', text}), {ok: true});
  await settle(page);
}

for (const name of names) {
  describe(name, () => {
    const file = join(folder, `${name}.board.json`);
    test('in the terminal program', () => {
      for (const expected of casesOf(name)) {
        const more = Object.entries(expected.set).flatMap(([part, given]) => [given].flat().flatMap((word) => ['--set', `${part}=${word}`]));
        if (expected.for) more.push('--for', expected.for);
        check(solve(file, ...more).parts, expected, name);
      }
    });
    test('in the page', {timeout: 120000}, async () => {
      for (const expected of casesOf(name)) {
        await openExample(name);
        await ask(page, {do: 'edit', edit: {edit: 'realism', realism: {spared: true}}}); // nothing burns out while it is read
        const start = (await ask(page, {do: 'words'})).time;
        for (const [part, position, at] of settings(expected)) {
          if (at > 0) await passed(start + at);
          await apply(part, position);
        }
        if (expected.for) await passed(start + parseFloat(expected.for));
        else await settle(page);
        check((await ask(page, {do: 'readings'})).parts, expected, name);
      }
      await picture(page, `example-${name}`);
      assert.deepEqual(page.problems, []);
    });
  });
}

test('the menu of the page offers every example', async () => {
  await page.click('#menu-button');
  const offered = await page.locator('[data-item^="example-"]').evaluateAll((items) => items.map((item) => item.dataset.item.slice('example-'.length)));
  await page.keyboard.press('Escape');
  assert.deepEqual([...offered, 'empty'].sort(), [...names].sort());
  for (const name of offered) {
    await page.click('#menu-button');
    await page.click(`[data-item="example-${name}"]`);
    const {title} = JSON.parse(readFileSync(join(folder, `${name}.board.json`), 'utf8'));
    await page.waitForFunction((wanted) => document.querySelector('.bar-title').textContent === wanted, title);
  }
});
