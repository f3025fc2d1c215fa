// A saved picture is a sound PNG that any program shows, carries its board, and gives it back by file picker, drop and paste.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {test} from 'node:test';
import {ask, open} from './site.mjs';
import {stage} from './stage.mjs';

let site, browser, png, sent;
stage((on) => { ({site, browser} = on); });

const board = async (page) => (await ask(page, {do: 'board'})).text;
const parsed = (text) => JSON.parse(text);

/** Hands a file to the page as a person's drop or paste does. */
const give = (page, kind, bytes, name = 'mast.png', type = 'image/png') => page.evaluate(([way, data, file, mime]) => {
  const transfer = new DataTransfer();
  transfer.items.add(new File([Uint8Array.from(data)], file, {type: mime}));
  const event = way === 'drop' ? new DragEvent('drop', {dataTransfer: transfer, bubbles: true, cancelable: true})
                               : new ClipboardEvent('paste', {clipboardData: transfer, bubbles: true, cancelable: true});
  document.getElementById('bench').dispatchEvent(event);
}, [kind, [...bytes], name, type]);

/** Chunks of a PNG by another hand: Python's struct and zlib (CRC-32 as in the PNG specification; inflates the pixels too). */
const chunks = (bytes) => JSON.parse(execFileSync('/usr/bin/python3', ['-c', `
import json, struct, sys, zlib
data = sys.stdin.buffer.read(); at = 8; out = []; pixels = b""
assert data[:8] == bytes.fromhex("89504e470d0a1a0a")
while at < len(data):
    size, kind = struct.unpack(">I4s", data[at:at+8]); body = data[at+8:at+8+size]
    crc, = struct.unpack(">I", data[at+8+size:at+12+size])
    out.append({"kind": kind.decode(), "sound": crc == zlib.crc32(kind + body), "text": body.decode() if kind == b"iTXt" else ""})
    if kind == b"IHDR": width, height = struct.unpack(">II", body[:8])
    if kind == b"IDAT": pixels += body
    at += 12 + size
print(json.dumps({"chunks": out, "width": width, "height": height, "rows": len(zlib.decompress(pixels)) % height}))
`], {input: bytes, encoding: 'utf8'}));

test('a saved picture is a sound PNG of the canvas with the board as its one text chunk', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await page.fill('#title', 'Signal mast Ω');
  await page.press('#title', 'Tab');
  sent = await board(page);
  await page.click('#menu-button');
  const [file] = await Promise.all([page.waitForEvent('download'), page.click('[data-item="picture"]')]);
  assert.equal(file.suggestedFilename(), 'signal-mast-ω.png');
  png = readFileSync(await file.path());
  const found = chunks(png);
  assert.deepEqual(found.chunks.filter(({sound}) => !sound), []);
  assert.deepEqual([found.chunks[0].kind, found.chunks.at(-1).kind], ['IHDR', 'IEND']);
  const texts = found.chunks.filter(({kind}) => kind === 'iTXt');
  assert.equal(texts.length, 1);
  const [keyword, , , , , ...rest] = texts[0].text.split('\0');
  assert.equal(keyword, 'Tiepoint board');
  assert.deepEqual(parsed(rest.join('\0')), parsed(sent));
  const canvas = await page.evaluate(() => [document.getElementById('bench').width, document.getElementById('bench').height]);
  assert.deepEqual([found.width, found.rows], [canvas[0], 0]);
  assert.ok(found.height < canvas[1] && found.height > canvas[1] / 2, 'without the parts box'); // which lies under the bench
  await page.context().close();
});

test('a picture that is picked, dropped or pasted gives its board back', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  for (const way of ['picked', 'drop', 'paste']) {
    await page.fill('#title', 'Other work');
    await page.press('#title', 'Tab');
    if (way === 'picked') {
      await page.click('#menu-button');
      const [picker] = await Promise.all([page.waitForEvent('filechooser'), page.click('[data-item="open"]')]);
      await picker.setFiles({name: 'mast.png', mimeType: 'image/png', buffer: png});
    } else {
      await page.focus('#bench');
      await give(page, way, png);
    }
    await page.waitForFunction(() => document.getElementById('title').value === 'Signal mast Ω');
    assert.deepEqual(parsed(await board(page)), parsed(sent));
  }
  await page.context().close();
});

test('a damaged picture and one without a board say so and change nothing', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  const first = await board(page);
  const at = png.indexOf('iTXt') - 4, length = png.readUInt32BE(at);
  const flipped = Buffer.from(png);
  flipped[at + 60] ^= 1;
  const overrun = Buffer.from(png);
  overrun.writeUInt32BE(0xfffffff0, at);
  const cases = [
    [png.subarray(0, at + 40), /damaged/], [flipped, /damaged/], [overrun, /damaged/], [png.subarray(0, 8), /damaged/],
    [Buffer.concat([png.subarray(0, at), png.subarray(at + length + 12)]), /without a board/],
  ];
  for (const [bytes, message] of cases) {
    await page.evaluate(() => { document.getElementById('toast').hidden = true; });
    await give(page, 'drop', bytes);
    await page.waitForSelector('#toast:not([hidden])');
    assert.match(await page.locator('#toast p').textContent(), message);
    assert.equal(await board(page), first);
  }
  await give(page, 'drop', Buffer.from([0xff, 0xd8, 0xff]), 'photo.jpg', 'image/jpeg');
  await page.waitForFunction(() => /photo\.jpg is a picture without a board/.test(document.querySelector('#toast p').textContent));
  assert.equal(await board(page), first);
  await page.context().close();
});

test('a saved drawing is sound XML of under half a megabyte, looks as the bench does, and gives its board back', {timeout: 60000}, async () => {
  const page = await open(browser, site.url);
  await page.fill('#title', 'Mast <2> & "bell"');
  await page.press('#title', 'Tab');
  const first = await board(page);
  await page.click('#menu-button');
  const [file] = await Promise.all([page.waitForEvent('download'), page.click('[data-item="drawing"]')]);
  assert.equal(file.suggestedFilename(), 'mast-2-bell.svg');
  const svg = readFileSync(await file.path());
  assert.ok(svg.length < 500e3, `${svg.length}`);
  // By another hand: Python's expat.
  const read = JSON.parse(execFileSync('/usr/bin/python3', ['-c', `
import json, sys, xml.etree.ElementTree as tree
root = tree.fromstring(sys.stdin.buffer.read()); ns = "{http://www.w3.org/2000/svg}"
print(json.dumps({"title": root.find(ns + "title").text, "board": root.find(ns + "metadata").text, "holes": len(root.findall(ns + "use")), "texts": [t.text for t in root.findall(ns + "text")]}))
`], {input: svg, encoding: 'utf8'}));
  assert.equal(read.title, 'Mast <2> & "bell"');
  assert.deepEqual(parsed(read.board), parsed(first));
  assert.equal(read.holes, 400);
  assert.ok(read.texts.includes('S1'));
  // The browser draws it much as the bench looks: the mean difference of a pixel's channel is small.
  const shown = await page.evaluate(async (text) => {
    const image = new Image();
    image.src = URL.createObjectURL(new Blob([text], {type: 'image/svg+xml'}));
    await image.decode();
    const bench = document.getElementById('bench'), width = bench.clientWidth, height = image.height;
    const pixels = (source) => {
      const canvas = document.createElement('canvas');
      canvas.width = width;
      canvas.height = height;
      const context = canvas.getContext('2d');
      context.drawImage(source, 0, 0, width, source === image ? height : height * bench.height / bench.height);
      return context.getImageData(0, 0, width, height).data;
    };
    const still = await createImageBitmap(await window.__tiepoint.bench.host.picture(height), {resizeWidth: width, resizeHeight: height});
    const a = pixels(image), b = pixels(still);
    let sum = 0;
    for (let k = 0; k < a.length; ++k) sum += Math.abs(a[k] - b[k]);
    return {width: image.width, mean: sum / a.length};
  }, svg.toString());
  assert.equal(shown.width, await page.evaluate(() => document.getElementById('bench').clientWidth));
  assert.ok(shown.mean < 12, `${shown.mean}`);
  for (const way of ['drop', 'paste']) {
    await page.click('#menu-button');
    await page.click('[data-item="new-170"]');
    await page.focus('#bench');
    await give(page, way, svg, 'mast.svg', 'image/svg+xml');
    await page.waitForFunction(() => document.getElementById('title').value === 'Mast <2> & "bell"');
    assert.deepEqual(parsed(await board(page)), parsed(first));
  }
  const text = svg.toString(), none = text.replace(/<metadata[\s\S]*<\/metadata>/, ''), half = text.slice(0, text.indexOf('</metadata>') - 20);
  for (const [bytes, message] of [[none, /without a board/], [half, /damaged/]]) {
    await page.evaluate(() => { document.getElementById('toast').hidden = true; });
    await give(page, 'drop', Buffer.from(bytes), 'mast.svg', 'image/svg+xml');
    await page.waitForSelector('#toast:not([hidden])');
    assert.match(await page.locator('#toast p').textContent(), message);
    assert.deepEqual(parsed(await board(page)), parsed(first));
  }
  await page.context().close();
});
