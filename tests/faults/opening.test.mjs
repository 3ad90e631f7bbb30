// Databases that cannot be opened, or only after an upgrade.

import assert from 'node:assert/strict';
import { after, afterEach, before, describe, test } from 'node:test';
import { ENGINES, bare, group, open, rows } from './harness.mjs';

const openOwn = (page) =>
  page.evaluate(() =>
    attempt(async () => {
      window.vault = await probe.Probe.open('own');
      return 'open';
    }),
  );

/** Raw JavaScript: a database of a version with stores and rows. */
const makeRaw = (page, name, version, stores) =>
  page.evaluate(
    async (name, version, stores) => {
      await new Promise((done, failed) => {
        const request = indexedDB.open(name, version);
        request.onupgradeneeded = () => {
          for (const [store, pairs] of Object.entries(stores)) {
            const made = request.result.createObjectStore(store);
            for (const [key, value] of pairs) made.put(value, key);
          }
        };
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          request.result.close();
          done();
        };
      });
    },
    name,
    version,
    stores,
  );

/** Raw JavaScript: the version and the stores that are there. */
const lookRaw = (page, name) =>
  page.evaluate(async (name) => {
    const db = await new Promise((done, failed) => {
      const request = indexedDB.open(name);
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
    });
    const seen = { version: db.version, stores: [...db.objectStoreNames] };
    db.close();
    return seen;
  }, name);

for (const engine of ENGINES) {
  describe(`opening in ${engine}`, () => {
    const at = group(engine, { before, afterEach, after });

    const refusals = [
      [
        'no IndexedDB',
        'Unavailable',
        () => Object.defineProperty(window, 'indexedDB', { get: () => undefined }),
      ],
      [
        'a getter that throws',
        'Refused',
        () =>
          Object.defineProperty(window, 'indexedDB', {
            get: () => {
              throw new DOMException('The operation is insecure.', 'SecurityError');
            },
          }),
      ],
      [
        'an open that throws SecurityError',
        'Refused',
        () => {
          IDBFactory.prototype.open = () => {
            throw new DOMException('The operation is insecure.', 'SecurityError');
          };
        },
      ],
      [
        'an open that fails with InvalidStateError',
        'Refused',
        () => {
          IDBFactory.prototype.open = () => {
            const request = new EventTarget();
            Object.setPrototypeOf(request, IDBOpenDBRequest.prototype);
            const error = new DOMException('Not allowed here.', 'InvalidStateError');
            const own = { error: { get: () => error }, readyState: { get: () => request.state } };
            for (const kind of ['success', 'error', 'blocked', 'upgradeneeded']) {
              own[`on${kind}`] = { writable: true, value: null };
            }
            Object.defineProperties(request, own);
            request.state = 'pending';
            setTimeout(() => {
              request.state = 'done';
              request.onerror?.(new Event('error'));
            }, 10);
            return request;
          };
        },
      ],
    ];
    for (const [what, kind, before] of refusals) {
      test(`${what} is ${kind}, and the memory vault works`, async () => {
        const page = await at.page(before);
        assert.deepEqual(await openOwn(page), { error: kind });
        const added = await page.evaluate(async (batch) => {
          const vault = probe.Probe.inMemory();
          return [...(await vault.append(batch))];
        }, rows('a', 2));
        assert.deepEqual(added, [2, 0]);
        assert.deepEqual(page.uncaught, []);
      });
    }

    test('a browser that never responds runs into the timeout', async () => {
      const page = await at.page(() => {
        const real = IDBFactory.prototype.open;
        // A request that never fires an event.
        IDBFactory.prototype.open = function (...of) {
          const request = real.apply(this, of);
          for (const kind of ['onsuccess', 'onerror', 'onupgradeneeded', 'onblocked']) {
            Object.defineProperty(request, kind, { set: () => {} });
          }
          Object.defineProperty(request, 'readyState', { get: () => 'pending' });
          return request;
        };
      });
      const begun = Date.now();
      assert.deepEqual(await openOwn(page), { error: 'Unavailable' });
      const took = Date.now() - begun;
      assert.ok(took >= 4900 && took < 20_000, `${took} ms`);
    });

    test('a newer schema is left alone', async () => {
      const page = await at.page();
      await makeRaw(page, 'stemtide', 7, { entries: [['a', '{}']], other: [] });
      assert.deepEqual(await openOwn(page), { error: 'Newer' });
      const seen = await lookRaw(page, 'stemtide');
      assert.deepEqual(seen, { version: 7, stores: ['entries', 'other'] });
    });

    test('a database of schema 1 opens with its rows and its device', async () => {
      const page = await at.page();
      await makeRaw(page, 'stemtide', 1, {
        entries: JSON.parse(rows('v', 3)),
        meta: [['device', '{"id":"d1","name":"old phone"}']],
      });
      assert.deepEqual(await openOwn(page), { ok: 'open' });
      assert.deepEqual(
        JSON.parse(await page.evaluate(() => vault.readAll())),
        JSON.parse(rows('v', 3)),
      );
      assert.deepEqual(await page.evaluate(() => vault.device()), ['d1', 'old phone']);
    });

    test('migrations lead from nothing and from schema 1 to the same schema', async () => {
      const page = await at.page();
      await makeRaw(page, 'upgraded', 1, {
        entries: JSON.parse(rows('v', 3)),
        meta: [['device', '{"id":"d1","name":""}']],
      });
      const climbed = await page.evaluate(async () => {
        const old = await probe.Probe.openNewer('upgraded');
        const fresh = await probe.Probe.openNewer('fresh');
        return [await old.readAll(), await fresh.readAll(), await old.device()];
      });
      assert.deepEqual(JSON.parse(climbed[0]), JSON.parse(rows('v', 3)));
      assert.deepEqual(climbed.slice(1), ['[]', ['d1', '']]);
      const layout = { version: 2, stores: ['entries', 'later', 'meta'] };
      assert.deepEqual(await lookRaw(page, 'upgraded'), layout);
      assert.deepEqual(await lookRaw(page, 'fresh'), layout);
    });

    test('a missing store is an error and neither hangs nor crashes', async () => {
      const page = await at.page();
      await makeRaw(page, 'stemtide', 1, { meta: [] });
      assert.deepEqual(await openOwn(page), { ok: 'open' });
      const { error } = await page.evaluate(() => attempt(() => vault.append('[["a","{}"]]')));
      assert.match(error, /^Other\("NotFoundError/);
      assert.deepEqual(page.uncaught, []);
    });

    test('a foreign value is returned as JSON', async () => {
      const page = await at.page();
      await makeRaw(page, 'stemtide', 1, {
        entries: [
          ['a', { nested: [1] }],
          [5, 'text'],
        ],
        meta: [['device', 'not json']],
      });
      await openOwn(page);
      assert.deepEqual(JSON.parse(await page.evaluate(() => vault.readAll())), [
        ['5', 'text'],
        ['a', '{"nested":[1]}'],
      ]);
      const { error } = await page.evaluate(() => attempt(() => vault.device()));
      assert.match(error, /^Other\("the device record is damaged/);
    });

    test('an old tab that does not release the database blocks the new one until the timeout', async () => {
      const context = await at.context();
      const holder = await bare(context, at.url);
      await holder.evaluate(
        () =>
          new Promise((done) => {
            const request = indexedDB.open('held', 1);
            request.onupgradeneeded = () => {
              request.result.createObjectStore('entries');
              request.result.createObjectStore('meta');
            };
            request.onsuccess = () => {
              // No versionchange handler: it does not release the database.
              window.held = request.result;
              done();
            };
          }),
      );
      const page = await open(context, at.url);
      const begun = Date.now();
      const answer = await page.evaluate(() => attempt(() => probe.Probe.openNewer('held')));
      const took = Date.now() - begun;
      assert.deepEqual(answer, { error: 'Blocked' });
      assert.ok(took >= 4900 && took < 20_000, `${took} ms`);

      // After it releases the database the late connection is closed too:
      // another tab may use the database exclusively.
      await holder.evaluate(() => held.close());
      const again = await page.evaluate(() =>
        attempt(async () => {
          const vault = await probe.Probe.openNewer('held');
          const added = [...(await vault.append('[["a","{}"]]'))];
          vault.free();
          return added;
        }),
      );
      assert.deepEqual(again, { ok: [1, 0] });
      const deleted = await holder.evaluate(
        () =>
          new Promise((done) => {
            const request = indexedDB.deleteDatabase('held');
            request.onsuccess = () => done('deleted');
            request.onblocked = () => done('blocked');
          }),
      );
      assert.equal(deleted, 'deleted');
      assert.deepEqual(page.uncaught, []);
    });

    test('an old tab of ours releases the database to a newer version and reports it', async () => {
      const context = await at.context();
      const old = await open(context, at.url);
      await openOwn(old);
      await old.evaluate((batch) => vault.append(batch), rows('a', 3));
      const fresh = await open(context, at.url);
      const begun = Date.now();
      const kept = await fresh.evaluate(async () => {
        window.vault = await probe.Probe.openNewer('stemtide');
        return vault.readAll();
      });
      assert.ok(Date.now() - begun < 4000);
      assert.deepEqual(JSON.parse(kept), JSON.parse(rows('a', 3)));
      assert.deepEqual(await old.evaluate(() => vault.closings()), ['Upgrading']);
      for (const work of ['append', 'readAll']) {
        const answer = await old.evaluate(
          (work) => attempt(() => vault[work]('[["b","{}"]]')),
          work,
        );
        assert.deepEqual(answer, { error: 'Closed' });
      }
      assert.deepEqual(await openOwn(old), { error: 'Newer' });
      assert.deepEqual(old.uncaught, []);
    });
  });
}
