// What the browser tests share: the built page behind a small file server, Chromium with software drawing, and screenshots.
import {execFileSync} from 'node:child_process';
import {createReadStream, existsSync, mkdirSync, readFileSync, readdirSync, statSync} from 'node:fs';
import {createServer} from 'node:http';
import {createRequire} from 'node:module';
import {extname, join, normalize} from 'node:path';
import {fileURLToPath} from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));
export const siteFolder = process.env.TIEPOINT_SITE ?? join(root, 'build/web');
export const pictures = join(root, 'build/screenshots');

export const kTypes = {
  '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.css': 'text/css', '.json': 'application/json', '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml', '.woff2': 'font/woff2', '.ttf': 'font/ttf', '.otf': 'font/otf', '.png': 'image/png', '.webmanifest': 'application/manifest+json',
};

/** Serves a folder on a free port of this machine only. */
export function serve(folder = siteFolder) {
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url, 'http://x').pathname));
    let file = join(folder, path);
    if (existsSync(file) && statSync(file).isDirectory()) file = join(file, 'index.html');
    if (!file.startsWith(folder) || !existsSync(file)) return response.writeHead(404).end();
    response.writeHead(200, {'Content-Type': kTypes[extname(file)] ?? 'application/octet-stream', 'Cache-Control': 'no-store', 'Access-Control-Allow-Origin': '*'});
    createReadStream(file).pipe(response);
  });
  return new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve({
    url: `http://127.0.0.1:${server.address().port}/`,
    close: () => {
      server.close();
      server.closeAllConnections(); // one kept alive keeps the tests from ending
    },
  })));
}

function playwright() {
  const require = createRequire(import.meta.url);
  const paths = [join(root, 'tests'), process.env.TIEPOINT_NODE_MODULES].filter(Boolean);
  return require(require.resolve('playwright-core', {paths}));
}

const kChromium = (more) => ({
  executablePath: process.env.TIEPOINT_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', ...more],
});

/** @param {string[]} [more] flags of the browser */
export async function launch(more = []) {
  return playwright().chromium.launch(kChromium(more));
}

/** A browser whose profile is a folder, as a person's is: what it keeps is there when it is started again. @param {string} folder */
export async function launchKept(folder) {
  return playwright().chromium.launchPersistentContext(folder, {...kChromium([]), viewport: {width: 1366, height: 768}, serviceWorkers: 'block'});
}

/** The process of the browser on a profile, not of its pages. @param {string} folder @returns {number} */
export function processOf(folder) {
  const found = readdirSync('/proc').filter((id) => /^\d+$/.test(id)).filter((id) => {
    try {
      const words = readFileSync(`/proc/${id}/cmdline`, 'utf8').split('\0');
      return words.includes(`--user-data-dir=${folder}`) && !words.some((word) => word.startsWith('--type='));
    } catch {
      return false; // gone meanwhile
    }
  });
  // A process about to become one of its pages is called as it is for a moment.
  const parent = (id) => {
    try {
      return readFileSync(`/proc/${id}/stat`, 'utf8').split(') ')[1].split(' ')[1];
    } catch {
      return '';
    }
  };
  const first = found.filter((id) => !found.includes(parent(id)));
  if (first.length !== 1) throw new Error(`${first.length} browsers on ${folder}`);
  return Number(first[0]);
}

/**
 * The page, started and at rest. Errors of the page fail the test that reads `page.problems`.
 * @param {import('playwright-core').Browser} browser @param {string} url
 */
export async function open(browser, url, {width = 1366, height = 768, touch = false, address = '?test=1', ...more} = {}) {
  const context = await browser.newContext({viewport: {width, height}, hasTouch: touch, ...more, isMobile: false, acceptDownloads: true, serviceWorkers: 'block'});
  const page = await context.newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error)));
  page.on('console', (message) => message.type() === 'error' && page.problems.push(message.text()));
  page.on('requestfailed', (request) => page.problems.push(`${request.url()} ${request.failure()?.errorText}`));
  page.on('response', (response) => response.status() >= 400 && page.problems.push(`${response.status()} ${response.url()}`));
  await page.goto(url + address);
  await page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
  await settle(page);
  return page;
}

/** Asks the bench; only to read positions, words and readings. */
export const ask = (page, command) => page.evaluate((c) => window.__tiepoint.bench.call(c), command);

/** Two display refreshes: input has been taken up and drawn. */
export const frames = (page, count = 2) => page.evaluate(async (n) => {
  for (let i = 0; i < n; ++i) await new Promise((done) => requestAnimationFrame(done));
}, count);

/** Waits until the bench rests: no frame for a tenth of a second. */
export const settle = (page) => page.evaluate(async () => {
  const {counts} = window.__tiepoint;
  const start = performance.now();
  for (let before = -1; before !== counts().frames && performance.now() - start < 5000;) {
    before = counts().frames;
    await new Promise((done) => setTimeout(done, 100));
  }
});

export async function picture(page, name) {
  mkdirSync(pictures, {recursive: true});
  await page.screenshot({path: join(pictures, `${name}.png`)});
}

/** What the terminal program says of a board file. @param {string} file @param {string[]} more arguments */
export function solve(file, ...more) {
  const program = process.env.TIEPOINT_PROGRAM ?? join(root, 'build/native/tiepoint');
  return JSON.parse(execFileSync(program, ['solve', file, '--json', ...more], {encoding: 'utf8'}));
}

/** What axe-core finds against WCAG 2.2 A and AA in the DOM of a page, one line each. It cannot see a canvas. */
export async function violations(page) {
  const require = createRequire(import.meta.url);
  const paths = [join(root, 'tests'), process.env.TIEPOINT_NODE_MODULES].filter(Boolean);
  await page.evaluate(readFileSync(require.resolve('axe-core/axe.min.js', {paths}), 'utf8'));
  const found = await page.evaluate(() => window.axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}));
  return found.violations.map(({id, nodes}) => `${id}: ${nodes.map((node) => `${node.html} ${node.any.map((one) => one.message).join('; ')}`).join(' | ')}`);
}
