// The whole course walked in the browser by real events, once with the mouse and once with keys alone; a picture of every step.
//   node tests/browser/walk_course.mjs [--lessons first-lamp,dusk] [--by mouse|keys] [--pictures FOLDER]
import {mkdirSync, readdirSync} from 'node:fs';
import {join} from 'node:path';
import {launch, pictures, root, serve} from './site.mjs';
import {startLesson, walk} from './walk.mjs';

const options = process.argv.slice(2);
const option = (name) => (options.includes(name) ? options[options.indexOf(name) + 1] : undefined);
const all = readdirSync(join(root, 'examples/lessons')).filter((name) => name.endsWith('.lesson.json')).map((name) => name.replace('.lesson.json', ''));
const lessons = option('--lessons')?.split(',') ?? all;
const ways = option('--by')?.split(',') ?? ['mouse', 'keys'];
const folder = option('--pictures') ?? join(pictures, 'course');
mkdirSync(folder, {recursive: true});

const site = await serve(), browser = await launch();
let failed = 0;
for (const id of lessons) {
  for (const by of ways) {
    const begun = Date.now();
    const hands = await startLesson(browser, site, id, by);
    const shoot = (name) => hands.page.screenshot({path: join(folder, `${id}-${by}-${name}.png`)});
    try {
      await walk(id, hands, (step, at) => shoot(`${at + 1}-${step.id}`));
      await shoot('finished');
      if (hands.page.problems.length) throw new Error(hands.page.problems.join('\n'));
      console.log(`${id} ${by}: walked in ${((Date.now() - begun) / 1000).toFixed(1)} s`);
    } catch (reason) {
      ++failed;
      await shoot('stuck');
      console.log(`${id} ${by}: STUCK ${String(reason).slice(0, 700)}`);
    }
    await hands.page.context().close();
  }
}
await browser.close();
site.close();
console.log(`${lessons.length * ways.length - failed} walked, ${failed} stuck`);
process.exitCode = failed ? 1 : 0;
