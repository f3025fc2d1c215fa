// What stands in a ZIP file, read by hand from its central directory and inflated by the browser. Whoever made the file is a stranger:
// every number in it is checked, nothing is inflated beyond what it says of itself, and there is a cap on each file and on all together.
// Layout: PKWARE's APPNOTE 6.3, sections 4.3.7 (local header), 4.3.12 (central directory), 4.3.16 (end record).
import {crc} from './picture.js';
import {through} from './share.js';

export const kMostFiles = 20000;
export const kMostBytes = 512 << 20; // byte, inflated, of all files together

const kEnd = 0x06054b50, kCentral = 0x02014b50, kLocal = 0x04034b50;
const kEndSize = 22, kLongestComment = 65535;

/** What is wrong with a ZIP file: a key of the catalogue (zip.…). */
export class ZipError extends Error {}

/**
 * @typedef {{name: string, size: number, packed: number, at: number, method: number, sum: number, locked: boolean}} Entry
 */

/** @param {Blob} zip @param {number} from @param {number} size */
async function bytesOf(zip, from, size) {
  if (from < 0 || size < 0 || from + size > zip.size) throw new ZipError('zip.damaged');
  return new Uint8Array(await zip.slice(from, from + size).arrayBuffer());
}

/** @param {Uint8Array} bytes */
const viewOf = (bytes) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** The files in it, folders left out. Refuses what cannot be right. @param {Blob} zip @returns {Promise<Entry[]>} */
export async function entriesOf(zip) {
  const tailSize = Math.min(zip.size, kEndSize + kLongestComment);
  const tail = await bytesOf(zip, zip.size - tailSize, tailSize), end = viewOf(tail);
  let at = tail.length - kEndSize;
  while (at >= 0 && !(end.getUint32(at, true) === kEnd && at + kEndSize + end.getUint16(at + 20, true) === tail.length)) --at;
  if (at < 0) throw new ZipError('zip.no-zip');
  const count = end.getUint16(at + 10, true), size = end.getUint32(at + 12, true), from = end.getUint32(at + 16, true);
  if (end.getUint16(at + 4, true) !== 0 || end.getUint16(at + 8, true) !== count) throw new ZipError('zip.parts');
  if (count === 0xffff || size === 0xffffffff || from === 0xffffffff) throw new ZipError('zip.large');
  if (count > kMostFiles) throw new ZipError('zip.many');
  const directory = await bytesOf(zip, from, size), view = viewOf(directory);
  /** @type {Entry[]} */
  const entries = [];
  let total = 0;
  for (let n = 0, here = 0; n < count; ++n) {
    if (here + 46 > directory.length || view.getUint32(here, true) !== kCentral) throw new ZipError('zip.damaged');
    const flags = view.getUint16(here + 8, true), [nameSize, extra, comment] = [28, 30, 32].map((k) => view.getUint16(here + k, true));
    if (here + 46 + nameSize + extra + comment > directory.length) throw new ZipError('zip.damaged');
    const name = nameIn(directory.subarray(here + 46, here + 46 + nameSize));
    const entry = {name, size: view.getUint32(here + 24, true), packed: view.getUint32(here + 20, true), at: view.getUint32(here + 42, true),
                   method: view.getUint16(here + 10, true), sum: view.getUint32(here + 16, true), locked: (flags & 1) !== 0};
    here += 46 + nameSize + extra + comment;
    total += entry.size;
    if (total > kMostBytes) throw new ZipError('zip.large');
    if (!name.endsWith('/')) entries.push(entry);
  }
  refuseOverlaps(entries);
  return entries;
}

/** UTF-8, else a letter for each byte. @param {Uint8Array} bytes */
function nameIn(bytes) {
  try {
    return new TextDecoder('utf-8', {fatal: true}).decode(bytes);
  } catch {
    return String.fromCharCode(...bytes);
  }
}

/** Files that share their bytes inflate to far more than they weigh; no program that packs files makes them. @param {Entry[]} entries */
function refuseOverlaps(entries) {
  let end = 0;
  for (const entry of [...entries].sort((a, b) => a.at - b.at)) {
    if (entry.at < end) throw new ZipError('zip.overlap');
    end = entry.at + 30 + entry.packed;
  }
}

/** The bytes of one file. @param {Blob} zip @param {Entry} entry @param {number} most byte @returns {Promise<Uint8Array>} */
export async function fileIn(zip, entry, most) {
  if (entry.locked) throw new ZipError('zip.locked');
  if (entry.size > most) throw new ZipError('zip.file-large');
  const head = await bytesOf(zip, entry.at, 30), view = viewOf(head);
  if (view.getUint32(0, true) !== kLocal) throw new ZipError('zip.damaged');
  const from = entry.at + 30 + view.getUint16(26, true) + view.getUint16(28, true);
  const packed = await bytesOf(zip, from, entry.packed);
  const bytes = entry.method === 0 ? packed : await inflated(packed, entry);
  if (bytes.length !== entry.size || crc(bytes) !== entry.sum) throw new ZipError('zip.damaged');
  return bytes;
}

/** @param {Uint8Array} packed @param {Entry} entry */
async function inflated(packed, entry) {
  if (entry.method !== 8) throw new ZipError('zip.method');
  try {
    return await through(packed, new DecompressionStream('deflate-raw'), entry.size);
  } catch {
    throw new ZipError('zip.damaged');
  }
}
