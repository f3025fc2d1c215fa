// A small picture of a board for the marking table, drawn from where its leads sit. It has no words: the row beside it says it all.

/** @typedef {{boards: number[][], parts: {kind: string, wire: boolean, colour?: string, at: number[]}[]}} Sketch in hole steps */

/** @type {Record<string, string>} */
const kColours = {red: '#c8392b', green: '#2f8f4e', yellow: '#d9a400', blue: '#2f62b5', white: '#d8d4c8', black: '#2a2f33', orange: '#d9711c', amber: '#d98c00',
  brown: '#7a4d2b', violet: '#7a4fa3', grey: '#7f8489', pink: '#d97a9b'};

/** @param {string} tag @param {Record<string, string|number>} attributes */
function shape(tag, attributes) {
  const node = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, String(value));
  return node;
}

/** @param {Sketch} sketch */
export function thumbnail(sketch) {
  const left = Math.min(...sketch.boards.map(([x]) => x)), top = Math.min(...sketch.boards.map(([, y]) => y));
  const right = Math.max(...sketch.boards.map(([x, , w]) => x + w)), bottom = Math.max(...sketch.boards.map(([, y, , h]) => y + h));
  const svg = shape('svg', {viewBox: `${left - 0.5} ${top - 0.5} ${right - left + 1} ${bottom - top + 1}`, class: 'thumbnail', 'aria-hidden': 'true'});
  for (const [x, y, width, height] of sketch.boards) {
    svg.append(shape('rect', {x, y, width, height, rx: 0.8, fill: '#f3ede0', stroke: '#b9ad8f', 'stroke-width': 0.25}));
    const gap = y + (height > 15 ? 9.5 : 6.5);
    svg.append(shape('rect', {x, y: gap - 0.6, width, height: 1.2, fill: '#e2d9c2'}));
  }
  for (const part of sketch.parts) draw(svg, part);
  return svg;
}

/** @param {Element} svg @param {{kind: string, wire: boolean, colour?: string, at: number[]}} part */
function draw(svg, part) {
  const {at} = part, xs = at.filter((_, n) => n % 2 === 0), ys = at.filter((_, n) => n % 2 === 1);
  if (!xs.length) return;
  const colour = kColours[part.colour ?? ''] ?? '#4a5b63';
  if (xs.length === 2) {
    svg.append(shape('line', {x1: xs[0], y1: ys[0], x2: xs[1], y2: ys[1], stroke: part.wire ? colour : '#6d6a60', 'stroke-width': part.wire ? 0.75 : 0.45, 'stroke-linecap': 'round'}));
    if (part.wire) return;
    const [x, y] = [(xs[0] + xs[1]) / 2, (ys[0] + ys[1]) / 2];
    if (part.kind.startsWith('led')) svg.append(shape('circle', {cx: x, cy: y, r: 1.15, fill: colour, stroke: '#2a2f33', 'stroke-width': 0.2}));
    else {
      const angle = Math.atan2(ys[1] - ys[0], xs[1] - xs[0]) * 180 / Math.PI, reach = Math.hypot(xs[1] - xs[0], ys[1] - ys[0]);
      const width = Math.min(2.6, Math.max(1, reach - 1));
      svg.append(shape('rect', {x: x - width / 2, y: y - 0.6, width, height: 1.2, rx: 0.4, fill: '#8a6d3b', transform: `rotate(${angle} ${x} ${y})`}));
    }
    return;
  }
  const x = Math.min(...xs) - 0.5, y = Math.min(...ys) - 0.5;
  svg.append(shape('rect', {x, y, width: Math.max(...xs) - x + 0.5, height: Math.max(...ys) - y + 0.5, rx: 0.5, fill: '#33444c'}));
}
