// Two other engines over their own wires, without a library: Firefox by WebDriver BiDi (a WebSocket of the browser itself), WebKitGTK's
// MiniBrowser by WebDriver (HTTP, through WebKitWebDriver). Both give the same four things: go, ask, act, close.
import {spawn} from 'node:child_process';
import {existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';

/** @typedef {{name: string, go: (url: string) => Promise<void>, ask: (what: Function, ...args: any[]) => Promise<any>, act: (sources: object[]) => Promise<void>, close: () => Promise<void>}} Driver */

/** Tries until it works or the time is over. */
async function until(what, milliseconds, name) {
  const end = Date.now() + milliseconds;
  for (let last; ; await wait(200)) {
    try {
      return await what();
    } catch (error) {
      last = error;
    }
    if (Date.now() > end) throw new Error(`${name}: ${last}`);
  }
}

/** A screen of its own. */
export function startScreen(number = 97) {
  const screen = spawn('Xvfb', [`:${number}`, '-screen', '0', '1366x900x24'], {stdio: 'ignore'});
  return {env: {...process.env, DISPLAY: `:${number}`, LIBGL_ALWAYS_SOFTWARE: '1', WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1', GDK_BACKEND: 'x11'}, close: () => screen.kill()};
}

/** What is asked runs in the page; its answer comes as JSON. */
const wrapped = (what, args) => `Promise.resolve((${what})(...${JSON.stringify(args)})).then((answer) => JSON.stringify(answer ?? null))`;

/** @returns {Promise<Driver>} */
export async function firefox(env, port = 9333) {
  const profile = mkdtempSync(join(tmpdir(), 'tiepoint-firefox-'));
  writeFileSync(join(profile, 'user.js'), 'user_pref("webgl.force-enabled", true);\nuser_pref("browser.shell.checkDefaultBrowser", false);\nuser_pref("datareporting.policy.dataSubmissionEnabled", false);\n' +
    'user_pref("browser.aboutwelcome.enabled", false);\nuser_pref("intl.accept_languages", "en-GB, en");\n');
  const browser = spawn('firefox-esr', ['--remote-debugging-port', String(port), '--profile', profile, '--no-remote', '--width', '1366', '--height', '880', 'about:blank'], {env, stdio: 'ignore'});
  const socket = await until(() => new Promise((resolve, reject) => {
    const one = new WebSocket(`ws://127.0.0.1:${port}/session`);
    one.onopen = () => resolve(one);
    one.onerror = () => reject(new Error('no answer'));
  }), 60000, 'Firefox');
  const waiting = new Map();
  let number = 0;
  socket.onmessage = ({data}) => {
    const message = JSON.parse(data), one = waiting.get(message.id);
    waiting.delete(message.id);
    if (message.type === 'error') one?.reject(new Error(`${message.error}: ${message.message}`));
    else one?.resolve(message.result);
  };
  const send = (method, params) => new Promise((resolve, reject) => {
    waiting.set(++number, {resolve, reject});
    socket.send(JSON.stringify({id: number, method, params}));
  });
  const session = await send('session.new', {capabilities: {}});
  const context = (await send('browsingContext.getTree', {})).contexts[0].context;
  await send('browsingContext.activate', {context});
  return {
    name: `Firefox ${session.capabilities.browserVersion}`,
    go: async (url) => void await send('browsingContext.navigate', {context, url, wait: 'complete'}),
    ask: async (what, ...args) => {
      const answer = await send('script.evaluate', {expression: wrapped(what, args), awaitPromise: true, target: {context}});
      if (answer.type === 'exception') throw new Error(answer.exceptionDetails.text);
      return JSON.parse(answer.result.value);
    },
    act: async (sources) => void await send('input.performActions', {context, actions: sources}),
    close: async () => {
      await send('browser.close', {}).catch(() => {});
      socket.close();
      browser.kill();
      await wait(500);
      rmSync(profile, {recursive: true, force: true, maxRetries: 5});
    },
  };
}

/** @returns {Promise<Driver>} */
export async function webkit(env, port = 9334) {
  const folder = '/usr/lib/x86_64-linux-gnu';
  const binary = readdirSync(folder).filter((name) => name.startsWith('webkit2gtk-4') || name.startsWith('webkitgtk-6')).map((name) => `${folder}/${name}/MiniBrowser`).find((name) => existsSync(name));
  if (!binary) throw new Error('there is no MiniBrowser');
  const driver = spawn('WebKitWebDriver', [`--port=${port}`], {env, stdio: 'ignore'});
  const call = async (method, path, body) => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, {method, body: body && JSON.stringify(body)});
    const {value} = await answer.json();
    if (!answer.ok) throw new Error(`${value.error}: ${value.message}`);
    return value;
  };
  const session = await until(() => call('POST', '/session', {capabilities: {alwaysMatch: {'webkitgtk:browserOptions': {binary, args: ['--automation']}}}}), 30000, 'WebKit');
  const at = `/session/${session.sessionId}`;
  await call('POST', `${at}/timeouts`, {script: 30000});
  await call('POST', `${at}/window/rect`, {x: 0, y: 0, width: 1366, height: 880}).catch(() => {});
  return {
    name: `WebKitGTK ${session.capabilities.browserVersion}`,
    go: async (url) => void await call('POST', `${at}/url`, {url}),
    ask: async (what, ...args) => {
      const answer = await call('POST', `${at}/execute/async`, {script: `const done = arguments[0]; ${wrapped(what, args)}.then(done, (error) => done(JSON.stringify({failed: String(error)})));`, args: []});
      const value = JSON.parse(answer);
      if (value?.failed) throw new Error(value.failed);
      return value;
    },
    act: async (sources) => void await call('POST', `${at}/actions`, {actions: sources}),
    close: async () => {
      await call('DELETE', at).catch(() => {});
      driver.kill();
    },
  };
}
