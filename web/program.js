// The program's WebAssembly, in two halves that share one memory and one table (web/tools/split.mjs). The first shows a bench with common parts and
// lets hands work on it. The second has the other parts, edits in words, and the answers to what a person asks (why is it dark, which value, a lesson);
// it is fetched when any of that is near.

const kFirst = 'tiepoint.wasm', kMore = 'tiepoint.more.wasm';

/** @param {URL|string} address */
export async function fetchFile(address) {
  const answer = await fetch(address, {credentials: 'same-origin'});
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return answer;
}

/** @param {URL} address @returns {Promise<WebAssembly.Module>} */
async function compile(address) {
  const answer = await fetchFile(address);
  // A server that calls it something else keeps the browser from compiling while it comes.
  if (answer.headers.get('Content-Type') !== 'application/wasm') return WebAssembly.compile(await answer.arrayBuffer());
  return WebAssembly.compileStreaming(answer);
}

/** Whether late() can work: some browsers compile no more than 4 kB while the page waits. */
function compilesWaiting() {
  const bytes = new Uint8Array(5000);  // a module that is one section without meaning
  bytes.set([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0, 0, 0xfd, 0x26]);
  try {
    return new WebAssembly.Module(bytes) instanceof WebAssembly.Module;
  } catch {
    return false;
  }
}

export class Program {
  /** Begins at once. @param {URL} script address of tiepoint.js; the halves lie beside it */
  constructor(script) {
    this.script = script;
    this.first = compile(new URL(kFirst, script));
    this.first.catch(() => {});  // told by start()
    /** @type {?Promise<WebAssembly.Module>} */
    this.second = null;
    /** @type {?Promise<void>} */
    this.coming = null;
    /** @type {() => void} */
    this.started = () => {};
    this.running = new Promise((resolve) => (this.started = () => resolve(undefined)));
    this.whole = false;
  }

  /** @param {WebAssembly.Imports} imports @returns {Promise<WebAssembly.Instance>} */
  async start(imports) {
    const module = await this.first;
    // Each half is tied to the other of the same build by the name of what they import.
    this.tie = WebAssembly.Module.imports(module).find((one) => one.module.startsWith('half '))?.module ?? '';
    const later = new Proxy({}, {get: (_, slot) => (/** @type {any[]} */ ...words) => this.late(Number(slot), words)});
    this.instance = await WebAssembly.instantiate(module, {...imports, [this.tie]: later});
    this.started();
    if (!compilesWaiting()) await this.fetchMore();
    return this.instance;
  }

  /** Begins to fetch the second half. */
  prepareMore() {
    this.second ??= compile(new URL(kMore, this.script));
    this.second.catch(() => (this.second = null));  // told by fetchMore()
    return this.second;
  }

  /** The second half, fetched unless it is here. A failure may be tried again. @returns {Promise<void>} */
  fetchMore() {
    this.coming ??= Promise.all([this.prepareMore(), this.running]).then(([module]) => WebAssembly.instantiate(module, this.exports())).then(() => void (this.whole = true));
    this.coming.catch(() => (this.coming = null));
    return this.coming;
  }

  exports() {
    return {[/** @type {string} */ (this.tie)]: /** @type {WebAssembly.ModuleImports} */ (this.instance?.exports)};
  }

  /** The first half called the second before it was there: the page stands still until it is. @param {number} slot of the table @param {any[]} words */
  late(slot, words) {
    if (!this.whole) {
      const request = new XMLHttpRequest();
      request.open('GET', new URL(kMore, this.script), false);
      request.overrideMimeType('text/plain; charset=x-user-defined');  // bytes; a request that waits cannot ask for them otherwise
      request.send();
      const bytes = Uint8Array.from(request.responseText, (letter) => letter.charCodeAt(0));
      new WebAssembly.Instance(new WebAssembly.Module(bytes), this.exports());
      this.whole = true;
      this.coming ??= Promise.resolve();
    }
    const table = /** @type {WebAssembly.Table} */ (Object.values(this.instance?.exports ?? {}).find((one) => one instanceof WebAssembly.Table));
    return table.get(slot)(...words);
  }
}
