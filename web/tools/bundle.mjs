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
for (const name of ['tiepoint.wasm', ...words, 'parts.json', 'icon.svg', ...readdirSync(join(site, 'fonts')).filter((n) => /\.(woff2|ttf)$/.test(n)).map((n) => `fonts/${n}`)])
  put(name, readFileSync(join(site, name)));
put('tiepoint.js', rename(plain('tiepoint.js'), ['tiepoint.wasm'], 'tiepoint.js'));

// Which plain names stand in which source file.
const kNames = {
  'host.js': ['tiepoint.js'], 'language.js': [...words, 'fonts/hebrew.ttf'], 'parts.js': ['parts.json'], 'bar.js': ['icon.svg'],
  'style.css': [...named.keys()].filter((name) => name.endsWith('.woff2')),
};
for (const name of readdirSync(site).filter((n) => /\.(js|css)$/.test(n) && n !== 'tiepoint.js'))
  writeFileSync(join(source, name), rename(plain(name), kNames[name] ?? [], name));

const kEntries = ['app.js', 'parts.js', 'style.css', 'parts.css', 'lesson.css', 'author.css', 'marking.js', 'marking.css'];
execFileSync('esbuild', [...kEntries, '--bundle', '--minify', '--format=esm', '--target=es2022', '--external:fonts/*', '--log-level=warning',
  '--outdir=bundled'], {cwd: source, stdio: ['ignore', 'ignore', 'inherit']});
for (const name of kEntries) put(name, readFileSync(join(source, 'bundled', name)));

/** @param {string} name of an HTML file */
function page(name) {
  let text = plain(name);
  const names = [...text.matchAll(/(?:href|src)="([^"]+)"/g)].map((found) => found[1]).filter((one) => named.has(one));
  text = rename(text, [...new Set(names)], name);
  // The modules are one file now.
  text = text.replace(/<link rel="modulepreload" href="([^"]+)">\n/g, (link, target) => (existsSync(join(out, target)) ? link : ''));
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
