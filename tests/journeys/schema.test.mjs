// The published schema, read by a validator that knows nothing of this
// project: season files of all sorts pass, damaged ones don't. Which entries
// the engine itself takes and refuses is written in data/entries.json, which
// its own tests read too. Needs no browser.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import { describe, test } from 'node:test';
import Ajv from 'ajv/dist/2020.js';
import formats from 'ajv-formats';

const ROOT = new URL('../../', import.meta.url);
const SCHEMA = 'src/season/schema/stemtide-log.v1.schema.json';
const EVERY_KIND = 'tests/journeys/data/every-kind.json';
const GOLDEN = 'src/season/tests/golden/season.v1.json';

const read = (path) => JSON.parse(readFileSync(new URL(path, ROOT), 'utf8'));
const demo = readdirSync(new URL('demo-data/', ROOT))
  .filter((name) => name.endsWith('.json'))
  .map((name) => `demo-data/${name}`);

const schema = read(SCHEMA);
// Strict, so that a misspelt keyword is an error and not a rule that is never kept.
const ajv = new Ajv({ strict: true, allowUnionTypes: true });
formats(ajv);
const valid = ajv.compile(schema);
const validEntry = ajv.compile({ $ref: `${schema.$id}#/$defs/entry` });

const HEAD = { id: 'e1', at: '2027-02-14T08:30:12.345Z/0000', device: 'd1' };

/** Canonical JSON as RFC 8785 defines it: by what JSON.stringify does, keys sorted by UTF-16 code units. */
function canonical(value) {
  if (Array.isArray(value)) {
    return `[${value.map(canonical).join(',')}]`;
  }
  if (value !== null && typeof value === 'object') {
    const fields = Object.keys(value)
      .sort()
      .map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`);
    return `{${fields.join(',')}}`;
  }
  return JSON.stringify(value);
}

function byOrder(a, b) {
  for (const name of ['at', 'device', 'id']) {
    if (a[name] !== b[name]) {
      return a[name] < b[name] ? -1 : 1;
    }
  }
  return 0;
}

describe('season files', () => {
  assert.ok(demo.length >= 3, `only ${demo} in demo-data`);
  for (const path of [...demo, EVERY_KIND, GOLDEN]) {
    test(path, () => {
      const file = read(path);
      assert.ok(valid(file), ajv.errorsText(valid.errors));
      // What no schema can say.
      assert.equal(file.count, file.entries.length);
      assert.equal(new Set(file.entries.map((entry) => entry.id)).size, file.count);
      assert.deepEqual(file.entries, file.entries.toSorted(byOrder));
      const sum = createHash('sha256').update(file.entries.map(canonical).join('\n')).digest('hex');
      assert.equal(sum, file.sha256);
    });
  }

  test('every kind of the schema occurs in one of them', () => {
    const kinds = new Set(read(EVERY_KIND).entries.map((entry) => entry.kind));
    const named = Object.keys(schema.$defs.kinds);
    assert.ok(named.length >= 37, `${named.length} kinds`);
    assert.deepEqual(named.filter((kind) => !kinds.has(kind)), []);
  });
});

describe('damaged files', () => {
  const damages = {
    'a list': () => [],
    'another format': (file) => ({ ...file, format: 'other' }),
    'a newer version': (file) => ({ ...file, version: 2 }),
    'a version in letters': (file) => ({ ...file, version: '1' }),
    'a negative count': (file) => ({ ...file, count: -1 }),
    'a count in letters': (file) => ({ ...file, count: '18' }),
    'a sum cut short': (file) => ({ ...file, sha256: file.sha256.slice(1) }),
    'a sum in capitals': (file) => ({ ...file, sha256: file.sha256.toUpperCase() }),
    'a device without an id': (file) => ({ ...file, device: { name: 'Bench phone' } }),
    'a device that is a word': (file) => ({ ...file, device: 'phone' }),
    'a time that is none': (file) => ({ ...file, exported_at: 'yesterday' }),
    'entries by name': (file) => ({ ...file, entries: { ...file.entries } }),
    'an entry that is a word': (file) => ({ ...file, entries: [...file.entries, 'sown'] }),
    'an entry that is a list': (file) => ({ ...file, entries: [...file.entries, []] }),
  };
  for (const [what, damage] of Object.entries(damages)) {
    test(what, () => assert.equal(valid(damage(read(EVERY_KIND))), false));
  }

  test('without one of the fields it must have', () => {
    assert.ok(schema.required.length >= 6);
    for (const name of schema.required) {
      const { [name]: gone, ...file } = read(EVERY_KIND);
      assert.notEqual(gone, undefined, name);
      assert.equal(valid(file), false, name);
    }
  });

  test('an entry without one of the fields of its head', () => {
    for (const name of ['id', 'at', 'device', 'kind']) {
      const file = read(EVERY_KIND);
      delete file.entries[3][name];
      assert.equal(valid(file), false, name);
    }
  });

  test('one bad entry among good ones', () => {
    const file = read('demo-data/demo-season.json');
    const counted = file.entries.find((entry) => entry.kind === 'counted');
    counted.up = -counted.up - 1;
    assert.equal(valid(file), false);
    assert.match(valid.errors[0].instancePath, /^\/entries\/\d+\/up$/);
  });
});

describe('entries, as the engine judges them', () => {
  const { taken, refused } = read('tests/journeys/data/entries.json');
  assert.ok(taken.length > 10 && refused.length > 70);

  test('what it takes passes', () => {
    for (const [what, fields] of taken) {
      assert.ok(validEntry({ ...HEAD, ...fields }), `${what}: ${ajv.errorsText(validEntry.errors)}`);
    }
  });

  test('what it refuses fails', () => {
    for (const [what, fields] of refused) {
      assert.equal(validEntry({ ...HEAD, ...fields }), false, what);
    }
  });

  test('no kind asks for more than its own fields', () => {
    let tried = 0;
    for (const entry of read(EVERY_KIND).entries) {
      const rules = schema.$defs.kinds[entry.kind];
      if (rules === undefined) {
        continue;
      }
      const needed = [...rules.required, ...(rules.oneOf ? ['sowing', 'planting'] : [])];
      const least = Object.fromEntries(
        Object.entries(entry).filter(([name]) => name in HEAD || name === 'kind' || needed.includes(name))
      );
      assert.ok(validEntry(least), `${entry.kind}: ${ajv.errorsText(validEntry.errors)}`);
      for (const name of rules.required) {
        const { [name]: gone, ...lacking } = least;
        assert.notEqual(gone, undefined, `${entry.kind}: ${name}`);
        assert.equal(validEntry(lacking), false, `${entry.kind} without ${name}`);
        tried += 1;
      }
    }
    assert.ok(tried > 80, `${tried} fields`);
  });
});
