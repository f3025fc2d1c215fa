// A board as a link: #board=<version>.<checksum>.<deflated board, base64url>. It stands in the fragment, which no server ever sees.

const kVersion = 1;
const kInflated = 2 << 20; // byte; a short link can inflate to a thousand times its length
/** Mail and chat cut or refuse longer ones (common practice, no source). */
export const kLongLink = 8000; // characters

/** What is wrong with a link: a key of the catalogue (share.damaged, share.older, share.newer). */
export class LinkError extends Error {}

/** 32-bit FNV-1a (the FNV page of its authors: offset 2166136261, prime 16777619). @param {Uint8Array} bytes */
export function fnv1a(bytes) {
  let sum = 2166136261;
  for (const byte of bytes) sum = Math.imul(sum ^ byte, 16777619) >>> 0;
  return sum;
}

/** @param {Uint8Array} bytes */
const checksum = (bytes) => fnv1a(bytes).toString(16).padStart(8, '0');

/**
 * Everything that comes out of the stream, but never more than the limit.
 * @param {Uint8Array} bytes @param {GenericTransformStream} stream
 */
export async function through(bytes, stream, limit = Infinity) {
  const reader = new Blob([/** @type {any} */ (bytes)]).stream().pipeThrough(/** @type {any} */ (stream)).getReader();
  /** @type {Uint8Array[]} */
  const pieces = [];
  let length = 0;
  for (;;) {
    const {done, value} = await reader.read();
    if (done) break;
    length += value.length;
    if (length > limit) {
      await reader.cancel().catch(() => {});
      throw new LinkError('share.damaged');
    }
    pieces.push(value);
  }
  return new Uint8Array(await new Blob(/** @type {any} */ (pieces)).arrayBuffer());
}

/** The fragment for a board file, without '#'. @param {string} text */
export async function pack(text) {
  const plain = new TextEncoder().encode(text);
  const packed = await through(plain, new CompressionStream('deflate-raw'));
  let binary = '';
  for (const byte of packed) binary += String.fromCharCode(byte);
  return `board=${kVersion}.${checksum(plain)}.${btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '')}`;
}

/** The board file in a fragment; null when the fragment is about something else. @param {string} hash @returns {Promise<?string>} */
export async function unpack(hash) {
  const fragment = hash.replace(/^#/, '');
  if (!fragment.startsWith('board=')) return null;
  const found = /^board=(\d{1,6})\.(.*)$/s.exec(fragment);
  if (!found) throw new LinkError('share.damaged');
  if (Number(found[1]) > kVersion) throw new LinkError('share.newer');
  if (Number(found[1]) < kVersion) throw new LinkError('share.older');
  const parts = /^([0-9a-f]{8})\.([\w-]+)$/.exec(found[2]);
  if (!parts) throw new LinkError('share.damaged');
  try {
    const binary = atob(parts[2].replaceAll('-', '+').replaceAll('_', '/'));
    const plain = await through(Uint8Array.from(binary, (c) => c.charCodeAt(0)), new DecompressionStream('deflate-raw'), kInflated);
    if (checksum(plain) !== parts[1]) throw new LinkError('share.damaged');
    return new TextDecoder('utf-8', {fatal: true}).decode(plain);
  } catch {
    throw new LinkError('share.damaged');
  }
}

/** The whole address that opens this board. @param {string} text */
export async function linkTo(text) {
  const address = new URL(location.href);
  address.search = '';
  address.hash = await pack(text);
  return address.href;
}
