// What someone sees who opens the page for the first time, on screens of four sizes; and that the page rests when nobody touches it.
import assert from 'node:assert/strict';
import {before, test} from 'node:test';
import {Mouse, placeOf} from './hand.mjs';
import {ask, open, picture, pictures, settle} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser;
stage((on) => { ({site, browser} = on); });

const ledState = async (page) => (await ask(page, {do: 'readings'})).parts.LED1.state;

test('a finished circuit waits for its button to be held', {timeout: 120000}, async () => {
  const page = await open(browser, site.url, {address: '?test=1'});
  await settle(page);
  assert.equal(await ledState(page), 'dark');
  assert.equal(await page.locator('.hint-text').textContent(), 'Hold S1 down and watch LED1.');
  const callout = await page.locator('#callout').boundingBox(), s1 = await placeOf(page, {part: 'S1'});
  assert.ok(callout && Math.abs(callout.x + callout.width / 2 - s1.x) < 30 && callout.y > s1.y && callout.y - s1.y < 90, 'the flag points at S1');

  const mouse = new Mouse(page);
  await mouse.down(s1);
  await settle(page);
  assert.equal(await ledState(page), 'lit');
  await page.waitForFunction(() => /LED1 lit/.test(document.getElementById('status').textContent), undefined, {timeout: 3000});
  await picture(page, 'first-visit-held');
  await mouse.up();
  await settle(page);
  assert.equal(await ledState(page), 'dark');
  assert.equal(await page.locator('#callout').isVisible(), false, 'the flag is gone once the button was held');
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

// The module comes in two halves. A call that needs the second before it is here would make the page stand still for it.
test('the first circuit works while the second half of the program is still on its way', {timeout: 120000}, async () => {
  const context = await browser.newContext({viewport: {width: 1366, height: 768}, serviceWorkers: 'block'}), page = await context.newPage();
  let letGo = () => {};
  const held = new Promise((resolve) => (letGo = resolve));
  await page.route(/tiepoint\.more/, async (route) => { await held; await route.continue(); });
  await page.goto(`${site.url}?test=1`);
  await page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
  await settle(page);
  const mouse = new Mouse(page);
  await mouse.down(await placeOf(page, {part: 'S1'}));
  await settle(page);
  assert.equal(await ledState(page), 'lit');
  await mouse.up();
  await settle(page);
  letGo();
  await page.waitForFunction(() => performance.getEntriesByType('resource').some(({name}) => /tiepoint\.more/.test(name)));
  const ways = await page.evaluate(() => performance.getEntriesByType('resource').filter(({name}) => /tiepoint\.more/.test(name)).map((one) => one.initiatorType));
  assert.ok(ways.length > 0 && ways.every((way) => way !== 'xmlhttprequest'), ways.join());
  await context.close();
});

test('the notebook’s own button can be held with mouse and keys', {timeout: 120000}, async () => {
  const page = await open(browser, site.url);
  await page.hover('#hint-hold');
  await page.mouse.down();
  await settle(page);
  assert.equal(await ledState(page), 'lit');
  await page.mouse.up();
  await settle(page);
  assert.equal(await ledState(page), 'dark');
  await page.focus('#hint-hold');
  await page.keyboard.down('Space');
  await settle(page);
  assert.equal(await ledState(page), 'lit');
  await page.keyboard.up('Space');
  await settle(page);
  assert.equal(await ledState(page), 'dark');
  await page.context().close();
});

test('the empty board is one click away', {timeout: 120000}, async () => {
  const page = await open(browser, site.url);
  await page.click('#empty-board');
  await settle(page);
  assert.equal((await ask(page, {do: 'words'})).parts.length, 0);
  assert.equal(await page.locator('#hint').isVisible(), false);
  await picture(page, 'empty');
  await page.context().close();
});

/** In the page: where its pieces lie. They are given to the page as text. */
function pieces() {
  const box = (node) => node && node.checkVisibility() ? node.getBoundingClientRect().toJSON() : null;
  const bar = document.getElementById('bar');
  return {
    bar: box(bar), notebook: box(document.getElementById('notebook')), stage: box(document.getElementById('stage')), search: box(document.getElementById('search')),
    inBar: [...bar.querySelectorAll('button, select')].filter((node) => node.checkVisibility() && !node.closest('.menu-panel')).map((node) => ({name: node.id || node.getAttribute('aria-label') || node.textContent, ...node.getBoundingClientRect().toJSON()})),
  };
}

const over = (a, b) => a && b && Math.min(a.right, b.right) - Math.max(a.left, b.left) > 0.5 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 0.5;

/** Nothing lies over anything else, and all of it within the window. */
function assertApart(shape, width, height) {
  assert.equal(over(shape.bar, shape.stage), false, 'bar and bench');
  assert.ok(!over(shape.notebook, shape.stage), 'notebook and bench');
  for (const [at, one] of shape.inBar.entries()) {
    assert.ok(one.left >= 0 && one.right <= width && one.bottom <= shape.bar.bottom + 0.5, `${one.name} is within the bar`);
    for (const other of shape.inBar.slice(at + 1)) assert.equal(Boolean(over(one, other)), false, `${one.name} over ${other.name}`);
  }
  assert.ok(shape.search && shape.search.left >= shape.stage.left && shape.search.right <= shape.stage.right && shape.search.bottom <= height, 'the search field lies on the bench');
}

for (const [width, height, touch] of [[1366, 768], [1024, 600], [820, 1180, true], [360, 640, true], [1920, 1080]]) {
  test(`the page fits ${width} by ${height}`, {timeout: 120000}, async () => {
    const page = await open(browser, site.url, {width, height, touch});
    await picture(page, `first-visit-${width}x${height}`);
    const shape = await page.evaluate(() => ({
      wide: document.documentElement.scrollWidth,
      high: document.documentElement.scrollHeight,
      small: [...document.querySelectorAll('button, input, select, summary')].filter((node) => node.checkVisibility()).map((node) => {
        const box = node.getBoundingClientRect();
        return {name: node.getAttribute('aria-label') || node.textContent || node.id, width: box.width, height: box.height};
      }).filter((box) => box.width < 24 || box.height < 24),
      canvas: document.getElementById('bench').getBoundingClientRect().toJSON(),
    }));
    assertApart(await page.evaluate(`(${pieces})()`), width, height);
    assert.ok(shape.wide <= width && shape.high <= height, JSON.stringify(shape));
    assert.deepEqual(shape.small, [], 'nothing to press is smaller than 24 px');
    assert.ok(shape.canvas.width >= Math.min(width, 600) * 0.9 && shape.canvas.height >= 300, JSON.stringify(shape.canvas));
    for (const name of ['S1', 'LED1']) {
      const at = await placeOf(page, {part: name});
      assert.ok(at.x > 0 && at.x < width && at.y > 0 && at.y < height, `${name} is in sight`);
    }
    assert.deepEqual(page.problems, []);
    await page.context().close();
  });
}

test('a frame of 720 by 480 shows the whole bench once it is woken', {timeout: 120000}, async () => {
  const context = await browser.newContext({viewport: {width: 800, height: 600}});
  const page = await context.newPage();
  const body = `<iframe id="course" src="${site.url}?test=1" width="720" height="480" style="border:0"></iframe>`;
  await page.route(`${site.url}course.html`, (route) => route.fulfill({contentType: 'text/html', body}));
  await page.goto(`${site.url}course.html`);
  const frame = await (await page.waitForSelector('#course')).contentFrame();
  await frame.waitForSelector('body.ready', {state: 'attached'});
  await frame.click('.gate');
  await settle(frame);
  await page.screenshot({path: `${pictures}/frame-720x480.png`});
  const shape = await frame.evaluate(`(${pieces})()`);
  assertApart({...shape, search: shape.search}, 720, 480);
  assert.ok(shape.stage.width >= 400 && shape.stage.height >= 300, JSON.stringify(shape.stage));
  assert.equal(await frame.evaluate(() => document.documentElement.scrollWidth <= innerWidth && document.documentElement.scrollHeight <= innerHeight), true);
  await context.close();
});

test('three seconds without input cost no frame', {timeout: 120000}, async () => {
  const page = await open(browser, site.url);
  await page.mouse.move(500, 300);
  await page.waitForTimeout(1500);
  const before = await page.evaluate(() => window.__tiepoint.counts().frames);
  await page.waitForTimeout(3000);
  assert.equal(await page.evaluate(() => window.__tiepoint.counts().frames), before);
  await page.context().close();
});

test('every control has a name, and every field a label', {timeout: 120000}, async () => {
  const page = await open(browser, site.url);
  await page.click('[data-key="R1 resistor"] .part-select');
  await settle(page);
  const nameless = await page.evaluate(() => [...document.querySelectorAll('button, input, select, summary, [role]')].filter((node) => {
    if (['status', 'alert'].includes(node.getAttribute('role') ?? '')) return false;
    const label = node.labels?.[0]?.textContent ?? '';
    return !(node.getAttribute('aria-label') || node.textContent.trim() || label.trim());
  }).map((node) => node.outerHTML));
  assert.deepEqual(nameless, []);
  await page.context().close();
});
