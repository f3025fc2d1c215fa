// The engine built natively and as WebAssembly: the same numbers. Programs: build/native/numbers, build/page/numbers.js.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import test from 'node:test';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const run = (program, ...words) => execFileSync(program, words, {cwd: root, encoding: 'utf8', maxBuffer: 1 << 26});
const native = run('build/native/numbers');
// Emscripten 3.1.6 loads its module by path: Node's own fetch must stay out of the way.
const wasm = run('node', '--no-experimental-fetch', 'build/page/numbers.js');

/** Lines "what label words..." as a map from "what label" to words. */
const read = (text) => new Map(text.trim().split('\n').map((line) => line.split(' ')).map(([what, label, ...words]) => [`${what} ${label}`, words]));
const ours = read(native);
const theirs = read(wasm);
const of = (what) => [...ours.keys()].filter((key) => key.startsWith(what));

const kRelative = 1e-9;
// Below this a difference is rounding of a sum of larger numbers, and no part of the answer.
const kFloor = {V: 1e-12, A: 1e-15};

test('two native runs give the same bits', () => assert.equal(run('build/native/numbers'), native));

test('both builds solve the same circuits', () => {
  assert.deepEqual([...theirs.keys()], [...ours.keys()]);
  assert.ok(of('settled').length > 850, `${of('settled').length} circuits`);
  assert.ok(of('moving').length >= 7 && of('instants').length >= 2);
});

test('settled: within 1e-9', (t) => {
  let same = 0;
  let worst = 0;
  for (const key of of('settled')) {
    const [a, b] = [ours.get(key), theirs.get(key)];
    assert.equal(a.length, b.length, key);
    if (a.join() === b.join()) same += 1;
    let unit = 'E';
    a.forEach((word, k) => {
      if (/^[VAE]$/.test(word)) {
        assert.equal(b[k], word, key);
        unit = word;
        return;
      }
      const [x, y] = [Number(word), Number(b[k])];
      if (unit === 'E' || Number.isNaN(x)) return assert.equal(b[k], word, key);
      const apart = Math.abs(x - y);
      const large = Math.max(Math.abs(x), Math.abs(y));
      if (large > kFloor[unit] / kRelative) worst = Math.max(worst, apart / large);
      assert.ok(apart <= kFloor[unit] + kRelative * large, `${key}: ${word} and ${b[k]}`);
    });
  }
  t.diagnostic(`${same} of ${of('settled').length} circuits to the last bit; the worst of the rest ${worst.toExponential(1)} apart`);
});

test('moving: within the tolerance of a step', (t) => {
  for (const key of of('moving')) {
    const [a, b] = [ours.get(key).map(Number), theirs.get(key).map(Number)];
    assert.ok(a.length > 50 && a.length === b.length, key);
    const apart = Math.max(...a.slice(1).map((x, k) => Math.abs(x - b[k + 1])));
    t.diagnostic(`${key}: ${(apart / a[0]).toExponential(1)} of the span`);
    assert.ok(apart <= 1e-3 * a[0], `${key}: ${apart}`);
  }
});

test('what swings keeps the same time', () => {
  for (const key of of('instants')) {
    const [a, b] = [ours.get(key).map(Number), theirs.get(key).map(Number)];
    assert.ok(a.length >= 4, key);
    assert.equal(b.length, a.length, key);
    for (let k = 1; k < a.length; k += 1) assert.ok(Math.abs(a[k] - b[k]) <= a[0] + 1e-3 * a[k], `${key}: ${a[k]} and ${b[k]} s`);
  }
});
