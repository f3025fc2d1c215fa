// web/serve: starts fast when the site is built, prints its address last, sends what browsers need, stops on Ctrl-C.
import assert from 'node:assert/strict';
import {spawn} from 'node:child_process';
import {once} from 'node:events';
import {get} from 'node:http';
import {createServer} from 'node:net';
import test from 'node:test';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));

async function freePort() {
  const server = createServer().listen(0, 'localhost');
  await once(server, 'listening');
  const {port} = server.address();
  server.close();
  return port;
}

/** Starts the server; resolves when it printed its address. */
function start(port) {
  const child = spawn(`${root}web/serve`, {env: {...process.env, PORT: String(port)}, stdio: ['ignore', 'pipe', 'pipe'], detached: true});
  let printed = '', complained = '';
  child.stderr.on('data', (data) => (complained += data));
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => {
      process.kill(-child.pid, 'SIGKILL');
      reject(new Error(`no address after two minutes: ${printed}${complained}`));
    }, 120000);
    child.on('exit', (code) => {
      clearTimeout(late);
      reject(new Error(`exit ${code}: ${printed}${complained}`));
    });
    child.stdout.on('data', (data) => {
      printed += data;
      if (/^http:\/\/\S+\n$/m.test(printed)) resolve({child, lines: printed.trimEnd().split('\n')});
    });
  });
}

const fetchHead = (url, headers = {}) => new Promise((resolve, reject) => {
  get(url, {headers}, (answer) => { answer.resume(); resolve(answer); }).on('error', reject);
});

test('web/serve', async (t) => {
  const port = await freePort();
  const before = Date.now();
  const {child, lines} = await start(port);
  const url = `http://localhost:${port}`;
  t.after(() => { try { process.kill(-child.pid, 'SIGKILL'); } catch { /* gone, as it should be */ } });

  await t.test('starts in under 10 s when the site is built', () => assert.ok(Date.now() - before < 10000, `${Date.now() - before} ms`));
  await t.test('prints its address as the last line', () => assert.equal(lines.at(-1), url));
  await t.test('sends the page at the top', async () => {
    const answer = await fetchHead(`${url}/?lesson=none`);
    assert.equal(answer.statusCode, 200);
    assert.match(answer.headers['content-type'], /^text\/html/);
  });
  for (const [accepted, coding] of [['br', 'br'], ['gzip', 'gzip'], ['identity', undefined], ['gzip, deflate, br, zstd', 'br']]) {
    await t.test(`sends the module as application/wasm to a browser that accepts ${accepted}`, async () => {
      const answer = await fetchHead(`${url}/tiepoint.wasm`, {'Accept-Encoding': accepted});
      assert.equal(answer.statusCode, 200);
      assert.equal(answer.headers['content-type'], 'application/wasm');
      assert.equal(answer.headers['content-encoding'], coding);
      assert.equal(answer.headers['access-control-allow-origin'], '*');
    });
  }
  await t.test('says 404 for what is not there', async () => assert.equal((await fetchHead(`${url}/nothing.js`)).statusCode, 404));
  await t.test('a second one on the same port fails with a sentence', async () => {
    await assert.rejects(start(port), /could not listen on port/);
  });
  await t.test('stops on Ctrl-C', async () => {
    const exited = once(child, 'exit');
    process.kill(-child.pid, 'SIGINT');
    assert.equal((await exited)[0], 0);
    await assert.rejects(fetchHead(url));
  });
});
