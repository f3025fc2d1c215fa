// web/ACCESSIBILITY.md names every criterion of WCAG 2.2 at levels A and AA once, and tests that there are.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import test from 'node:test';

const root = new URL('../../', import.meta.url);
const rows = readFileSync(new URL('web/ACCESSIBILITY.md', root), 'utf8').split('\n').filter((line) => /^\| \d/.test(line)).map((line) => line.split('|').map((cell) => cell.trim()));

// Web Content Accessibility Guidelines 2.2, W3C Recommendation of 5 October 2023 (from memory): 4.1.1 is withdrawn, 2.4.12, 2.4.13 and 3.3.9 are AAA.
const kCriteria = {
  A: '1.1.1 1.2.1 1.2.2 1.2.3 1.3.1 1.3.2 1.3.3 1.4.1 1.4.2 2.1.1 2.1.2 2.1.4 2.2.1 2.2.2 2.3.1 2.4.1 2.4.2 2.4.3 2.4.4 2.5.1 2.5.2 2.5.3 2.5.4 3.1.1 3.2.1 3.2.2 3.2.6 3.3.1 3.3.2 3.3.7 4.1.2',
  AA: '1.2.4 1.2.5 1.3.4 1.3.5 1.4.3 1.4.4 1.4.5 1.4.10 1.4.11 1.4.12 1.4.13 2.4.5 2.4.6 2.4.7 2.4.11 2.5.7 2.5.8 3.1.2 3.2.3 3.2.4 3.3.3 3.3.4 3.3.8 4.1.3',
};

test('the table has each criterion once, with its level', () => {
  const wanted = Object.entries(kCriteria).flatMap(([level, list]) => list.split(' ').map((one) => `${one} ${level}`)).sort();
  assert.equal(wanted.length, 55);
  assert.deepEqual(rows.map(([, criterion]) => criterion.replace(/^([\d.]+) .*\((A+)\)$/, '$1 $2')).sort(), wanted);
});

test('each test that it names is there', () => {
  for (const [, criterion, , shown] of rows) {
    const named = /^`(.+?): (.+)`$/.exec(shown);
    if (!named) assert.equal(shown, 'nothing to test', criterion);
    else assert.ok(readFileSync(new URL(`tests/${named[1]}`, root), 'utf8').includes(named[2]), `${criterion}: ${shown}`);
  }
});
