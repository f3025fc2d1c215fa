// What sounds on the bench is heard: after a hand has touched the page, at the right pitch, slower with time, and not when switched off.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {ask, open} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, page;
stage(async (on) => {
  ({site, browser} = on);
  page = await open(browser, site.url);
});

// A buzzer with its own oscillator on 5 V, behind a button.
const kBell = {
  tiepoint: 'board', version: 1, title: 'Bell', breadboards: [{layout: '400'}],
  parts: [
    {name: 'PS1', kind: 'usb-supply', mat: [5, -6.8], leads: {'+': 'top+8', '-': 'top-7'}},
    {name: 'S1', kind: 'push-button', at: 'e8'},
    {name: 'W1', kind: 'jumper-wire', leads: {1: 'top+6', 2: 'a8'}},
    {name: 'W2', kind: 'jumper-wire', leads: {1: 'a10', 2: 'a16'}},
    {name: 'BZ1', kind: 'buzzer', leads: {'+': 'd16', '-': 'd19'}},
    {name: 'W3', kind: 'jumper-wire', leads: {1: 'a19', 2: 'top-19'}},
  ],
};

const pitches = () => page.evaluate(() => window.__tiepoint.app.bar.seeing.sound.pitches());
const until = (count) => page.waitForFunction((n) => window.__tiepoint.app.bar.seeing.sound.pitches().length === n, count, {timeout: 5000});

test('a bell is heard while its button is held, at its own pitch', async () => {
  const answer = await ask(page, {do: 'load', text: JSON.stringify(kBell)});
  assert.equal(answer.ok, true, JSON.stringify(answer));
  assert.deepEqual(await pitches(), []);
  await ask(page, {do: 'press', part: 'S1', down: true});
  await page.waitForTimeout(200);
  assert.deepEqual(await pitches(), [], 'nothing before a hand has touched the page');
  await page.mouse.click(700, 20);
  await until(1);
  assert.ok(Math.abs((await pitches())[0] - 2300) < 1, String(await pitches()));
  await ask(page, {do: 'press', part: 'S1', down: false});
  await until(0);
});

test('slowed down tenfold it sounds ten times lower; with time standing it is silent', async () => {
  await ask(page, {do: 'press', part: 'S1', down: true});
  await until(1);
  await page.locator('#pace').selectOption('0.1');
  await page.waitForFunction(() => Math.abs(window.__tiepoint.app.bar.seeing.sound.pitches()[0] - 230) < 1, null, {timeout: 5000});
  await page.locator('#pace').selectOption('0');
  await until(0);
  await page.locator('#pace').selectOption('1');
  await until(1);
});

test('the button beside it switches sound off, and that is remembered', async () => {
  const button = page.getByRole('button', {name: 'Sound', exact: true});
  assert.equal(await button.getAttribute('aria-pressed'), 'true');
  await button.click();
  assert.equal(await button.getAttribute('aria-pressed'), 'false');
  await until(0);
  assert.equal(await page.evaluate(() => localStorage.getItem('tiepoint.sound')), 'off');
  await button.click();
  await until(1);
});
