// Cuts the linked module in two: what a bench needs to be drawn and worked with, and what it needs only when it is asked something (why is it dark,
// which value, a lesson, ...). Both share one memory and one table, so it is still one program; web/host.js fetches the second when it is needed.
//   node web/tools/split.mjs FOLDER OUT [--list]   FOLDER: the build of the page, its module with names; OUT: tiepoint.wasm and tiepoint.more.wasm
//
// What goes is what the files of kLater define and what only they reach. The ways in are kDoors, and what kShut defines: calls of these are not
// followed. All else that the rest of the program calls stays with it, whatever file it is from. --list tells which functions of those files stay, and who calls them.
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {mkdirSync, readFileSync, readdirSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';

const [folder, out, flag] = process.argv.slice(2);
if (!out) {
  console.error('usage: node web/tools/split.mjs FOLDER OUT [--list]');
  process.exit(2);
}

const kLater = new RegExp(`^(${[
  'engine/(explain|lesson|logic)/',
  'engine/devices/(comparator|filament|fuse|half_bridge|hall|inductor|listener|logic\\w*|meter|mosfet|motor|op_amp|optocoupler|reed|regulator|relay|servo|thermistor|timed_switch|timer|triggered_switch)\\.',
  'engine/parts/(analog_chips|bench_supplies|fuses|inductors|lamps|led_assemblies|logic_chips|logic_probe|meters|more_switches|mosfets|motors|optocouplers|oscilloscope|photodiodes)\\.',
  'engine/parts/(potentiometers|relays|schottky_zener|sensing_resistors|sensing_switches|sensor_chips|sounders|transistors)\\.',
  'engine/solver/(dense_lu|dense_matrix|motion_events|motion_linear|motion_rosenbrock|motion_step|propagator|sparse_lu|stability|watch)\\.', 'engine/readings/(scope|trace)\\.', 'engine/file/(defect_json|edit_json|hand_in|lesson_\\w+|progress_file|scope_csv|variants)\\.', 'shell/marks/',
  'shell/words/(finding_words|lesson_words|phrases)\\.', 'shell/bench/(find_parts|hill|hill_panel|learner|loupe|raster|record_lesson|several|tool_bend|tool_group|tool_scope|boards|vector)\\.',
  'shell/bench/page_(findings|hunt|lesson|marking|scope|size|truth)\\.', 'shell/bench/draw_(chip|contacts|instrument|light|meter|motion|note_part|power|scope|sensing|sound|transistor)\\.',
].join('|')})`);
/** Instructions: a function at most so long may be one that the first half needs under the name of another with the same body. */
const kShared = 100;
/** Files of which every function is a way in. */
const kShut = /^(shell\/words\/phrases\.|engine\/explain\/|engine\/solver\/(dense_lu|dense_matrix|motion_linear|motion_rosenbrock|motion_step|propagator|sparse_lu|stability|watch)\.|engine\/readings\/(scope|trace)\.|shell\/bench\/draw_(chip|contacts|instrument|meter|motion|note_part|power|scope|sensing|sound|transistor)\.|engine\/file\/(defect_json|edit_json)\.|shell\/bench\/(hill|hill_panel|loupe|several|tool_bend|tool_group|tool_scope|boards|vector)\.)/;
const kDoors = /^tp_mark$|^sscanf$|^vsnprintf$|SettingsHandler_|^_ZN8tiepoint12_GLOBAL__N_1\d+do_(findings|why|truth|size|lesson|vector|hill|hide|faults|reveal|edit|find|copy|paste|duplicate|turn|scope|breadboard|place|move)E/;

const run = (program, words) => execFileSync(program, words, {encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'inherit']});
const linked = join(folder, 'tiepoint.wasm'), features = ['--enable-mutable-globals', '--enable-sign-ext', '--enable-nontrapping-float-to-int', '--enable-bulk-memory'];

// ---- Which symbols only the later files define.

/** @type {Map<string, boolean>} */
const later = new Map(), shut = new Map();
const objects = readdirSync(folder, {recursive: true}).filter((name) => name.endsWith('.o') && !/parts_list|part_facts/.test(name));
let isLater = false, isShut = false;
for (const line of run('emnm', ['--defined-only', ...objects.map((name) => join(folder, name))]).split('\n')) {
  if (line.endsWith('.o:')) {
    const file = line.slice(folder.length, -1).replace(/^\//, '').replace(/CMakeFiles\/\w+\.dir\//, '');
    [isLater, isShut] = [kLater.test(file), kShut.test(file)];
  }
  const symbol = / [tTvVwW] (\S+)$/.exec(line)?.[1];
  if (!symbol) continue;
  later.set(symbol, isLater && (later.get(symbol) ?? true));
  shut.set(symbol, isShut && !/^_ZN?K?St/.test(symbol) && (shut.get(symbol) ?? true));
}

// ---- Who calls whom, and whose address is taken; how long each function is.

/** @type {Map<string, string[]>} */
const calls = new Map();
const roots = new Set(['__wasm_call_ctors']), imports = new Set();
for (const line of run('wasm-opt', [linked, ...features, '--print-call-graph', '-o', '/dev/null']).split('\n')) {
  const [, from, to, style] = /^  "([^"]+)"(?: -> "([^"]+)")?(?: \[style="([^\]]*))?/.exec(line) ?? [];
  if (!from) continue;
  if (to) calls.get(from)?.push(to);
  else {
    if (!calls.has(from)) calls.set(from, []);
    if (style.includes('turquoise')) imports.add(from);
    if (style.includes('gray') || style.startsWith('filled, rounded')) roots.add(from);
  }
}
// As text an instruction takes a line.
const lengths = new Map(run('wasm-dis', [linked, ...features]).split(/^ \(func \$/m).map((one) => [one.slice(0, one.search(/\s/)), one.split('\n').length]));
if (calls.size < 100) throw new Error('the module has no names: link it with --profiling-funcs');

/** What LTO makes of a symbol ends with a number. @param {string} name */
const plain = (name) => name.replace(/(?<!\.__uniq)(\.\d+)+$/, '');
const named = (name) => kDoors.test(name), door = (name) => named(name) || shut.get(plain(name)) === true;
for (const pattern of kDoors.source.match(/(?<=do_\().*(?=\)E)/)[0].split('|'))
  if (![...calls.keys()].some((name) => door(name) && name.includes(`do_${pattern}E`))) throw new Error(`no function do_${pattern}: change kDoors`);

const kept = new Set(), queue = [...roots].filter((name) => !door(name) && !later.get(plain(name)));
while (queue.length) {
  const name = queue.pop();
  if (kept.has(name) || door(name)) continue;
  kept.add(name);
  queue.push(...calls.get(name) ?? []);
}
// Functions with the same body were made one, under either's name: what is short and calls nothing of the second half may be one of the first.
const called = new Set([...kept].flatMap((name) => calls.get(name) ?? []));
for (const name of [...roots, ...called])
  if (!named(name) && (lengths.get(name) ?? Infinity) <= kShared && calls.get(name)?.every((one) => kept.has(one) || imports.has(one))) kept.add(name);
const gone = [...calls.keys()].filter((name) => !kept.has(name) && !imports.has(name));

if (flag === '--list')
  for (const name of kept)
    if (later.get(plain(name))) console.log(name, '<-', [...kept].filter((one) => calls.get(one)?.includes(name)).join(' ') || 'an address');

mkdirSync(out, {recursive: true});
writeFileSync(join(out, 'more.txt'), `${gone.join('\n')}\n`);
// Halves of different builds do not fit each other, and shall not try.
const tie = `half ${createHash('sha256').update(readFileSync(linked)).digest('hex').slice(0, 8)}`;
const [first, more] = ['tiepoint.wasm', 'tiepoint.more.wasm'].map((name) => join(out, name));
run('wasm-split', [linked, ...features, `--split-funcs=@${join(out, 'more.txt')}`, `--import-namespace=${tie}`, `--placeholder-namespace=${tie}`, '-o1', first, '-o2', more]);
// Emscripten's memory begins at 1024. Linked with -O2 and made small only here, small functions have been inlined where it pays.
for (const file of [first, more]) run('wasm-opt', [file, ...features, '-Oz', '--low-memory-unused', '--strip-debug', '--strip-producers', '-o', file]);
