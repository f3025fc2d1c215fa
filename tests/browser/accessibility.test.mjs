// axe-core on the DOM part of the page in each of its states. It cannot see the canvas: what stands there is told in the notebook.
import assert from 'node:assert/strict';
import {test} from 'node:test';
import {readFileSync} from 'node:fs';
import {ask, frames, open, picture, root, settle, violations} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser;
stage((on) => { ({site, browser} = on); });

/** No violation of WCAG 2.2 A and AA. */
const check = async (page) => assert.deepEqual(await violations(page), []);

/** name -> [size, what to do first] */
const states = {
  'first visit': [{}, async () => {}],
  'a part chosen': [{}, async (page) => page.click('[data-key="R1 resistor"] .part-select')],
  'the wires open': [{}, async (page) => page.click('.wires summary')],
  'the menu open': [{}, async (page) => page.click('#menu-button')],
  'an empty board': [{}, async (page) => page.click('#empty-board')],
  'a refused part': [{}, async (page) => { await page.fill('#add-hole-0', 'z9'); await page.click('#add-do'); }],
  'a held button': [{}, async (page) => { await page.focus('#hint-hold'); await page.keyboard.down('Space'); }],
  'a window 320 pixels wide': [{width: 320, height: 640}, async () => {}],
  'the notebook hidden': [{}, async (page) => page.click('[aria-controls="notebook"]')],
};

for (const [name, [size, act]] of Object.entries(states)) {
  test(`no violations with ${name}`, {timeout: 120000}, async () => {
    const page = await open(browser, site.url, size);
    await act(page);
    await settle(page);
    await check(page);
    await page.context().close();
  });
}

const words = (language) => JSON.parse(readFileSync(`${root}shell/words/${language}.json`, 'utf8'));
/** Nothing on the page is wider than the window, and nothing hides what belongs to it. */
const sticksOut = (page) => page.evaluate(() => [...document.querySelectorAll('body *')].filter((node) => {
  const box = node.getBoundingClientRect(), style = getComputedStyle(node);
  return box.width > 0 && style.visibility !== 'hidden' && !node.closest('.visually-hidden, [hidden], svg') && (box.right > innerWidth + 1 || box.left < -1);
}).map((node) => `${node.tagName} ${node.id} ${node.className}`));

/** Writes a resistance into the notebook as a person does. */
async function setR1(page, text) {
  await page.click('[data-key="R1 resistor"] .part-select');
  await page.fill('[data-key="R1 resistor"] input[data-value="resistance"]', text);
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => /4.7/.test(document.querySelector('[data-key="R1 resistor"] .part-kind').textContent) || /4k7/.test(document.querySelector('[data-key="R1 resistor"] .part-kind').textContent));
}

for (const [tag, locale, direction] of [['de', 'de-AT', 'ltr'], ['es', 'es-MX', 'ltr'], ['he', 'he-IL', 'rtl']]) {
  test(`the browser's language ${locale} is spoken: words, numbers, direction, no violations`, {timeout: 120000}, async () => {
    const page = await open(browser, site.url, {locale});
    const said = words(tag);
    assert.deepEqual(await page.evaluate(() => [document.documentElement.lang, document.documentElement.dir]), [said['language.tag'], direction]);
    assert.equal(await page.locator('.notebook .safety h2, .notebook .safety summary').first().textContent(), said['safety.heading']);
    assert.equal(await page.locator('#menu-button').textContent(), said['bar.menu']);
    await setR1(page, '4.7k');
    const decimal = said['number.decimal'];
    assert.match((await page.locator('[data-key="R1 resistor"]').textContent()).replace(/[\u2066-\u2069]/g, ''), new RegExp(`4\\${decimal}7 kΩ`));
    await check(page);
    // Nothing is left that no catalogue knows: keys show themselves.
    assert.doesNotMatch(await page.evaluate(() => document.body.innerText), /\b(?:bar|menu|notebook|part|add|say|finding|lesson|state|kind|bench)\.[a-z]/);
    // What is wrong and what would be right, and what the parts box is asked, are in that language too.
    const {error} = await ask(page, {do: 'move', part: 'R1', holes: ['z99', 'b5']});
    assert.equal(error.expected.split(', ')[0], said['phrase.{least} to {most}'].replace('{least}', 'a1').replace('{most}', 'j30'));
    const found = (await ask(page, {do: 'find', text: said['find.sound'].split(' ')[0]})).found.map(({kind}) => kind);
    assert.ok(found.includes('loudspeaker'), found.join());
    await page.click('#menu-button');
    await check(page);
    await page.keyboard.press('Escape');
    await picture(page, `language-${tag}`);
    await page.setViewportSize({width: 320, height: 640});
    await settle(page);
    assert.deepEqual(await sticksOut(page), []);
    await picture(page, `language-${tag}-320`);
    // Phones and tablets lie between: the bar keeps all it has in the window, and with time standing it has more.
    for (const pace of ['1', '0']) {
      await page.selectOption('.bar select.pace', pace);
      for (let width = 340; width <= 1380; width += 40) {
        await page.setViewportSize({width, height: 640});
        await frames(page);
        assert.deepEqual(await page.evaluate(() => [...document.querySelectorAll('.bar *')].filter((node) => {
          const box = node.getBoundingClientRect();
          return box.width > 0 && (box.right > innerWidth + 1 || box.left < -1);
        }).map((node) => `${node.id} ${node.className} ${node.textContent}`)), [], `${width} px, pace ${pace}`);
      }
    }
    assert.deepEqual(page.problems, []);
    await page.context().close();
  });
}

test('another language is chosen in the menu, keeps the board, and is remembered; so is the letter code', {timeout: 120000}, async () => {
  const page = await open(browser, site.url);
  const ready = () => page.waitForFunction(() => document.body.classList.contains('ready') && window.__tiepoint);
  const chosen = async (item) => {
    await page.click('#menu-button');
    await Promise.all([page.waitForEvent('load'), page.click(`[data-item="${item}"]`)]);
    await ready();
    await settle(page);
  };
  await page.fill('#title', 'Fog signal');
  await page.press('#title', 'Tab');
  const board = JSON.parse((await ask(page, {do: 'board'})).text);
  await chosen('lang-de');
  assert.equal(await page.evaluate(() => document.documentElement.lang), 'de');
  assert.deepEqual(JSON.parse((await ask(page, {do: 'board'})).text), board);
  assert.equal(await page.locator('[data-item="lang-de"]').getAttribute('aria-current'), 'true');
  await page.reload();
  await ready();
  assert.equal(await page.locator('#menu-button').textContent(), words('de')['bar.menu']);
  await chosen('marking-letter');
  await setR1(page, '4,7k');
  assert.match(await page.locator('[data-key="R1 resistor"]').textContent(), /4k7/);
  assert.equal((await page.evaluate(() => performance.getEntriesByType('resource').map(({name}) => name))).filter((name) => /words\/(es|he)/.test(name)).length, 0);
  await page.context().close();
});

test('at 400 % zoom, in forced colours, with more contrast, in dark, and with still pictures the page has no violations', {timeout: 120000}, async () => {
  // 1280 × 1024 at 400 % is a window of 320 × 256 CSS px (WCAG 2.2, 1.4.10).
  const zoomed = await open(browser, site.url, {width: 320, height: 256, deviceScaleFactor: 4});
  assert.deepEqual(await sticksOut(zoomed), []);
  await check(zoomed);
  await picture(zoomed, 'zoom-400');
  await zoomed.context().close();
  const page = await open(browser, site.url, {width: 640, height: 512});
  await page.setViewportSize({width: 1024, height: 600});
  await settle(page);
  await page.waitForTimeout(300);
  const button = await ask(page, {do: 'point', part: 'S1'}), flag = await page.locator('#callout').boundingBox(), canvas = await page.locator('#bench').boundingBox();
  assert.ok(Math.abs(flag.x + flag.width / 2 - canvas.x - button.x) < 3, `the flag stands at ${flag.x + flag.width / 2 - canvas.x}, the button at ${button.x}`);
  for (const [name, media] of Object.entries({'forced-colours': {forcedColors: 'active'}, 'more-contrast': {forcedColors: null, contrast: 'more'},
    'dark': {contrast: null, colorScheme: 'dark'}, 'reduced-motion': {colorScheme: null, reducedMotion: 'reduce'}})) {
    await page.emulateMedia(media);
    await settle(page);
    // In forced colours the browser paints its own, of which axe is not told.
    const found = (await violations(page)).filter((one) => name !== 'forced-colours' || !one.startsWith('color-contrast'));
    assert.deepEqual(found, [], name);
    await picture(page, name);
  }
  const night = await open(browser, site.url, {colorScheme: 'dark', address: '?test=1&lesson=two-hands'});
  assert.equal(await night.evaluate(() => getComputedStyle(document.querySelector('.notebook')).colorScheme), 'dark');
  await check(night);
  await picture(night, 'lesson-dark');
  await night.context().close();
  const moving = await page.evaluate(() => document.getAnimations().filter((one) => one.playState === 'running').length);
  assert.equal(moving, 0);
  await page.context().close();
});

test('the focus is seen, and under nothing, wherever Tab leads', {timeout: 120000}, async () => {
  const page = await open(browser, site.url, {width: 1024, height: 600});
  await page.click('[data-key="R1 resistor"] .part-select');
  await settle(page);
  await page.evaluate(() => /** @type {any} */ (document.activeElement)?.blur());
  const seen = new Set();
  for (let k = 0; k < 60; ++k) {
    await page.keyboard.press('Tab');
    const found = await page.evaluate(async () => {
      const node = document.activeElement;
      if (!node || node === document.body) return null;
      const inside = (/** @type {number} */ at, /** @type {number} */ size) => Math.min(Math.max(at, 1), size - 1);
      let at, over;
      for (let frame = 0; frame < 60 && !over; ++frame) { // the page scrolls to it within a frame or two
        await new Promise(requestAnimationFrame);
        const box = node.getBoundingClientRect();
        at = document.elementFromPoint(inside(box.x + box.width / 2, innerWidth), inside(box.y + box.height / 2, innerHeight));
        over = frame > 0 && (node.contains(at) || (at?.contains(node) ?? false) || node.closest('label')?.contains(at));
      }
      const style = getComputedStyle(node);
      return {name: `${node.tagName} ${node.id} ${node.className} ${node.getAttribute('aria-label') ?? node.textContent.slice(0, 30)}`, ring: parseFloat(style.outlineWidth) >= 2 && style.outlineStyle !== 'none',
        over, by: `${at?.tagName} ${at?.id} ${at?.className}`};
    });
    if (!found) break;
    assert.ok(found.ring, `no outline: ${found.name}`);
    assert.ok(found.over, `covered: ${found.name} by ${found.by}`);
    seen.add(found.name);
  }
  assert.ok(seen.size > 20, `${seen.size}`);
  await page.context().close();
});

test('with wider text spacing nothing is cut off', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  // WCAG 2.2, 1.4.12.
  await page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }');
    document.adoptedStyleSheets = [sheet];
  });
  await page.click('[data-key="R1 resistor"] .part-select');
  await settle(page);
  const cut = await page.evaluate(() => [...document.querySelectorAll('.notebook *, .bar button')].filter((node) => node.clientWidth > 0 && !node.matches('input, select, .visually-hidden') &&
    getComputedStyle(node).overflow !== 'visible' && (node.scrollWidth > node.clientWidth + 1 || node.scrollHeight > node.clientHeight + 1) && getComputedStyle(node).overflowY !== 'auto')
    .map((node) => `${node.tagName} ${node.className}`));
  assert.deepEqual(cut, []);
  assert.deepEqual(await sticksOut(page), []);
  await picture(page, 'text-spacing');
  await page.context().close();
});
