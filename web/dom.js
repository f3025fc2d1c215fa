// Small helpers for building and keeping DOM. Nodes are kept by key and changed in place: focus, selection and an open field
// survive every update.

const kQuantity = /(?:\b[A-Z][A-Za-z\d]* )?[−+-]?\d+(?:[.,]\d+)?[ \u00a0]?(?:[fpnµmkMGT]?(?:Ω|V|A|W|F|Hz?|s|m|lx|N|T)|°C?|%)(?![\p{L}\d])/gu;

/** Where the page is read from the right, "4.7 kΩ" stays in one piece, read from the left. @param {string} text */
const inOrder = (text) => (document.documentElement.dir === 'rtl' ? text.replace(kQuantity, '\u2066$&\u2069') : text);

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, any>} [props] "class", "on…" listeners, "dataset", else attributes; false and null leave one out
 * @param {...(Node|string|null)} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function el(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else if (name === 'dataset') Object.assign(node.dataset, value);
    else if (value === true) node.setAttribute(name, '');
    else if (value !== false && value != null) node.setAttribute(name, String(value));
  }
  for (const child of children)
    if (child !== null) node.append(typeof child === 'string' ? inOrder(child) : child);
  return node;
}

/**
 * A dialog over the page: a heading, a button and a click beside it that close it, and the focus back where it was.
 * @param {string} id @param {{class?: string, heading: string, close: string}} words @param {...Node} body @returns {HTMLDialogElement} shown; gone when it is closed
 */
export function showDialog(id, words, ...body) {
  const from = /** @type {?HTMLElement} */ (document.activeElement);
  const dialog = el('dialog', {class: words.class ?? 'sheet-dialog', id, 'aria-labelledby': `${id}-heading`},
    el('header', {}, el('h2', {id: `${id}-heading`}, words.heading),
       el('button', {type: 'button', class: 'action', id: `${id}-close`, onclick: () => dialog.close()}, words.close)), ...body);
  dialog.addEventListener('close', () => {
    dialog.remove();
    from?.focus({preventScroll: true});
  });
  dialog.addEventListener('click', (event) => event.target === dialog && dialog.close()); // beside it
  document.body.append(dialog);
  dialog.showModal();
  return dialog;
}

/** Sets text only when it differs. @param {Node} node @param {string} text */
export function setText(node, text) {
  const shown = inOrder(text);
  if (node.textContent !== shown) node.textContent = shown;
}

/** @param {Element} node @param {string} name @param {string|boolean|null} value */
export function setAttribute(node, name, value) {
  if (value === null || value === false) {
    if (node.hasAttribute(name)) node.removeAttribute(name);
  } else {
    const text = value === true ? '' : value;
    if (node.getAttribute(name) !== text) node.setAttribute(name, text);
  }
}

/** What was last written into each field. @type {WeakMap<Element, string>} */
const written = new WeakMap();

/**
 * Writes a field unless someone is writing in it. One that merely has the focus follows: the keyboard may be passing through it
 * while the board changes. @param {HTMLInputElement|HTMLSelectElement} field @param {string} value
 */
export function setField(field, value) {
  const writing = document.activeElement === field && field.value !== (written.get(field) ?? '');
  if (field.value !== value) {
    if (writing) return;
    field.value = value;
  }
  written.set(field, field.value);
}

/** What stands in the field was taken on: from now on it follows again. @param {HTMLInputElement|HTMLSelectElement} field */
export function taken(field) {
  written.set(field, field.value);
}

/**
 * Makes the children of `parent` follow `items`: new keys are created, gone ones removed, the rest updated in place and put in order.
 * @template T
 * @param {Element} parent @param {T[]} items @param {(item: T) => string} keyOf
 * @param {(item: T) => HTMLElement} create @param {(node: HTMLElement, item: T) => void} update
 */
export function reconcile(parent, items, keyOf, create, update) {
  /** @type {Map<string, HTMLElement>} */
  const kept = new Map();
  for (const child of [...parent.children]) kept.set(/** @type {HTMLElement} */ (child).dataset.key ?? '', /** @type {HTMLElement} */ (child));
  /** @type {Element|null} */
  let before = parent.firstElementChild;
  for (const item of items) {
    const key = keyOf(item);
    let node = kept.get(key);
    if (!node) {
      node = create(item);
      node.dataset.key = key;
    }
    kept.delete(key);
    update(node, item);
    if (node === before) before = node.nextElementSibling;
    else parent.insertBefore(node, before);
  }
  for (const node of kept.values()) {
    const held = node.contains(document.activeElement);
    const next = node.nextElementSibling ?? node.previousElementSibling;
    node.remove();
    if (held) focusNear(next, parent);
  }
}

/** The focused thing went away: the keyboard goes on from its neighbour. @param {Element|null} near @param {Element} parent */
function focusNear(near, parent) {
  const inside = near?.querySelector('button, input, select, summary, [tabindex]');
  const target = /** @type {HTMLElement|null} */ (inside ?? parent.closest('[tabindex]'));
  target?.focus({preventScroll: true});
}

/** @param {string} path of a 20 x 20 drawing */
export function icon(path) {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  svg.setAttribute('viewBox', '0 0 20 20');
  svg.setAttribute('aria-hidden', 'true');
  const line = document.createElementNS('http://www.w3.org/2000/svg', 'path');
  line.setAttribute('d', path);
  svg.append(line);
  return svg;
}
