// The screen of an oscilloscope as a picture on any canvas: in the notebook, and for saving. Colours are the bench's own (shell/bench/theme.h).
import {say} from './words.js';

/**
 * @typedef {{number: number, text: string, volts: number, voltsText: string, zero: number, columns: (?number)[],
 *   measured: Record<string, ?string>}} Channel
 * @typedef {{ok: true, state: string, time: number, timeText: string, chart: boolean, shift: number, across: number, up: number, channels: Channel[],
 *   trigger: {channel: number, level: number},
 *   cursors: {times: ?[number, number], levels: ?[number, number], timeText: string, rateText: ?string, levelText: string}}} Screen
 */

const kGlass = '#18262b';
const kInk = '#f7f2e6';
const kRule = '#93aab1';
const kTraces = ['#f2b84b', '#6fddd2', '#f49a8a', '#c3b0f4'];

/** The colour of a channel's trace. @param {number} number 1.. */
export const traceColour = (number) => kTraces[(number - 1) % kTraces.length];

/** Height that the picture takes at a width. @param {number} width */
export const heightFor = (width) => Math.round((width - 34) * 0.8 + 44);

/** What the cursors tell, as one sentence; "" while they are off. @param {Screen} screen */
export function cursorWords({cursors}) {
  const said = [];
  if (cursors.times) said.push(say('scope.cursors.time', {time: cursors.timeText, rate: cursors.rateText ?? '–'}));
  if (cursors.levels) said.push(say('scope.cursors.level', {level: cursors.levelText}));
  return said.join(' ');
}

/** @param {CanvasRenderingContext2D} c @param {number} width @param {number} height [CSS px] @param {Screen} screen @param {string} [title] a line above */
export function drawScreen(c, width, height, screen, title = '') {
  const em = Math.max(10, width / 30);
  const left = 2.1 * em, top = (title ? 3.2 : 1.9) * em, bottom = 1.9 * em;
  const square = Math.min((width - left - em) / screen.across, (height - top - bottom) / screen.up);
  const w = square * screen.across, h = square * screen.up;
  const x = (/** @type {number} */ squares) => left + w / 2 + squares * square;
  const y = (/** @type {number} */ squares) => top + h / 2 - squares * square;
  c.fillStyle = kGlass;
  c.fillRect(0, 0, width, height);
  c.font = `${em}px Inter, system-ui, sans-serif`;
  c.textBaseline = 'middle';
  rule(c, screen, x, y);
  c.save();
  c.beginPath();
  c.rect(left, top, w, h);
  c.clip();
  for (const channel of [...screen.channels].reverse()) drawTrace(c, channel, left, w, y, Math.max(1.6, width / 240));
  c.restore();
  marks(c, screen, x, y, em);
  if (title) write(c, title, left, 1.1 * em, 'left', kInk);
  let at = left;
  for (const {number, text} of screen.channels) {
    const room = c.measureText(text).width;
    if (at + room > left + w) continue;
    write(c, text, at, top - 0.9 * em, 'left', traceColour(number));
    at += room + em;
  }
  const across = say('bench.scope.across', {time: screen.timeText});
  write(c, across, left, top + h + 0.95 * em, 'left', kInk);
  write(c, say(`scope.state.${screen.state}`), left + w, top + h + 0.95 * em, 'right', kInk);
}

/** @param {CanvasRenderingContext2D} c @param {string} text @param {number} x @param {number} y @param {CanvasTextAlign} align @param {string} colour */
function write(c, text, x, y, align, colour) {
  c.textAlign = align;
  c.fillStyle = colour;
  c.fillText(text, x, y);
}

/** @param {CanvasRenderingContext2D} c @param {Screen} screen @param {(squares: number) => number} x @param {(squares: number) => number} y */
function rule(c, screen, x, y) {
  c.lineWidth = 1;
  c.strokeStyle = kRule;
  const line = (/** @type {number} */ at, /** @type {number} */ most, /** @type {boolean} */ upright) => {
    c.globalAlpha = at === 0 || Math.abs(at) === most / 2 ? 0.45 : 0.2;
    const place = Math.round(upright ? x(at) : y(at)) + 0.5;
    c.beginPath();
    if (upright) c.moveTo(place, y(screen.up / 2)), c.lineTo(place, y(-screen.up / 2));
    else c.moveTo(x(-screen.across / 2), place), c.lineTo(x(screen.across / 2), place);
    c.stroke();
  };
  for (let i = -screen.across / 2; i <= screen.across / 2; ++i) line(i, screen.across, true);
  for (let i = -screen.up / 2; i <= screen.up / 2; ++i) line(i, screen.up, false);
  c.globalAlpha = 1;
}

/** A stroke through the lowest and the highest of each column. @param {CanvasRenderingContext2D} c @param {Channel} channel @param {number} left
 * @param {number} w @param {(squares: number) => number} y @param {number} width */
function drawTrace(c, {number, columns}, left, w, y, width) {
  const count = columns.length / 2;
  c.strokeStyle = traceColour(number);
  c.lineWidth = width;
  c.lineJoin = 'round';
  c.beginPath();
  let before = /** @type {?number} */ (null);
  for (let i = 0; i < count; ++i) {
    const low = columns[2 * i], high = columns[2 * i + 1];
    if (low === null || high === null) {
      before = null;
      continue;
    }
    const at = left + (i + 0.5) * w / count;
    // The nearer end first, so that the line goes on where it was.
    const [one, other] = before !== null && Math.abs(before - high) < Math.abs(before - low) ? [high, low] : [low, high];
    if (before === null) c.moveTo(at, y(one));
    else c.lineTo(at, y(one));
    if (other !== one) c.lineTo(at, y(other));
    before = other;
  }
  c.stroke();
}

/** Zero lines, trigger and cursors. @param {CanvasRenderingContext2D} c @param {Screen} screen @param {(squares: number) => number} x
 * @param {(squares: number) => number} y @param {number} em */
function marks(c, screen, x, y, em) {
  const inside = (/** @type {number} */ squares) => y(Math.max(-screen.up / 2, Math.min(screen.up / 2, squares)));
  const edge = x(-screen.across / 2), far = x(screen.across / 2), h = em / 2;
  for (const {number, zero} of screen.channels) {
    c.fillStyle = traceColour(number);
    triangle(c, edge - h, inside(zero) - h, edge, inside(zero), edge - h, inside(zero) + h);
    c.fillRect(edge - 1.75 * em, inside(zero) - 0.65 * em, 1.3 * em, 1.3 * em);
    write(c, String(number), edge - 1.1 * em, inside(zero), 'center', kGlass);
  }
  if (!screen.chart) {
    c.fillStyle = traceColour(screen.trigger.channel);
    const level = inside(screen.trigger.level);
    triangle(c, far, level, far + 1.6 * h, level - h, far + 1.6 * h, level + h);
    c.fillStyle = kInk;
    const at = x(screen.shift), head = y(screen.up / 2);
    triangle(c, at - h, head, at + h, head, at, head + 1.6 * h);
  }
  c.strokeStyle = kInk;
  c.lineWidth = Math.max(1.2, em / 9);
  c.setLineDash([em / 2, em / 2]);
  const dashed = (/** @type {number[]} */ [x0, y0, x1, y1]) => {
    c.beginPath();
    c.moveTo(x0, y0);
    c.lineTo(x1, y1);
    c.stroke();
  };
  screen.cursors.times?.forEach((at, i) => {
    dashed([x(at), y(screen.up / 2), x(at), y(-screen.up / 2)]);
    write(c, 'AB'[i], x(at) + 0.6 * em, y(-screen.up / 2) - 0.8 * em, 'center', kInk);
  });
  screen.cursors.levels?.forEach((at, i) => {
    dashed([edge, y(at), far, y(at)]);
    write(c, 'CD'[i], far - 0.8 * em, y(at) - 0.75 * em, 'center', kInk);
  });
  c.setLineDash([]);
}

/** @param {CanvasRenderingContext2D} c @param {number[]} points */
function triangle(c, ...points) {
  c.beginPath();
  c.moveTo(points[0], points[1]);
  c.lineTo(points[2], points[3]);
  c.lineTo(points[4], points[5]);
  c.fill();
}
