// Every example fits the JSON Schema (draft 2020-12) of its format, and the schemas refuse what is wrong.
import assert from 'node:assert/strict';
import {readdirSync, readFileSync} from 'node:fs';
import test from 'node:test';
import {fileURLToPath} from 'node:url';

import Ajv2020 from 'ajv/dist/2020.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const read = (path) => JSON.parse(readFileSync(root + path, 'utf8'));

const schemas = readdirSync(`${root}web/schema`).filter((name) => name.endsWith('.schema.json'));
const examples = readdirSync(`${root}examples`, {recursive: true}).filter((name) => name.endsWith('.json') && !name.endsWith('.expect.json'));
const ajv = new Ajv2020({strict: true, strictTypes: false, strictRequired: false, strictTuples: false, allErrors: true});
for (const name of schemas) ajv.addSchema(read(`web/schema/${name}`));  // a lesson holds boards
/** "board" of "x.board.json" */
const formatOf = (name) => name.split('.').at(-2);
const validators = new Map(schemas.map((name) => [name.split('.')[0], ajv.getSchema(read(`web/schema/${name}`).$id)]));

test('there are examples', () => assert.ok(examples.length > 0));

for (const name of examples) {
  const validate = validators.get(formatOf(name));
  test(`examples/${name} fits its schema`, () => {
    assert.ok(validate, `web/schema/${formatOf(name)}.schema.json is missing`);
    validate(read(`examples/${name}`));
    assert.deepEqual(validate.errors ?? [], []);
  });
}

for (const [format, validate] of validators) {
  const file = examples.find((name) => formatOf(name) === format);
  test(`the ${format} schema refuses a document without a required member, with an unknown one, and of another type`, () => {
    assert.ok(file, `no example of a ${format} file`);
    const good = read(`examples/${file}`);
    assert.ok(validate(good));
    assert.ok(validate.schema.required.length > 0);
    for (const key of validate.schema.required) {
      const {[key]: _, ...without} = good;
      assert.ok(!validate(without), `accepted without ${key}`);
    }
    assert.ok(!validate({...good, unheardOf: 1}), 'accepted an unknown member');
    for (const wrong of [[], 'text', 1, null, true]) assert.ok(!validate(wrong), `accepted ${JSON.stringify(wrong)}`);
  });
}
