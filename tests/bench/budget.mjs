// First visit of the built page in headless Chromium: bytes by file until the bench can be used, and the time until then. What the page asks for by
// itself a little later (the module's second half; the service worker's store is left out) is told beside it.
//   tests/bench/budget [--json] [--sizes] [--runs N]      --sizes: without times; N: visits of which the median is told; 3
//
// Bytes are those of the files as a server sends them, brotli where it pays. Times are taken with Chromium's own brakes: the page's thread
// 4 times slower, 5 Mb/s, 40 ms; from the start of the navigation to the page that takes hands (body.ready, the first picture drawn).
// Cold: an empty browser. Warm: a later visit, with what the browser and the service worker kept. A loaded machine makes times longer.
import {existsSync, readFileSync, statSync} from 'node:fs';
import {createServer} from 'node:http';
import {cpus, loadavg} from 'node:os';
import {extname, join} from 'node:path';

import {kTypes, launch, siteFolder} from '../browser/site.mjs';

const kFirstVisit = 450e3, kModule = 350e3;    // [byte]
const kCold = 2.0, kWarm = 1.0;                // [s]
const kRate = 4, kDelay = 40, kLine = 5e6 / 8; // [ms], [byte/s]
const kPutAway = 2000;                         // [ms] until the browser has done with a page that was closed
const kQuiet = 3000;                           // [ms] after which the page has asked for all that it asks for by itself
const kHashed = /\.[0-9A-F]{8}\.[a-z0-9]+$/;
// These keep plain names: the page itself, what browsers look for by name, and what is opened on request.
const kPlain = /^(index\.html|manifest\.webmanifest|icons\/.*|examples\/.*|sw\.js)$/;

const options = {json: false, sizes: false, runs: 3};
for (let k = 2; k < process.argv.length; ++k) {
  if (process.argv[k] === '--json') options.json = true;
  else if (process.argv[k] === '--sizes') options.sizes = true;
  else if (process.argv[k] === '--runs' && process.argv[k + 1] > 0) options.runs = Number(process.argv[++k]);
  else {
    console.error('usage: tests/bench/budget [--json] [--sizes] [--runs N]');
    process.exit(2);
  }
}

/** Sends the files as web/serve does: compressed, hashed names for ever. */
function serveCompressed() {
  const server = createServer((request, response) => {
    const path = new URL(request.url, 'http://x').pathname.slice(1) || 'index.html';
    const plain = join(siteFolder, path), file = existsSync(`${plain}.br`) ? `${plain}.br` : plain;
    if (path.includes('..') || !existsSync(file)) return response.writeHead(404).end();
    const body = readFileSync(file);
    response.writeHead(200, {'Content-Type': kTypes[extname(path)], 'Content-Length': body.length, ...(file === plain ? {} : {'Content-Encoding': 'br'}),
      'Cache-Control': kHashed.test(path) ? 'public, max-age=31536000, immutable' : 'no-cache'});
    response.end(body);
  });
  return new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve({url: `http://127.0.0.1:${server.address().port}/`, close: () => server.close()})));
}

/** Bytes that a server sends for a file. Fonts and pictures are packed already. @param {string} name */
const sent = (name) => statSync(join(siteFolder, /\.(woff2|png)$/.test(name) ? name : `${name}.br`)).size;

/** Opens the page once. @returns time until usable [s] and what was asked for */
async function visit(context, url, braked) {
  const page = await context.newPage();
  await page.addInitScript(() => {
    const look = () => {
      if (!document.body?.classList.contains('ready')) return requestAnimationFrame(look);
      console.debug(`usable ${performance.now()}`);
    };
    look();
  });
  // The page tells by itself: to be asked, it would get 300 kB of script to parse on its slowed thread.
  const told = page.waitForEvent('console', {predicate: (message) => message.text().startsWith('usable '), timeout: 60000});
  const asked = [];
  page.on('response', (response) => asked.push({name: new URL(response.url()).pathname.slice(1) || 'index.html', type: response.headers()['content-type'], coding: response.headers()['content-encoding']}));
  if (braked) {
    const protocol = await context.newCDPSession(page);
    await protocol.send('Network.enable');
    await protocol.send('Network.emulateNetworkConditions', {offline: false, latency: kDelay, downloadThroughput: kLine, uploadThroughput: kLine});
    await protocol.send('Emulation.setCPUThrottlingRate', {rate: kRate});
  }
  await page.goto(url, {waitUntil: 'commit'});
  const seconds = Number((await told).text().slice(7)) / 1000;
  await page.waitForTimeout(300);
  const entries = await page.evaluate(() => performance.getEntriesByType('resource').map(({name, initiatorType, startTime}) => ({name: new URL(name).pathname.slice(1), initiatorType, startTime})));
  return {page, seconds, asked, entries};
}

const rows = [];
const keep = (group, name, value, unit, {wanted = '', good} = {}) => rows.push({group, name, value, unit, wanted, good});
const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

const site = await serveCompressed();
const browser = await launch();
try {
  const context = await browser.newContext({viewport: {width: 1366, height: 768}, serviceWorkers: 'block'});
  const first = await visit(context, site.url, false);
  const before = first.asked.length;
  await first.page.waitForTimeout(kQuiet);
  const afterwards = first.asked.splice(before);
  await context.close();
  const files = [...new Set(first.asked.map(({name}) => name))].map((name) => ({name, bytes: sent(name)})).sort((a, b) => b.bytes - a.bytes);
  const total = files.reduce((sum, {bytes}) => sum + bytes, 0), module = files.find(({name}) => name.endsWith('.wasm'))?.bytes;
  if (!module) throw new Error('no module was asked for');
  for (const {name, bytes} of files) keep('first visit, as sent', name, bytes, 'bytes');
  keep('first visit, as sent', 'in all', total, 'bytes', {wanted: `<= ${kFirstVisit}`, good: total <= kFirstVisit});
  keep('first visit, as sent', 'of it the module', module, 'bytes', {wanted: `<= ${kModule}`, good: module <= kModule});

  for (const {name} of afterwards) keep('afterwards, while it is used', name, sent(name), 'bytes');

  const check = (name, bad) => keep('checks', name, bad.length, bad.length ? bad.join(' ') : 'astray', {wanted: '0', good: bad.length === 0});
  check('names without a hash', files.map(({name}) => name).filter((name) => !kHashed.test(name) && !kPlain.test(name)));
  check('other MIME types', first.asked.filter(({name, type}) => type !== kTypes[extname(name)]).map(({name}) => name));
  check('not compressed', first.asked.filter(({name, coding}) => coding !== 'br' && !/\.(woff2|png)$/.test(name)).map(({name}) => name));
  // Asked for by the page itself, before any module ran.
  check('not preloaded', first.entries.filter(({name, initiatorType}) => /\.(wasm|js)$|^words\//.test(name) && !/^(link|script)$/.test(initiatorType)).map(({name}) => name));

  if (!options.sizes) {
    const cold = [], warm = [];
    for (let k = 0; k < options.runs; ++k) {
      const fresh = await browser.newContext({viewport: {width: 1366, height: 768}});
      const begun = await visit(fresh, site.url, true);
      cold.push(begun.seconds);
      await begun.page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
      await begun.page.close();
      await new Promise((done) => setTimeout(done, kPutAway));
      warm.push((await visit(fresh, site.url, true)).seconds);
      await fresh.close();
    }
    const group = `usable, ${kRate}x slower, 5 Mb/s, ${kDelay} ms`;
    keep(group, 'cold', median(cold), 's', {wanted: `<= ${kCold}`, good: median(cold) <= kCold});
    keep(group, 'warm', median(warm), 's', {wanted: `<= ${kWarm}`, good: median(warm) <= kWarm});
  }
} finally {
  await browser.close();
  site.close();
}

if (options.json) {
  console.log(JSON.stringify({load: loadavg()[0], cores: cpus().length, rows}, null, 1));
} else {
  console.log(`${cpus().length} cores, load ${loadavg()[0].toFixed(1)} at the end.`);
  let last = '';
  for (const {group, name, value, unit, wanted, good} of rows) {
    if (group !== last) console.log(`\n${last = group}`);
    const number = unit === 's' ? value.toFixed(2) : String(value);
    console.log(`  ${name.padEnd(36)} ${number.padStart(9)} ${unit.padEnd(7)} ${wanted && `wanted ${wanted}`.padEnd(17)} ${good === undefined ? '' : good ? 'met' : 'MISSED'}`.trimEnd());
  }
}
process.exitCode = rows.some(({good, unit}) => good === false && unit !== 's') ? 1 : 0;
