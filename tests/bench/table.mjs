// Puts the native and the WebAssembly figures side by side: node table.mjs yes|no NATIVE.json WASM.json   (yes: as JSON)
import { readFileSync } from 'node:fs';

const [asJson, nativeFile, wasmFile] = process.argv.slice(2);
const native = JSON.parse(readFileSync(nativeFile, 'utf8'));
const wasm = new Map(JSON.parse(readFileSync(wasmFile, 'utf8')).map((row) => [`${row.group} ${row.name}`, row]));
const isTime = (row) => row.unit === 'ms' || row.unit === 'us';
const mean = (values) => (values.length === 0 ? null : Math.exp(values.reduce((sum, v) => sum + Math.log(v), 0) / values.length));

for (const row of native) {
  const other = wasm.get(`${row.group} ${row.name}`);
  row.wasm = other?.ours ?? null;
  row.wasmToNative = other && isTime(row) ? other.ours / row.ours : null;
}
const summary = {
  transientRatio: mean(native.filter((r) => r.group === 'transient' && r.ratio > 0).map((r) => r.ratio)),
  leastTransientRatio: Math.min(...native.filter((r) => r.group === 'transient' && r.ratio > 0).map((r) => r.ratio)),
  wasmToNative: mean(native.filter((r) => r.wasmToNative).map((r) => r.wasmToNative)),
};
if (!Number.isFinite(summary.leastTransientRatio)) summary.leastTransientRatio = null;

if (asJson === 'yes') {
  console.log(JSON.stringify({ rows: native, summary }, null, 1));
} else {
  const number = (v, digits = 4) => (v === null || v === undefined || v === 0 ? '' : String(Number(v.toPrecision(digits))));
  const cells = native.map((r) => [
    r.group, r.name, `${number(r.ours)} ${r.unit}`, r.theirs ? `${number(r.theirs)} ${r.unit}` : '', r.with, number(r.ratio, 3),
    r.wanted ? (r.unit === 'exp' ? `≤ ${r.wanted}` : `≥ ${r.wanted}`) : '', number(r.error, 2), number(r.their_error, 2), number(r.wasm), number(r.wasmToNative, 3),
  ]);
  const head = ['group', 'what', 'engine', 'library', '', 'ratio', 'wanted', 'error', 'its error', 'WASM', 'WASM/native'];
  const widths = head.map((h, k) => Math.max(h.length, ...cells.map((c) => c[k].length)));
  for (const line of [head, ...cells]) console.log(line.map((c, k) => (k < 2 ? c.padEnd(widths[k]) : c.padStart(widths[k]))).join('  '));
  if (summary.transientRatio) console.log(`transients: geometric mean ${summary.transientRatio.toFixed(2)} (10 wanted), least ${summary.leastTransientRatio.toFixed(2)} (3 wanted)`);
  if (summary.wasmToNative) console.log(`WebAssembly against native: geometric mean ${summary.wasmToNative.toFixed(2)} (1.3 wanted)`);
}
