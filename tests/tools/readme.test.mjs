// README.md tells the truth: its commands run, and print what it shows.
// In a block marked ```console a line "$ command" is run; the lines after it must appear in its output in that order ("…" stands for any
// lines). "# exit 1" after the command names another exit status than 0.
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {accessSync, constants, existsSync, readFileSync} from 'node:fs';
import test from 'node:test';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
// Commands that build, serve or test everything: only that they are there is checked here.
const kLong = /^(web\/serve|web\/build|tests\/run|cmake |PORT=\d+ web\/serve|cp |git )/;

function sessions(text) {
  const found = [];
  for (const [, block] of text.matchAll(/^```console\n([\s\S]*?)^```/gm)) {
    for (const line of block.split('\n')) {
      if (line.startsWith('$ ')) found.push({command: line.slice(2), shown: []});
      else if (line !== '') found.at(-1)?.shown.push(line);
    }
  }
  return found;
}

for (const document of ['README.md', 'DEVELOPERS.md']) {
  const all = sessions(readFileSync(root + document, 'utf8'));
  if (document === 'README.md') test('README.md shows commands', () => assert.ok(all.length > 0));
  for (const {command, shown} of all) {
    test(`${document}: ${command}`, () => {
      const [, bare, status] = command.match(/^(.*?)(?:\s+# exit (\d))?$/);
      if (kLong.test(bare)) {
        const program = bare.replace(/^PORT=\d+ /, '').split(' ')[0];
        if (program.includes('/')) accessSync(root + program, constants.X_OK);
        return;
      }
      const run = spawnSync('bash', ['-c', bare], {cwd: root, encoding: 'utf8', timeout: 60000});
      assert.equal(run.status, Number(status ?? 0), run.stdout + run.stderr);
      const printed = (run.stdout + run.stderr).split('\n').map((line) => line.trimEnd());
      let at = 0;
      for (const line of shown.filter((each) => each.trim() !== '…')) {
        const found = printed.indexOf(line.trimEnd(), at);
        assert.ok(found >= 0, `not printed: ${line}\n--- printed:\n${printed.join('\n')}`);
        at = found + 1;
      }
    });
  }
  test(`${document}: files it links to exist`, () => {
    const text = readFileSync(root + document, 'utf8');
    for (const [, target] of text.matchAll(/\]\((?!https?:|#|mailto:)([^)#]+)/g)) assert.ok(existsSync(root + target), `${target} is missing`);
  });
}
