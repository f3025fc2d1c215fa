// A learner on a slow line waits for every byte of this.
import assert from 'node:assert/strict';
import {existsSync, readFileSync, statSync} from 'node:fs';
import test from 'node:test';
import {fileURLToPath} from 'node:url';

const site = fileURLToPath(new URL('../../build/web/', import.meta.url));
const kFirstVisit = 438e3;                  // byte, all that index.html names, as a server sends it; 450e3 wanted (tests/bench/budget): builds elsewhere may differ a little
const kFirstHalf = 335e3, kMore = 217e3;    // byte, the halves of the module with brotli

/** @param {string} name of a file of the site; fonts of the older kind are packed already */
const sent = (name) => statSync(site + (existsSync(`${site}${name}.br`) && !name.endsWith('.woff2') ? `${name}.br` : name)).size;

test(`the first half of the module stays below ${kFirstHalf / 1e3} kB with brotli, the second below ${kMore / 1e3} kB`, () => {
  const [first, more] = ['tiepoint.wasm', 'tiepoint.more.wasm'].map(sent);
  console.log(`# module: ${first} and ${more} bytes with brotli`);
  assert.ok(first < kFirstHalf, `${first} bytes`);
  assert.ok(more < kMore, `${more} bytes`);
});

test(`what a first visit waits for stays below ${kFirstVisit / 1e3} kB`, () => {
  const names = new Set([...readFileSync(`${site}index.html`, 'utf8').matchAll(/<(?:link|script)[^>]* (?:href|src)="([^"]+)"/g)].map((found) => found[1])
    .filter((name) => !/^(manifest\.webmanifest|icons\/)/.test(name)));  // fetched when somebody installs it
  for (const wanted of [/^tiepoint\.\w+\.wasm$/, /^tiepoint\.\w+\.js$/, /^app\.\w+\.js$/, /^words\/en\.\w+\.json$/])
    assert.ok([...names].some((name) => wanted.test(name)), String(wanted));
  const sum = [...names, 'index.html'].reduce((all, name) => all + sent(name), 0);
  console.log(`# first visit: ${sum} bytes`);
  assert.match(readFileSync(`${site}index.html`, 'utf8'), /id="first-board" data-name="one-button">\{"tiepoint":"board"/);  // not asked for
  assert.ok(sum < kFirstVisit, `${sum} bytes`);
});
