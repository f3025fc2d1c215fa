// A learner on a slow line waits for every byte of this.
import assert from 'node:assert/strict';
import {statSync} from 'node:fs';
import test from 'node:test';
import {fileURLToPath} from 'node:url';

const site = fileURLToPath(new URL('../../build/web/', import.meta.url));
const kProgram = 600 << 10;  // byte, tiepoint.wasm and tiepoint.js with brotli

test(`the program stays below ${kProgram >> 10} KiB with brotli`, () => {
  const size = ['tiepoint.wasm', 'tiepoint.js'].reduce((sum, name) => sum + statSync(`${site}${name}.br`).size, 0);
  assert.ok(size < kProgram, `${size} bytes`);
  console.log(`# program: ${size} bytes with brotli`);
});
