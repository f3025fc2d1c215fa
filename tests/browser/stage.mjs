// What the tests of a file stand on: the served site and a browser, put up before them and taken down after.
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before} from 'node:test';
import {launch, serve} from './site.mjs';

/**
 * @param {(stage: {site: {url: string, close: () => void}, browser: import('playwright-core').Browser, folder: string}) => unknown} up takes what
 *   stands there, and opens what it needs of it
 * @param {{folder?: string}} [also] a folder for files whose name begins like this
 */
export function stage(up, {folder = ''} = {}) {
  const stands = {};
  before(async () => {
    if (folder) stands.folder = mkdtempSync(join(tmpdir(), folder));
    stands.site = await serve();
    stands.browser = await launch();
    await up(stands);
  });
  after(async () => {
    await stands.browser?.close();
    stands.site?.close();
    if (stands.folder) rmSync(stands.folder, {recursive: true, force: true});
  });
}
