// The bench in other people's pages: two origins on this machine, the course page on one port and the bench on another.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync} from 'node:fs';
import {createServer} from 'node:http';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {open, picture, root, serve, settle, siteFolder, violations} from './site.mjs';
import {stage} from './stage.mjs';

const kTime = {timeout: 60000};

let site, browser, course;
const pages = new Map();  // path -> {html, headers}

stage((on) => { ({site, browser} = on); });
before(async () => {
  const server = createServer((request, response) => {
    const page = pages.get(new URL(request.url, 'http://x').pathname);
    if (!page) return response.writeHead(request.url === '/favicon.ico' ? 204 : 404).end();
    response.writeHead(200, {'Content-Type': 'text/html; charset=utf-8', ...page.headers}).end(page.html);
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  course = {url: `http://localhost:${server.address().port}`, near: `http://127.0.0.1:${server.address().port}`, close: () => server.close()};
});
after(() => course?.close());

const kEars = `<script>
  window.heard = []; window.answers = new Map();
  addEventListener('message', ({data, origin, source}) => {
    if (data.tiepoint === 'event') heard.push({...data, origin});
    if (data.tiepoint === 'answer') answers.set(data.id, data);
  });
  window.post = (message) => document.querySelector('iframe').contentWindow.postMessage(message, '*');
  window.ask = async (what, args = {}, id = Math.floor(Math.random() * 1e9)) => {
    post({tiepoint: 'ask', version: 1, id, do: what, ...args});
    for (let i = 0; i < 500 && !answers.has(id); ++i) await new Promise((done) => setTimeout(done, 20));
    return answers.get(id);
  };
</script>`;
const kPlenty = '<div style="height:1500px">The rest of the course</div>';

/** A course page in a tab of its own. @param {string} body */
async function openCourse(body, {headers = {}, touch = false, width = 1100, height = 760, from = course.url} = {}) {
  const path = `/${pages.size}`;
  pages.set(path, {html: `<!doctype html><title>Course</title>${kEars}<body>${body.replaceAll('SITE/', site.url)}`, headers});
  const page = await (await browser.newContext({viewport: {width, height}, hasTouch: touch})).newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error)));
  // Among the warnings is the browser's about too many contexts.
  page.on('console', (message) => (message.type() === 'error' || /WebGL|context/i.test(message.text())) && page.problems.push(message.text()));
  await page.goto(from + path);
  return page;
}

/** The frame's document, when its board is on the bench. */
async function bench(page, at = 0) {
  const element = await page.locator('iframe').nth(at).elementHandle();
  const frame = await element.contentFrame();
  await frame.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
  return frame;
}
const asleep = (frame) => frame.evaluate(() => document.body.classList.contains('asleep'));
const untilAsleep = (frame, wanted) => frame.waitForFunction((want) => document.body.classList.contains('asleep') === want, wanted);
// With twenty frames the browser may still send a click to where another frame stood before the page was scrolled: only a click that this
// frame has not even heard is given again.
const clickGate = async (frame) => {
  await frame.evaluate(() => window.addEventListener('pointerdown', () => (window.heardPointer = true), true));
  for (let tries = 0; tries < 4 && !await frame.evaluate(() => window.heardPointer); ++tries) {
    await frame.locator('#gate').click();
    await frame.waitForFunction(() => window.heardPointer, null, {timeout: 2000}).catch(() => {});
  }
};
const scrolled = (page) => page.evaluate(() => scrollY);
const zoom = (frame) => frame.evaluate(() => ['a20', 'a10'].map((hole) => window.__tiepoint.bench.call({do: 'point', hole}).x).reduce((a, b) => a - b));
const pause = (page, time = 250) => page.waitForTimeout(time);
const frameTag = (address = '?test=1&board=one-button', more = '') => `<iframe src="SITE/${address}" width="900" height="480" ${more}></iframe>`;

test('in a frame that may only run scripts the bench runs, says that nothing is saved, and hands its board to the page', kTime, async () => {
  const page = await openCourse(frameTag(undefined, 'sandbox="allow-scripts"'),
                                {headers: {'Content-Security-Policy': `default-src 'none'; script-src 'unsafe-inline'; frame-src ${site.url}`}});
  const frame = await bench(page);
  assert.equal(await frame.evaluate(() => self.origin), 'null');
  assert.match(await frame.locator('#kept').textContent(), /^Not saved here: /);
  await picture(page, 'embed-sandboxed');
  assert.equal((await page.evaluate(() => heard.find((one) => one.event === 'ready'))).kept, false);
  await frame.locator('#gate').click();
  await frame.fill('#title', 'Lantern room');
  await frame.press('#title', 'Tab');
  await page.waitForFunction(() => heard.some((one) => one.event === 'changed'));
  const changed = await page.evaluate(() => heard.find((one) => one.event === 'changed'));
  assert.equal(changed.board.title, 'Lantern room');
  assert.equal(changed.kept, false);
  await page.waitForTimeout(100);
  await picture(page, 'embed-awake');
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test('wheel and touch belong to the course page until somebody wakes the bench, and again after', kTime, async () => {
  const page = await openCourse(frameTag() + kPlenty, {touch: true});
  const frame = await bench(page);
  await page.mouse.move(400, 250);
  await page.mouse.wheel(0, 120);
  await pause(page);
  assert.equal(await scrolled(page), 120);
  await page.evaluate(() => scrollTo(0, 0));
  const touch = await page.context().newCDPSession(page);
  const finger = (type, y) => touch.send('Input.dispatchTouchEvent', {type, touchPoints: y ? [{x: 400, y, id: 1}] : []});
  await finger('touchStart', 400);
  for (let y = 390; y >= 200; y -= 10) await finger('touchMove', y);
  await finger('touchEnd');
  await pause(page, 400);
  assert.ok(await scrolled(page) > 100, 'a finger on the sleeping bench scrolls the page');
  assert.equal(await asleep(frame), true);
  await page.evaluate(() => scrollTo(0, 0));
  await pause(page);  // until the browser, too, knows where the frame stands now

  await page.mouse.click(400, 250);
  await untilAsleep(frame, false);
  await pause(page);
  const before = await zoom(frame);
  await page.mouse.wheel(0, 120);
  await pause(page);
  assert.equal(await scrolled(page), 0);
  assert.ok(await zoom(frame) < before, 'the wheel zooms the bench');

  await page.mouse.click(400, 700);  // on the course page
  await untilAsleep(frame, true);
  await page.mouse.move(400, 250);
  await page.mouse.wheel(0, 120);
  await pause(page);
  assert.equal(await scrolled(page), 120);
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test('by keyboard: one stop while asleep, Enter wakes, Escape and F6 leave, Tab is never trapped', kTime, async () => {
  const page = await openCourse(`<a href="#" id="above">above</a>${frameTag()}<a href="#" id="below">below</a>${kPlenty}`);
  const frame = await bench(page);
  assert.deepEqual(await violations(frame), [], 'asleep');
  await page.focus('#above');
  await page.keyboard.press('Tab');
  assert.equal(await frame.evaluate(() => document.activeElement.id), 'gate');
  assert.match(await frame.locator('#gate').textContent(), /press Enter to use this bench/);
  await page.keyboard.press('Tab');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'below');
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('PageDown');
  await pause(page, 400);
  assert.ok(await scrolled(page) > 200, 'keys scroll the course page while the bench sleeps');
  await page.keyboard.press('Enter');
  await untilAsleep(frame, false);
  assert.equal(await frame.evaluate(() => document.activeElement.id), 'bench');
  await frame.waitForFunction(() => /Escape or F6/.test(document.getElementById('status').textContent));
  assert.deepEqual(await violations(frame), [], 'awake');
  for (const key of ['F6', 'Escape']) {
    await page.keyboard.press(key);
    await untilAsleep(frame, true);
    assert.equal(await frame.evaluate(() => document.activeElement.id), 'gate');
    await page.keyboard.press('Enter');
    await untilAsleep(frame, false);
  }
  await settle(frame); // the bench has taken the keys of before: a slow machine may still have an Escape waiting for its next frame
  await frame.evaluate(() => window.__tiepoint.bench.call({do: 'select', part: 'R1'}));
  await pause(page);
  await page.keyboard.press('Escape');
  await pause(page);
  assert.equal(await asleep(frame), false, `the first Escape puts down what is in the hand; ${JSON.stringify(await page.evaluate(() => heard.filter((one) => one.event === 'asleep')))}`);
  await page.keyboard.press('Escape');
  await untilAsleep(frame, true);
  await page.keyboard.press('Enter');
  await untilAsleep(frame, false);
  let out = false;
  for (let i = 0; i < 200 && !out; ++i) {
    await page.keyboard.press('Tab');
    out = await page.evaluate(() => document.activeElement.id === 'below');
  }
  assert.ok(out, 'Tab comes out at the other end');
  await untilAsleep(frame, true);
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test('the course page asks and is answered', kTime, async () => {
  const page = await openCourse(frameTag());
  const frame = await bench(page);
  const ask = (what, args) => page.evaluate(([w, a]) => window.ask(w, a), [what, args]);
  const led = async () => (await ask('readings')).parts.LED1;
  const ready = await page.evaluate(() => heard.map((one) => one.event));
  assert.deepEqual(ready.slice(0, 3), ['waiting', 'ready', 'height']);
  assert.ok((await ask('press', {part: 'S1', down: true})).ok);
  await pause(page, 400);
  assert.equal((await led()).state, 'lit');
  assert.equal((await ask('press', {part: 'S9', down: true})).error.code, 'unknown-part');
  assert.ok((await ask('press', {part: 'S1', down: false})).ok);
  const {board} = await ask('board');
  assert.equal(board.tiepoint, 'board');
  const mine = {...board, title: 'From the course', parts: board.parts.filter((part) => part.name !== 'LED1')};
  assert.deepEqual(await ask('load', {board: mine}).then(({ok, title}) => ({ok, title})), {ok: true, title: 'From the course'});
  assert.equal(await led(), undefined);
  assert.ok((await ask('read-only', {on: true})).ok);
  await frame.evaluate(() => window.__tiepoint.bench.call({do: 'select', part: 'R1'}));
  await frame.evaluate(() => window.__tiepoint.bench.call({do: 'remove'}));
  assert.equal((await ask('board')).board.parts.length, mine.parts.length, 'nothing can be removed from a read-only board');
  assert.ok((await ask('load', {board: JSON.stringify(board)})).ok, 'but the course page may load another');
  assert.ok((await ask('read-only', {on: false})).ok);
  await frame.evaluate(() => window.__tiepoint.bench.call({do: 'edit', edit: {edit: 'remove', part: 'R1'}}));
  assert.equal((await ask('board')).board.parts.length, board.parts.length - 1);
  assert.ok((await ask('reset')).ok);
  assert.equal((await ask('board')).board.parts.length, board.parts.length);
  assert.ok((await ask('focus')).ok);
  await untilAsleep(frame, false);
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test('hostile messages are refused with a reason, or not heard, and change nothing', kTime, async () => {
  const page = await openCourse(`${frameTag()}<iframe id="stranger" srcdoc="<p>another frame"></iframe>`);
  const frame = await bench(page);
  const board = () => frame.evaluate(() => window.__tiepoint.bench.call({do: 'board'}).text);
  const first = await board();
  const refused = await page.evaluate(async () => {
    const loop = {tiepoint: 'board'}; loop.self = loop;
    let deep = []; for (let i = 0; i < 500; ++i) deep = [deep];
    const tries = {
      'another version': [{version: 2}, 'version'], 'no version': [{version: undefined}, 'version'],
      'no such ask': [{do: 'format'}, 'unknown-ask'], 'a name of the prototype': [{do: 'constructor'}, 'unknown-ask'],
      'an ask that is a list': [{do: ['board']}, 'unknown-ask'], 'one key too many': [{do: 'board', also: 1}, 'unknown-key'],
      'a missing argument': [{do: 'press', part: 'S1'}, 'wrong-type'], 'a wrong type': [{do: 'press', part: {}, down: 1}, 'wrong-type'],
      'an endless name': [{do: 'press', part: 'S'.repeat(1e6), down: true}, 'wrong-type'], 'a list for a board': [{do: 'load', board: []}, 'wrong-type'],
      'a board in itself': [{do: 'load', board: loop}, 'wrong-type'], 'a board with no end': [{do: 'load', board: ' '.repeat((1 << 20) + 1)}, 'too-large'],
      'no board at all': [{do: 'load', board: '<script>alert(1)</script>'}, 'bad-json'],
      'a board of depth': [{do: 'load', board: {deep}}, ['missing-key', 'bad-json']],
    };
    const wrong = [];
    for (const [name, [more, code]] of Object.entries(tries)) {
      answers.delete(name);
      post({tiepoint: 'ask', version: 1, id: name, ...more});
      for (let i = 0; i < 250 && !answers.has(name); ++i) await new Promise((done) => setTimeout(done, 20));
      const got = answers.get(name);
      if (!got || got.ok || ![code].flat().includes(got.error.code) || !got.error.text) wrong.push([name, got]);
    }
    for (const id of [undefined, {}, '', 'x'.repeat(61), 1.5, NaN]) post({tiepoint: 'ask', version: 1, id, do: 'board'});
    for (const noise of [null, 7, 'ask', [], {}, {tiepoint: 'answer', id: 1}, {tiepoint: {}}]) post(noise);
    return wrong;
  });
  assert.deepEqual(refused, []);
  await pause(page);
  assert.deepEqual(await page.evaluate(() => [...answers].filter(([id]) => id === null).map(([, one]) => one.error.code)), ['wrong-type']);
  // The stranger beside it is not the page around it.
  const stranger = await (await page.locator('#stranger').elementHandle()).contentFrame();
  await stranger.evaluate(() => {
    addEventListener('message', () => (window.answered = true));
    parent.frames[0].postMessage({tiepoint: 'ask', version: 1, id: 1, do: 'load', board: '{}'}, '*');
    parent.frames[0].postMessage({tiepoint: 'ask', version: 1, id: 2, do: 'board'}, '*');
  });
  await pause(page, 400);
  assert.equal(await stranger.evaluate(() => window.answered), undefined);
  assert.equal(await board(), first);
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test('with a host in the address only pages of that origin are heard and told', kTime, async () => {
  const page = await openCourse(frameTag('?test=1&board=one-button&host=https://museum.invalid'));
  await bench(page);
  await page.evaluate(() => post({tiepoint: 'ask', version: 1, id: 1, do: 'board'}));
  await pause(page, 400);
  assert.deepEqual(await page.evaluate(() => [heard.length, answers.size]), [0, 0]);
  await page.context().close();
  const named = await openCourse(frameTag(`?test=1&board=one-button&host=${course.url}`));
  await bench(named);
  assert.equal((await named.evaluate(() => window.ask('board'))).ok, true);
  await named.context().close();
});

test('what was built in a frame is there again in that frame alone, and reset brings back the author\'s board', kTime, async () => {
  const page = await openCourse(frameTag() + frameTag('?test=1&board=two-in-series'),
                                {from: course.near});  // another origin, but of the same site: its frames may store
  const frame = await bench(page);
  await frame.locator('#gate').click();
  await frame.fill('#title', 'Mine');
  await frame.press('#title', 'Tab');
  await frame.waitForFunction(() => document.getElementById('kept').dataset.state === 'saved');
  await page.reload();
  const again = await bench(page);
  assert.equal(await again.inputValue('#title'), 'Mine');
  assert.notEqual(await (await bench(page, 1)).inputValue('#title'), 'Mine');
  assert.equal((await page.evaluate(() => window.ask('reset'))).ok, true);
  await again.waitForFunction(() => document.getElementById('title').value !== 'Mine');
  await page.context().close();
});

test('twenty benches on a page start when they are seen, and none holds a WebGL context while it sleeps', {timeout: 90000}, async () => {
  const names = ['one-button', 'two-in-series', 'two-in-parallel', 'call-bell-lamp', 'signal-lantern'];
  const all = Array.from({length: 20}, (_, i) => `<tiepoint-board board="${names[i % 5]}" title="Bench ${i + 1}" height="320"></tiepoint-board><p>${i}</p>`);
  const page = await openCourse(`<script type="module" src="SITE/embed.js"></script>${all.join('')}`,
                                {width: 660, height: 560, headers: {'Content-Security-Policy': `default-src 'none'; script-src 'unsafe-inline' ${site.url}; frame-src ${site.url}`}});
  await page.waitForFunction(() => document.querySelector('iframe'));
  assert.ok(await page.locator('iframe').count() <= 5, 'frames far below are not made yet');
  const started = () => page.evaluate(() => heard.filter((one) => one.event === 'ready').length);
  await page.waitForFunction(() => heard.filter((one) => one.event === 'ready').length >= 1);
  for (let i = 0; i < 20; ++i) {
    await page.locator('tiepoint-board').nth(i).scrollIntoViewIfNeeded();
    await page.waitForFunction((count) => heard.filter((one) => one.event === 'ready').length >= count, i + 1);
  }
  assert.equal(await started(), 20);
  await pause(page, 1200);
  const frames = page.frames().filter((frame) => frame.parentFrame());
  const holding = await Promise.all(frames.map((frame) => frame.evaluate(() => !document.querySelector('#bench').getContext('webgl2')?.isContextLost())));
  assert.deepEqual(holding.filter(Boolean), [], 'contexts held');
  await picture(page, 'embed-twenty');
  // The first of them comes back to life.
  await page.locator('tiepoint-board').first().scrollIntoViewIfNeeded();
  const first = frames[0];
  await clickGate(first);
  await untilAsleep(first, false);
  await first.waitForFunction(() => !document.querySelector('#bench').getContext('webgl2').isContextLost() && !document.querySelector('.still'));
  await pause(page);
  await picture(page, 'embed-twenty-first');
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test('the page of examples runs what it shows', kTime, async () => {
  const context = await browser.newContext({viewport: {width: 1366, height: 768}});
  const page = await context.newPage();
  const problems = [];
  page.on('pageerror', (error) => problems.push(String(error)));
  page.on('console', (message) => message.type() === 'error' && problems.push(message.text()));
  await page.goto(`${site.url}embed/`);
  for (const id of ['frame', 'element', 'locked', 'file', 'talk']) {
    const live = page.locator(`[data-example="${id}"]`);
    await live.scrollIntoViewIfNeeded();
    const frame = await (await live.locator('iframe').elementHandle({timeout: 5000})).contentFrame();
    await frame.waitForSelector('body.ready', {state: 'attached'});
    assert.ok((await page.locator(`#${id} code`).textContent()).includes(id === 'frame' ? `src="${site.url}?board=` : '<tiepoint-board'));
    const wanted = {frame: 'One button', element: 'Two buttons', locked: 'The two-keeper signal', file: 'The keeper', talk: 'One button'}[id];
    // The frame bears the page's own name until its board has come.
    await frame.waitForFunction((name) => document.querySelector('.gate-name').textContent.startsWith(name), wanted);
  }
  await page.click('#hold');
  await page.waitForFunction(() => /held/.test(document.getElementById('told').textContent));
  await pause(page, 400);
  await page.click('#ask');
  await page.waitForFunction(() => /^LED1: lit, 9\.\d\d mA/.test(document.getElementById('told').textContent));
  await picture(page, 'embed-examples');
  assert.deepEqual(await page.evaluate(async () => {
    const {asks} = await import('../messages.js');
    const shown = [...document.querySelectorAll('#asks th')].map((cell) => cell.textContent);
    return [Object.keys(asks).sort().join(), shown.sort().join()];
  }).then(([known, shown]) => known === shown), true, 'the table tells of every ask');
  assert.deepEqual(await violations(page), []);
  assert.deepEqual(problems, []);
  await context.close();
});

test('a page to paste leads by its link to a description that shows the same board', kTime, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'tiepoint-'));
  const pasted = await serve(folder);
  try {
    for (const name of readdirSync(siteFolder)) symlinkSync(join(siteFolder, name), join(folder, name));
    execFileSync(join(root, 'web/tools/pages-to-paste'), [join(root, 'web/index.html'), join(root, 'examples'), folder, pasted.url]);
    const page = await open(browser, pasted.url, {address: 'board-two-in-series.html?test=1'});
    const found = await page.evaluate(async () => (await fetch(document.querySelector('link[rel="alternate"][type="application/json+oembed"]').href)).json());
    // oEmbed 1.0, section 2.3.4 (from memory): version and type always, of "rich" also html, width and height.
    assert.deepEqual([found.version, found.type, typeof found.width, typeof found.height], ['1.0', 'rich', 'number', 'number']);
    const {title} = JSON.parse(readFileSync(join(root, 'examples/two-in-series.board.json'), 'utf8'));
    assert.equal(found.title, title);
    assert.equal(await page.inputValue('#title'), title);
    assert.match(found.html, new RegExp(`^<iframe src="${pasted.url}\\?board=two-in-series" `));
    assert.deepEqual(page.problems, []);
    await page.context().close();
  } finally {
    pasted.close();
    rmSync(folder, {recursive: true});
  }
});
