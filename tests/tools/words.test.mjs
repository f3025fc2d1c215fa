// The message catalogues: every language says everything, with the same arguments and its own plurals, and nothing that nobody asks for.
import assert from 'node:assert/strict';
import {execFileSync, spawnSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import test from 'node:test';
import {argumentsOf, faultsIn, languagesHere, lesson, lessonFaults, lessonWords, read, unused} from '../../web/tools/words.mjs';
import {translated, withWords} from '../../web/lessonwords.js';
import {course} from '../../web/courselist.js';
import {languages} from '../../web/language.js';
import {languageTag, list, pluralClass, say, useWords} from '../../web/words.js';

const root = new URL('../../', import.meta.url);
const english = read('en');
const tool = new URL('web/tools/words', root).pathname;

test('every English message is used', () => assert.deepEqual(unused(english), []));

for (const language of languagesHere())
  test(`${language} says all that English says, with its arguments and plurals`, () => assert.deepEqual(faultsIn(english, read(language), language), []));

for (const language of languagesHere())
  test(`the first five lessons in ${language} have every text, the same numbers, and are in order`, () => {
    assert.deepEqual(translated, course.slice(0, 5));
    for (const id of translated) {
      assert.deepEqual(lessonFaults(language, id), []);
      // The terminal program judges the lesson in its other words: what the text claims still holds.
      const text = JSON.stringify(withWords(lesson(id), lessonWords(language, id).words));
      const run = spawnSync(process.env.TIEPOINT_PROGRAM ?? new URL('build/native/tiepoint', root).pathname, ['lesson', 'check', '-'], {input: text, encoding: 'utf8'});
      assert.equal(run.status, 0, `${language}/${id}: ${run.stdout}${run.stderr}`);
    }
  });

test('words for a place that the lesson has not are refused', () =>
  assert.throws(() => withWords(lesson('first-lamp'), {'/steps/99/title': 'x'}), /no such place/));

test('the page offers the languages that there are, each by its own name', () => {
  assert.deepEqual(Object.keys(languages).sort(), ['en', ...languagesHere()].sort());
  for (const [tag, {name}] of Object.entries(languages))
    assert.equal(name.toLowerCase(), new Intl.DisplayNames([tag], {type: 'language'}).of(tag).toLowerCase());
});

test('each fault of a translation is found', () => {
  const of = (message, own) => faultsIn({key: message}, {key: own}, 'de').length;
  assert.equal(faultsIn({key: 'a'}, {}, 'de').length, 1);
  assert.equal(faultsIn({}, {key: 'a'}, 'de').length, 1);
  assert.equal(of('{part} placed', 'gesetzt'), 1);
  assert.equal(of('{part} placed', '{teil} gesetzt'), 1);
  assert.equal(of('{part} placed', '{part gesetzt'), 1);
  assert.equal(of('{part} placed', '{part} gesetzt}'), 1);
  assert.equal(of('{part} placed', ' {part} gesetzt'), 1);
  assert.equal(of('{n, plural, one {a} other {b}}', '{n, plural, other {b}}'), 1);
  assert.equal(of('{n, plural, one {a} other {b}}', '{n, plural, one {a} two {a} other {b}}'), 1);
  assert.equal(of('{n, select, a {x} other {y}}', '{n, select, b {x} other {y}}'), 1);
  assert.equal(of('{n, plural, one {a} other {# b}}', '{n, plural, =0 {z} one {a} other {# b}}'), 0);
});

test('arguments within branches are seen', () =>
  assert.deepEqual(argumentsOf('{n, plural, one {{part}} other {#}}').map(({name}) => name), ['n', 'part']));

// The terminal program has a rule of its own: what tests/shell/words_test.cpp holds it to is what the platform says.
test('plural classes of the terminal program are those of Intl', () => {
  const source = readFileSync(new URL('tests/shell/words_test.cpp', root), 'utf8');
  const rows = [...source.matchAll(/"([a-z]{2}) ((?:\d+:\w+ ?)+)"/g)];
  assert.deepEqual(rows.map((row) => row[1]).sort(), ['en', ...languagesHere()].sort());
  for (const [, language, classes] of rows)
    for (const one of classes.split(' ')) {
      const [number, name] = one.split(':');
      assert.equal(name, new Intl.PluralRules(language).select(Number(number)), `${language} ${number}`);
    }
});

test('the page fills plurals and numbers as the language writes them', () => {
  useWords(read('de'));
  assert.equal(say('notebook.summary', {parts: say('notebook.summary.parts', {count: 1}), wires: 2}), 'Auf dem Brett: 1 Bauteil und 2 Steckdrähte.');
  assert.equal(say('time.days', {count: 1.5}), '1,5 Tage');
  useWords(read('es'));
  assert.equal(list(['R1', 'S1', 'LED1']), 'R1, S1 y LED1');
});

// The page writes short lists and the plurals of small numbers itself, since the platform's tables take long to load.
test('lists and plurals of the page are those of Intl', () => {
  for (const language of ['en', 'de', 'es']) {
    useWords(read(language));
    for (const items of [[], ['R1'], ['R1', 'S1'], ['R1', 'S1', 'LED1'], ['R1', 'interruptor'], ['R1', 'S1', 'hilo', 'LED1'], ['R1', 'hilo']])
      assert.equal(list(items), new Intl.ListFormat(languageTag(), {type: 'conjunction'}).format(items), `${language} ${items}`);
  }
  for (const language of ['en', ...languagesHere()]) {
    useWords(read(language));
    const rules = new Intl.PluralRules(languageTag());
    for (const number of [...Array(1001).keys(), 1.5, 0.1, 1e6, 2e6]) assert.equal(pluralClass(number), rules.select(number), `${language} ${number}`);
  }
});

test('names in a language from the right stand in isolates', () => {
  useWords(read('he'));
  assert.equal(say('part.removed', {part: 'R1'}), '\u2068R1\u2069 הוסר');
  assert.equal(say('notebook.summary.parts', {count: 2}), 'שני רכיבים');
});

test('the command for translators prints what is missing with its English text', () => {
  const all = JSON.parse(execFileSync(tool, ['--missing', 'xx'], {encoding: 'utf8'}));
  assert.deepEqual(all, english);
  assert.deepEqual(JSON.parse(execFileSync(tool, ['--missing', 'de'], {encoding: 'utf8'})), {});
  assert.equal(spawnSync(tool, ['--check']).status, 0);
  assert.equal(spawnSync(tool, ['--nonsense']).status, 2);
});
