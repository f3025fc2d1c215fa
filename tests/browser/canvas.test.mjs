// The layer between canvas and browser: sharp on dense screens, silent at rest, alive after a lost context and without WebGL, two fingers.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';

import {Mouse, placeOf} from './hand.mjs';
import {ask, frames, launch, open, picture, serve, settle} from './site.mjs';

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

const counts = (page) => page.evaluate(() => window.__tiepoint.counts());
const led = async (page) => (await ask(page, {do: 'words'})).parts.find((part) => part.name === 'LED1').reading;

/** A page on a screen of the given density; only the browser's own flag sets it for real. */
async function onScreen(ratio, work) {
  const browser = await launch([`--force-device-scale-factor=${ratio}`, '--window-size=1200,800']);
  try {
    const context = await browser.newContext({viewport: null});
    const page = await context.newPage();
    await page.goto(`${site.url}?test=1`);
    await page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
    await settle(page);
    await work(page);
  } finally {
    await browser.close();
  }
}

for (const ratio of [1, 1.25, 2]) {
  test(`the canvas has a pixel for each of the screen's at devicePixelRatio ${ratio}`, () => onScreen(ratio, async (page) => {
    const size = await page.evaluate(() => {
      const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('bench'));
      const box = canvas.getBoundingClientRect();
      return {ratio: devicePixelRatio, width: canvas.width, height: canvas.height, wide: box.width, high: box.height};
    });
    assert.equal(size.ratio, ratio);
    assert.ok(Math.abs(size.width - size.wide * ratio) <= 1, JSON.stringify(size));
    assert.ok(Math.abs(size.height - size.high * ratio) <= 1, JSON.stringify(size));
    await picture(page, `canvas-${ratio}x`);
  }));
}

test('in Chromium with software WebGL', async (t) => {
  const browser = await launch();
  t.after(() => browser.close());

  await t.test('a board at rest draws no frame', async () => {
    const page = await open(browser, site.url);
    await page.waitForTimeout(1500);  // the last input's linger
    const early = await counts(page);
    await page.waitForTimeout(3000);
    assert.deepEqual(await counts(page), early);
    assert.deepEqual(page.problems, []);
    await page.context().close();
  });

  await t.test('a lost WebGL context comes back with the same picture', async () => {
    const page = await open(browser, site.url);
    await page.waitForTimeout(1000);
    const stage = page.locator('#bench');
    const was = await stage.screenshot();
    await page.evaluate(() => {
      const gl = /** @type {HTMLCanvasElement} */ (document.getElementById('bench')).getContext('webgl2');
      window.loss = gl.getExtension('WEBGL_lose_context');
      window.loss.loseContext();
    });
    await page.waitForTimeout(300);
    await page.evaluate(() => window.loss.restoreContext());
    await page.waitForTimeout(800);
    assert.ok((await stage.screenshot()).equals(was), 'another picture');
    assert.deepEqual(page.problems.filter((problem) => !/context/i.test(problem)), []);
    await page.context().close();
  });

  await t.test('a smaller window is drawn at once', async () => {
    const page = await open(browser, site.url);
    const early = await counts(page);
    const wide = () => page.evaluate(() => /** @type {HTMLCanvasElement} */ (document.getElementById('bench')).width);
    const was = await wide();
    await page.setViewportSize({width: 900, height: 600});
    await page.waitForFunction((width) => /** @type {HTMLCanvasElement} */ (document.getElementById('bench')).width < width, was);
    await frames(page);
    assert.ok((await counts(page)).pictures > early.pictures);
    await picture(page, 'canvas-small-window');
    await page.context().close();
  });

  await t.test('a button held when the page loses the keyboard is let go', async () => {
    const page = await open(browser, site.url);
    const mouse = new Mouse(page);
    await mouse.down(await placeOf(page, {part: 'S1'}));
    await frames(page, 6);
    assert.equal((await led(page)).state, 'lit');
    await page.evaluate(() => /** @type {HTMLElement} */ (document.getElementById('bench')).blur());
    await frames(page, 6);
    assert.equal((await led(page)).state, 'dark');
    await page.mouse.up();
    await page.context().close();
  });

  await t.test('two fingers spread to twice the distance make the board twice as large, and press nothing', async () => {
    const page = await open(browser, site.url, {touch: true});
    const pitch = async () => {
      const [a, b] = await Promise.all(['e8', 'e9'].map((hole) => ask(page, {do: 'point', hole})));
      return b.x - a.x;
    };
    const was = await pitch();
    const centre = await placeOf(page, {part: 'S1'});
    const protocol = await page.context().newCDPSession(page);
    const touch = async (type, ...points) => {
      await protocol.send('Input.dispatchTouchEvent', {type, touchPoints: points.map((x, id) => ({x: centre.x + x, y: centre.y, id}))});
      await frames(page, 3);
    };
    await touch('touchStart', -40);
    await touch('touchStart', -40, 40);
    assert.equal((await led(page)).state, 'dark', 'the second finger cancels the press of the first');
    for (let spread = 45; spread <= 80; spread += 5) await touch('touchMove', -spread, spread);
    await touch('touchEnd');
    const ratio = (await pitch()) / was;
    assert.ok(Math.abs(ratio - 2) < 0.02, `factor ${ratio}`);
    assert.equal((await ask(page, {do: 'words'})).undo, null, 'nothing on the board changed');
    await page.context().close();
  });
});

test('without WebGL the bench is drawn in software and works', async (t) => {
  const browser = await launch(['--disable-gpu', '--disable-3d-apis']);
  t.after(() => browser.close());
  const page = await open(browser, site.url);
  assert.equal(await page.evaluate(() => window.__tiepoint.bench.host.usesGpu), false);
  const mouse = new Mouse(page);
  await mouse.down(await placeOf(page, {part: 'S1'}));
  await frames(page, 6);
  assert.equal((await led(page)).state, 'lit');
  await picture(page, 'canvas-software');
  await mouse.up();
  assert.equal((await led(page)).state, 'dark');
  const colours = await page.evaluate(() => {
    const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('bench'));
    const data = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data;
    return new Set(new Uint32Array(data.buffer)).size;
  });
  assert.ok(colours > 100, `${colours} colours`);
  await page.context().close();
});
