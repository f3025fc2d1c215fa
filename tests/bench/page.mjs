// Speed and calm of the built page in headless Chromium, with examples/lamp-room.board.json: sixty parts, two timers, a counter, ten LEDs.
//   tests/bench/page [--json] [--rate N]      N: how many times slower Chromium makes the page's thread; 4
//
// "Frame left": the share of each refresh of 16.7 ms in which the page's thread is free, over several seconds (Chromium's TaskDuration).
// Twice: by the thread's own processor time at full speed, multiplied, which other programs hardly touch; and with Chromium's throttle,
// by the clock on the wall, which is true on a quiet machine only (the throttle itself spins on a core). The parts come from clocks in
// the page. Drawing is by software GL (SwiftShader) in a process of its own that no throttle slows: its share of a core is that of a
// machine without a graphics chip.
import {execFileSync} from 'node:child_process';
import {existsSync, readdirSync, readFileSync} from 'node:fs';
import {cpus, loadavg} from 'node:os';
import {join} from 'node:path';

import {placeOf} from '../browser/hand.mjs';
import {ask, launch, open, root, serve, settle} from '../browser/site.mjs';

const kRefresh = 1000 / 60;  // [ms]
const kRun = 8000;           // [ms] a running board is watched
const kIdle = 10000;         // [ms] an idle one
const kLongestWait = 60;     // [s] until a board that was switched off has come to rest
const kMoves = 60;           // of the mouse in a drag
const kBoard = join(root, 'examples/lamp-room.board.json');
const kFirst = join(root, 'examples/one-button.board.json');

const options = {json: false, rate: 4};
for (let k = 2; k < process.argv.length; ++k) {
  if (process.argv[k] === '--json') options.json = true;
  else if (process.argv[k] === '--rate' && process.argv[k + 1] > 0) options.rate = Number(process.argv[++k]);
  else {
    console.error('usage: tests/bench/page [--json] [--rate N]');
    process.exit(2);
  }
}

const sleep = (ms) => new Promise((done) => setTimeout(done, ms));
const rows = [];
/** @param {string} group @param {string} name @param {number} value @param {string} unit @param {{wanted?: string, good?: boolean}} [more] */
const keep = (group, name, value, unit, {wanted = '', good} = {}) => rows.push({group, name, value, unit, wanted, good});

// ---- Clocks in the page: around the module's frame, the host's frame, the words of the notebook.

const putClocks = (page) => page.evaluate(() => {
  const {app, bench} = window.__tiepoint, {host} = bench, m = host.m;
  const spent = {module: 0, host: 0, words: 0, updates: 0, latency: [], refreshes: []};
  const around = (owner, key, field) => {
    const inner = owner[key];
    owner[key] = function(...given) {
      const begun = performance.now();
      try {
        return inner.apply(this, given);
      } finally {
        spent[field] += performance.now() - begun;
      }
    };
  };
  around(m, '_ui_frame', 'module');
  around(app, 'update', 'words');
  const update = app.update;
  app.update = function() { ++spent.updates; return update.call(this); };
  around(host, 'frame', 'host');

  // From the first move of the mouse that no picture has answered yet to the end of the frame that answers it.
  let asked = -1, pictures = 0, ticks = 0;
  document.getElementById('bench').addEventListener('pointermove', (event) => {
    if (spent.dragging && asked < 0) asked = event.timeStamp, ticks = 0;
  }, {capture: true});
  const frame = host.frame;
  host.frame = function() {
    frame.call(this);
    const {pictures: now} = host.counts();
    ++ticks;
    if (asked >= 0 && now > pictures) {
      spent.latency.push(performance.now() - asked);
      spent.refreshes.push(ticks);
      asked = -1;
    }
    pictures = now;
  };
  window.__spent = spent;
});

const look = async (page, protocol) => {
  const {metrics} = await protocol.send('Performance.getMetrics');
  const chromium = Object.fromEntries(metrics.map(({name, value}) => [name, value]));
  const inside = await page.evaluate(() => ({
    at: performance.now(), time: window.__tiepoint.bench.call({do: 'words'}).time, ...window.__tiepoint.counts(),
    module: window.__spent.module, host: window.__spent.host, words: window.__spent.words, updates: window.__spent.updates,
  }));
  return {...inside, task: chromium.TaskDuration * 1000, script: chromium.ScriptDuration * 1000, layout: (chromium.LayoutDuration + chromium.RecalcStyleDuration) * 1000};
};

const difference = (a, b) => Object.fromEntries(Object.keys(a).map((key) => [key, b[key] - a[key]]));

// ---- Processes

const processes = async (browser) => {
  const protocol = await browser.newBrowserCDPSession();
  const {processInfo} = await protocol.send('SystemInfo.getProcessInfo');
  await protocol.detach();
  return processInfo;
};

/** [ms] of a core that a process has had so far, all its threads; to the nanosecond where the kernel says so. */
function coreTime(pid) {
  let sum = 0;
  for (const task of readdirSync(`/proc/${pid}/task`)) {
    try {
      sum += Number(readFileSync(`/proc/${pid}/task/${task}/schedstat`, 'utf8').split(' ')[0]) / 1e6;
    } catch { /* that thread has ended */ }
  }
  return sum;
}

/** The page's own renderer: the one that has worked most. */
const rendererOf = async (browser) => (await processes(browser)).filter(({type}) => type === 'renderer').sort((a, b) => b.cpuTime - a.cpuTime)[0].id;
const gpuOf = async (browser) => (await processes(browser)).find(({type}) => type === 'GPU')?.id;

// ---- What is measured

/** Watches the running board at a speed. @returns differences of all counts over the time, and shares of a core by process */
async function watched(browser, page, rate) {
  const gpu = await gpuOf(browser), renderer = await rendererOf(browser);
  const protocol = await page.context().newCDPSession(page);
  // By the thread's own clock: what other programs do on this machine does not count.
  await protocol.send('Performance.enable', {timeDomain: 'threadTicks'});
  await protocol.send('Emulation.setCPUThrottlingRate', {rate});
  await sleep(1500);
  const gpuBefore = gpu ? coreTime(gpu) : 0, rendererBefore = coreTime(renderer);
  const before = await look(page, protocol);
  await sleep(kRun);
  const d = difference(before, await look(page, protocol));
  d.gpu = gpu ? (coreTime(gpu) - gpuBefore) / d.at * 100 : 0;
  d.renderer = (coreTime(renderer) - rendererBefore) / d.at * 100;
  await protocol.send('Emulation.setCPUThrottlingRate', {rate: 1});
  await protocol.detach();
  d.pace = d.time / (d.at / 1000);
  d.perSecond = d.frames / (d.at / 1000);
  return d;
}

async function running(browser, page) {
  const d = await watched(browser, page, 1);
  // The page's clocks count waiting for a core too; their sum is brought down to what the thread really had.
  const real = Math.min(1, (d.task - d.layout) / (d.host + d.words));
  const share = (ms) => ms / d.at * options.rate * 100;
  const group = `60 parts: processor time of the page's thread, times ${options.rate}`;
  const left = 100 - share(d.task);
  keep(group, 'frame left', left, '%', {wanted: '>= 60', good: left >= 60});
  keep(group, '  engine', share(d.simulated * real), '%');
  keep(group, '  building the picture', share((d.module - d.simulated - d.drawn) * real), '%');
  keep(group, '  handing it to WebGL', share(d.drawn * real), '%');
  keep(group, '  notebook and bar', share(d.words * real), '%');
  keep(group, '  layout and style', share(d.layout), '%');
  keep(group, '  all else', share(d.task - (d.module + d.words) * real - d.layout), '%');
  keep(group, 'frames, at full speed', d.perSecond, '/s');
  keep(group, 'of them another picture', d.pictures / (d.at / 1000), '/s');
  keep(group, 'engine per simulated second', d.simulated * real * options.rate / d.time, 'ms');
  keep(group, 'picture, each', (d.module - d.simulated) * real * options.rate / d.frames, 'ms');
  keep(group, 'words, each', d.words * real * options.rate / Math.max(d.updates, 1), 'ms');
  keep(group, 'software GL, its process', d.gpu, '% of a core');

  const slow = await watched(browser, page, options.rate);
  const slowed = `60 parts, ${options.rate}x slower by Chromium, by the clock on the wall`;
  keep(slowed, 'simulated pace', slow.pace, 'of real time', {wanted: '>= 0.99', good: slow.pace >= 0.99});
  // The bench asks for every refresh of the display, or every second one where it finds the machine too slow (running_frame in shell/bench/bench.cpp).
  keep(slowed, 'frames, no hand on it', slow.perSecond, '/s', {wanted: '60', good: slow.perSecond >= 58});
  keep(slowed, 'frame left', 100 - slow.task / slow.at * 100, '%', {wanted: '>= 60', good: slow.task / slow.at <= 0.4});
  keep(slowed, 'software GL, its process', slow.gpu, '% of a core');
}

async function dragging(page, protocol) {
  await protocol.send('Emulation.setCPUThrottlingRate', {rate: options.rate});
  const from = await placeOf(page, {part: 'R2'}), to = await placeOf(page, {hole: 'i40'});
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  const before = await page.evaluate(() => (window.__spent.dragging = true, {at: performance.now(), ...window.__tiepoint.counts()}));
  for (let k = 1; k <= kMoves; ++k) {
    const part = k / kMoves;
    await page.mouse.move(from.x + (to.x - from.x) * part, from.y + (to.y - from.y) * part);
    await sleep(kRefresh);
  }
  const after = await page.evaluate(() => ({at: performance.now(), ...window.__tiepoint.counts()}));
  const {latency, refreshes} = await page.evaluate(() => (window.__spent.dragging = false, window.__spent));
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await protocol.send('Emulation.setCPUThrottlingRate', {rate: 1});
  if (latency.length < kMoves / 4) throw new Error(`the drag was answered ${latency.length} times only`);
  const at = (list, share) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * share))];
  const group = `drag, ${options.rate}x slower`;
  const median = at(latency, 0.5) / kRefresh, worst = at(latency, 0.95) / kRefresh;
  keep(group, 'move to picture, median', median, 'frames', {wanted: '< 2', good: median < 2});
  keep(group, 'move to picture, 95 %', worst, 'frames', {wanted: '< 2', good: worst < 2});
  keep(group, 'frames under the hand', (after.frames - before.frames) / (after.at - before.at) * 1000, '/s', {wanted: '60', good: (after.frames - before.frames) / (after.at - before.at) * 1000 >= 58});
}

async function idle(browser, page, name) {
  await page.mouse.move(5, 5);
  const calm = () => page.evaluate(() => window.__tiepoint.bench.call({do: 'words'}).atRest);
  for (let waited = 0; !(await calm()); ++waited) {
    if (waited > kLongestWait) throw new Error(`${name}: not at rest after ${waited} s`);
    await sleep(1000);
  }
  await sleep(2000);
  await settle(page);
  const renderer = await rendererOf(browser), gpu = await gpuOf(browser);
  const {frames} = await page.evaluate(() => window.__tiepoint.counts());
  const begun = performance.now(), before = coreTime(renderer), gpuBefore = gpu ? coreTime(gpu) : 0;
  await sleep(kIdle);
  const wall = performance.now() - begun, share = (coreTime(renderer) - before) / wall * 100;
  const gpuShare = gpu ? (coreTime(gpu) - gpuBefore) / wall * 100 : 0;
  const drawn = (await page.evaluate(() => window.__tiepoint.counts())).frames - frames;
  keep('idle', `renderer, ${name}`, share, '% of a core', {wanted: '< 1', good: share < 1});
  keep('idle', `software GL, ${name}`, gpuShare, '% of a core');
  keep('idle', `frames in ${kIdle / 1000} s, ${name}`, drawn, '', {wanted: '0', good: drawn === 0});
}

function memory() {
  const program = join(root, process.env.TIEPOINT_BUILD ?? 'build/native', 'bench_memory'), twin = join(root, 'build/page/bench_memory.js');
  const programs = [];
  if (existsSync(program)) programs.push(['native', program, []]);
  if (existsSync(twin)) programs.push(['WebAssembly', process.execPath, ['--no-experimental-fetch', twin]]);
  for (const [build, command, given] of programs) {
    const found = JSON.parse(execFileSync(command, [...given, '--json'], {encoding: 'utf8'}));
    const state = found.state / 1024;
    keep('memory', `engine state, ${build}`, state, 'kB', {wanted: `<= ${found.wanted / 1024}`, good: found.state <= found.wanted});
    keep('memory', `at work, at most, ${build}`, found.at_work / 1024, 'kB');
    keep('memory', `allocations per step, ${build}`, found.allocations_per_step, '');
  }
}

const load = async (page, file) => {
  const answer = await ask(page, {do: 'load', text: readFileSync(file, 'utf8')});
  if (!answer.ok) throw new Error(`${file}: ${JSON.stringify(answer.error)}`);
};

const site = await serve();
const browser = await launch();
try {
  const page = await open(browser, site.url);
  await load(page, kFirst);
  await idle(browser, page, 'first board');
  await load(page, kBoard);
  await sleep(500);
  await ask(page, {do: 'set', part: 'PS1', key: 'on', number: 0});
  await sleep(1000);
  await idle(browser, page, '60 parts, off');

  await load(page, kBoard);
  await putClocks(page);
  await running(browser, page);
  await dragging(page, await page.context().newCDPSession(page));
  if (page.problems.length > 0) throw new Error(page.problems.join('\n'));
} finally {
  await browser.close();
  site.close();
}
memory();

if (options.json) {
  console.log(JSON.stringify({load: loadavg()[0], cores: cpus().length, throttle: options.rate, drawing: 'software GL', rows}, null, 1));
} else {
  console.log(`Drawing by software GL. ${cpus().length} cores, load ${loadavg()[0].toFixed(1)} at the end.`);
  let last = '';
  for (const {group, name, value, unit, wanted, good} of rows) {
    if (group !== last) console.log(`\n${last = group}`);
    const number = value.toFixed(Math.abs(value) < 10 ? 2 : 1);
    console.log(`  ${name.padEnd(34)} ${number.padStart(9)} ${unit.padEnd(14)} ${wanted && `wanted ${wanted}`.padEnd(16)} ${good === undefined ? '' : good ? 'met' : 'MISSED'}`.trimEnd());
  }
}
