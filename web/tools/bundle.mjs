// Makes of the page's files what a browser loads: modules bundled and small, and names that carry their content's hash, so that a browser
// may keep them for ever. Files of the same content under their plain names stay beside them, for pages that embed the bench.
//   node web/tools/bundle.mjs SITE OUT      SITE: the plain files; OUT: the hashed ones, the HTML that names them, sw.js
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {dirname, extname, join} from 'node:path';

const [site, out] = process.argv.slice(2);
if (!out) {
  console.error('usage: node web/tools/bundle.mjs SITE OUT');
  process.exit(2);
}
const source = join(out, '../source');
for (const folder of [out, source]) {
  rmSync(folder, {recursive: true, force: true});
  mkdirSync(folder, {recursive: true});
}

const hash = (content) => createHash('sha256').update(content).digest('hex').slice(0, 8).toUpperCase();

/** Plain name -> hashed name. @type {Map<string, string>} */
const named = new Map();

/** @param {string} name plain @param {Buffer|string} content */
function put(name, content) {
  const ending = extname(name), to = `${name.slice(0, -ending.length)}.${hash(content)}${ending}`;
  mkdirSync(dirname(join(out, to)), {recursive: true});
  writeFileSync(join(out, to), content);
  named.set(name, to);
}

/** The text with plain names in quotes or url() replaced; each must be there. @param {string} text @param {string[]} names @param {string} file */
function rename(text, names, file) {
  for (const name of names) {
    const quoted = new RegExp(`(["'\`])${name.replaceAll('.', '\\.')}\\1`, 'g');
    if (!quoted.test(text)) throw new Error(`${file} does not name ${name} any more: change web/tools/bundle.mjs`);
    text = text.replace(quoted, (_, quote) => quote + named.get(name) + quote);
  }
  return text;
}

const plain = (name) => readFileSync(join(site, name), 'utf8');
const words = readdirSync(join(site, 'words')).filter((n) => n.endsWith('.json')).map((n) => `words/${n}`);
for (const name of ['tiepoint.wasm', 'tiepoint.more.wasm', ...words, 'author.css', 'parts.json', 'icon.svg', ...readdirSync(join(site, 'fonts')).filter((n) => /\.(woff2|ttf|otf)$/.test(n)).map((n) => `fonts/${n}`)])
  put(name, readFileSync(join(site, name)));
put('tiepoint.js', rename(plain('tiepoint.js'), ['tiepoint.wasm'], 'tiepoint.js'));

const kFonts = ['fonts/inter-regular.otf', 'fonts/inter-semibold.otf'];  // of canvas and words

// Which plain names stand in which source file.
const kNames = {
  'host.js': ['tiepoint.js', ...kFonts], 'program.js': ['tiepoint.wasm', 'tiepoint.more.wasm'], 'language.js': [...words, 'fonts/hebrew.ttf'], 'parts.js': ['parts.json'], 'bar.js': ['icon.svg'], 'course.js': ['author.css'],
  'style.css': [...named.keys()].filter((name) => name.endsWith('.woff2')), 'parts.css': kFonts,
};
for (const name of readdirSync(site).filter((n) => /\.(js|css)$/.test(n) && n !== 'tiepoint.js'))
  writeFileSync(join(source, name), rename(plain(name), kNames[name] ?? [], name));

// The page's style sheets are one file: each costs a round trip before anything is shown.
const sheets = [...plain('index.html').matchAll(/<link rel="stylesheet" href="([^"]+)">\n/g)];
writeFileSync(join(source, 'index.css'), sheets.map(([, name]) => `@import "./${name}";\n`).join(''));
const kEntries = ['index.css', 'app.js', 'parts.js', 'style.css', 'parts.css', 'marking.js', 'marking.css'];
/** @param {string[]} entries @param {string[]} [more] */
const bundle = (entries, more = []) => execFileSync('esbuild', [...entries, '--bundle', '--minify', '--format=esm', '--target=es2022', '--external:fonts/*',
  '--log-level=warning', '--outdir=bundled', ...more], {cwd: source, stdio: ['ignore', 'ignore', 'inherit']});
bundle(kEntries.filter((name) => name !== 'app.js'));
bundle(['app.js'], ['--splitting', '--chunk-names=[name]-[hash]', '--metafile=app.meta.json']);
for (const name of kEntries) if (name !== 'app.js') put(name, readFileSync(join(source, 'bundled', name)));

// What the page asks for later is in files of its own (`import()`); so is what these share with it. Each is named once all it imports has a name.
/** @type {Record<string, {imports: {path: string, kind: string}[]}>} */
const outputs = JSON.parse(readFileSync(join(source, 'app.meta.json'), 'utf8')).outputs;
const bare = (path) => path.replace(/^.*\//, '');
const pieces = Object.entries(outputs).map(([path, {imports}]) => ({name: bare(path), uses: imports.map((one) => bare(one.path)).filter((one) => Object.hasOwn(outputs, `bundled/${one}`)),
  needs: imports.filter(({kind}) => kind === 'import-statement').map((one) => bare(one.path))}));
for (let left = pieces; left.length;) {
  const ready = left.filter(({uses}) => uses.every((name) => named.has(name)));
  if (!ready.length) throw new Error(`${left.map(({name}) => name).join(', ')} import each other in a circle`);
  for (const {name, uses} of ready) put(name, uses.reduce((text, one) => text.replaceAll(`"./${one}"`, `"./${named.get(one)}"`), readFileSync(join(source, 'bundled', name), 'utf8')));
  left = left.filter((one) => !ready.includes(one));
}
const withApp = (pieces.find(({name}) => name === 'app.js')?.needs ?? []).map((name) => named.get(name));

/** @param {string} name of an HTML file */
function page(name) {
  let text = plain(name);
  if (name === 'index.html') sheets.forEach(([link], at) => (text = text.replace(link, at ? '' : '<link rel="stylesheet" href="index.css">\n')));
  const names = [...text.matchAll(/(?:href|src)="([^"]+)"/g)].map((found) => found[1]).filter((one) => named.has(one));
  text = rename(text, [...new Set(names)], name);
  // The modules are one file now, but for what it shares with others.
  text = text.replace(/<link rel="modulepreload" href="([^"]+)">\n/g, (link, target) => (existsSync(join(out, target)) ? link : ''));
  if (text.includes(`"${named.get('app.js')}"`))
    text = text.replace(/(?=<script type="module")/, withApp.map((one) => `<link rel="modulepreload" href="${one}">\n`).join(''));
  // The board that a first visit shows comes with the page: data, which nothing runs.
  if (name === 'index.html') {
    const first = /kFirstBoard = '([a-z0-9-]+)'/.exec(plain('app.js'))?.[1];
    const board = JSON.stringify(JSON.parse(plain(`examples/${first}.board.json`)));
    if (board.includes('<')) throw new Error(`${first}.board.json does not fit into HTML`);
    text = text.replace('</body>', `<script type="application/json" id="first-board" data-name="${first}">${board}</script>\n</body>`);
  }
  writeFileSync(join(out, name), text);
  return text;
}
const pages = ['index.html', 'parts.html', 'marking.html'];
for (const name of pages) page(name);

// ---- What is there without a network: the pages, what they load, every board and lesson.

const all = (folder) => (existsSync(join(site, folder)) ? readdirSync(join(site, folder)) : [])
    .filter((name) => !/\.(br|gz)$/.test(name) && extname(name) !== '').map((name) => `${folder}/${name}`);
const content = (name) => readFileSync(existsSync(join(out, name)) ? join(out, name) : join(site, name));
const loose = [...pages, 'manifest.webmanifest', ...all('icons'), ...all('examples'), ...all('examples/lessons'),
  ...words.flatMap((name) => all(`examples/lessons/${name.slice(6, 8)}`))];
const files = [['./', false], ...loose.filter((name) => name !== 'index.html').map((name) => [name, false]), ...[...named.values()].map((name) => [name, true])];
const worker = readFileSync(join(dirname(process.argv[1]), 'sw.js'), 'utf8');
const version = hash(JSON.stringify(files) + worker + loose.map((name) => hash(content(name))).join());
writeFileSync(join(out, 'sw.js'), worker.replace("'@version@'", JSON.stringify(version)).replace("['@files@']", JSON.stringify(files)));
writeFileSync(join(out, '../names.json'), JSON.stringify(Object.fromEntries(named), null, 1));
