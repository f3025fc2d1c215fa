// Makes each example of the page from the very text that is there to copy.
import {el} from '../dom.js';

const site = new URL('../', import.meta.url).href.replace(/\/$/, '');

for (const snippet of document.querySelectorAll('pre.snippet')) {
  const code = /** @type {HTMLElement} */ (snippet.firstElementChild);
  code.textContent = (code.textContent ?? '').replaceAll('SITE', site);
  /** @type {HTMLElement} */ (snippet).tabIndex = 0;  // longer than a small window: the keyboard must be able to scroll it
  const copy = el('button', {type: 'button', class: 'action copy', onclick: async () => {
    try {
      await navigator.clipboard.writeText(code.textContent ?? '');
      copy.textContent = 'Copied';
    } catch {
      getSelection()?.selectAllChildren(code);
      copy.textContent = 'Selected: press Ctrl+C';
    }
  }}, 'Copy');
  const row = el('div', {class: 'actions'}, copy);
  snippet.after(row);
  if (snippet.classList.contains('plain')) continue;
  const live = el('div', {class: 'live', dataset: {example: snippet.id}});
  live.innerHTML = code.textContent;
  row.after(live);
}

const bench = /** @type {import('../embed.js').TiepointBoard} */ (document.getElementById('bench'));
const told = /** @type {HTMLElement} */ (document.getElementById('told'));

/** @param {string} id @param {(button: HTMLElement) => Promise<string>} act */
function onClick(id, act) {
  const button = /** @type {HTMLElement} */ (document.getElementById(id));
  button.addEventListener('click', async () => {
    told.textContent = await act(button).catch((reason) => String(reason));
  });
}

onClick('hold', async (button) => {
  const down = button.getAttribute('aria-pressed') !== 'true';
  await bench.ask('press', {part: 'S1', down});
  button.setAttribute('aria-pressed', String(down));
  return down ? 'S1 is held' : 'S1 is let go';
});
onClick('ask', async () => {
  const {parts} = await bench.ask('readings');
  const {state, current} = parts.LED1;
  return `LED1: ${state}, ${(current * 1000).toFixed(2)} mA`;
});
onClick('reset', async () => {
  await bench.ask('reset');
  document.getElementById('hold')?.setAttribute('aria-pressed', 'false');
  return 'as it was';
});
