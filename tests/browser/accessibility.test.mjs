// axe-core on the DOM part of the page in each of its states. It cannot see the canvas: what stands there is told in the notebook.
import assert from 'node:assert/strict';
import {test} from 'node:test';
import {open, settle, violations} from './site.mjs';
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
