// A picture of the bench that carries its board: a PNG with one text chunk more, or an SVG with one metadata element more. Any program
// shows it; this page opens it again. A drawing is never parsed as markup: only the text of that one element is looked for.
// Chunks, their check sums and iTXt as in the PNG Specification, third edition (W3C, 2025), sections 5.3, 5.5 and 11.3.3.4.

const kSignature = [137, 80, 78, 71, 13, 10, 26, 10];
const kKeyword = 'Tiepoint board';
const kHeader = 8 + 25; // byte: the signature and IHDR, which comes first

/** What is wrong with a picture: a key of the catalogue (picture.damaged, picture.foreign). */
export class PictureError extends Error {}

const kCrc = Uint32Array.from({length: 256}, (_, n) => {
  for (let k = 0; k < 8; ++k) n = n & 1 ? 0xedb88320 ^ (n >>> 1) : n >>> 1;
  return n;
});

/** CRC-32 of a chunk's type and data. @param {Uint8Array} bytes */
export function crc(bytes) {
  let c = 0xffffffff;
  for (const byte of bytes) c = kCrc[(c ^ byte) & 255] ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** @param {Uint8Array} bytes */
export const isPng = (bytes) => kSignature.every((byte, index) => bytes[index] === byte);

/** The picture with the board file in it. @param {Uint8Array} png @param {string} text */
export function withBoard(png, text) {
  // keyword, 0, not compressed, method 0, no language, no translated keyword
  const data = new TextEncoder().encode(`iTXt${kKeyword}\0\0\0\0\0${text}`);
  const chunk = new Uint8Array(data.length + 8), view = new DataView(chunk.buffer);
  view.setUint32(0, data.length - 4);
  chunk.set(data, 4);
  view.setUint32(data.length + 4, crc(data));
  const out = new Uint8Array(png.length + chunk.length);
  out.set(png.subarray(0, kHeader));
  out.set(chunk, kHeader);
  out.set(png.subarray(kHeader), kHeader + chunk.length);
  return out;
}

/** The board file in a picture. @param {Uint8Array} png @returns {string} */
export function boardIn(png) {
  if (!isPng(png)) throw new PictureError('picture.damaged');
  const view = new DataView(png.buffer, png.byteOffset, png.byteLength);
  for (let at = kSignature.length; ; ) {
    if (at + 12 > png.length) throw new PictureError('picture.damaged');
    const end = at + 12 + view.getUint32(at);
    const type = String.fromCharCode(...png.subarray(at + 4, at + 8));
    if (end > png.length) throw new PictureError('picture.damaged');
    if (type === 'IEND') throw new PictureError('picture.foreign');
    if (type === 'iTXt') {
      const data = png.subarray(at + 4, end - 4);
      const found = textIn(data.subarray(4));
      if (found !== null) {
        if (crc(data) !== view.getUint32(end - 4)) throw new PictureError('picture.damaged');
        return found;
      }
    }
    at = end;
  }
}

/** The text of an iTXt chunk of ours, null of any other. @param {Uint8Array} data */
function textIn(data) {
  const head = `${kKeyword}\0`;
  if (String.fromCharCode(...data.subarray(0, head.length)) !== head) return null;
  // Another program may have written the chunk anew: with a language, but then uncompressed only.
  if (data[head.length] !== 0) throw new PictureError('picture.damaged');
  const language = data.indexOf(0, head.length + 2), translated = language < 0 ? -1 : data.indexOf(0, language + 1);
  if (translated < 0) throw new PictureError('picture.damaged');
  try {
    return new TextDecoder('utf-8', {fatal: true}).decode(data.subarray(translated + 1));
  } catch {
    throw new PictureError('picture.damaged');
  }
}

const kBegin = /<metadata[^>]*\bid=["']tiepoint-board["'][^>]*>/, kEnd = '</metadata>';
/** @type {Record<string, string>} */
const kEntities = {'&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"', '&apos;': "'"};

/** @param {string} text */
const escaped = (text) => text.replace(/[&<>]/g, (sign) => ({'&': '&amp;', '<': '&lt;', '>': '&gt;'})[sign] ?? sign);

/** @param {string} text */
export const isSvg = (text) => /^\uFEFF?\s*(?:<\?xml[^>]*>\s*)?(?:<!--[\s\S]{0,2000}?-->\s*)*(?:<!DOCTYPE svg[^>[]*>\s*)?<(?:\w+:)?svg[\s>]/.test(text.slice(0, 4000));

/** The drawing with its title and the board file in it. @param {string} svg @param {string} title @param {string} text */
export function withBoardInSvg(svg, title, text) {
  const at = svg.indexOf('>') + 1;
  return `${svg.slice(0, at)}\n<title>${escaped(title)}</title>\n<metadata id="tiepoint-board">${escaped(text)}${kEnd}${svg.slice(at)}`;
}

/** The board file in a drawing. @param {string} svg @returns {string} */
export function boardInSvg(svg) {
  const begin = kBegin.exec(svg);
  if (!begin) throw new PictureError('picture.foreign');
  const from = begin.index + begin[0].length, to = svg.indexOf(kEnd, from);
  const inside = to < 0 ? '' : svg.slice(from, to).replace(/^\s*<!\[CDATA\[([\s\S]*)\]\]>\s*$/, (_, text) => escaped(text));
  if (!inside || inside.includes('<') || !svg.includes('</', to + kEnd.length)) throw new PictureError('picture.damaged');
  return inside.replace(/&(?:amp|lt|gt|quot|apos);|&#(?:x[0-9a-f]{1,6}|\d{1,7});/gi, (entity) => {
    const named = kEntities[entity.toLowerCase()];
    if (named) return named;
    const code = entity[2].toLowerCase() === 'x' ? parseInt(entity.slice(3), 16) : parseInt(entity.slice(2), 10);
    if (code > 0x10ffff) throw new PictureError('picture.damaged');
    return String.fromCodePoint(code);
  });
}
