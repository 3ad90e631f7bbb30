// Connections lost while in use.

import assert from 'node:assert/strict';
import { after, afterEach, before, describe, test } from 'node:test';
import { ENGINES, group, open, profile, rows, serve, start } from './harness.mjs';

// Records every database that is opened, so that a test can close it without
// the vault's knowledge.
const spy = () => {
  window.databases = [];
  const real = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function (...of) {
    const request = real.apply(this, of);
    request.addEventListener('success', () => databases.push(request.result));
    return request;
  };
};

const openOwn = (page) =>
  page.evaluate(async () => {
    window.vault = await probe.Probe.open('own');
  });

const append = (page, batch) =>
  page.evaluate((batch) => attempt(async () => [...(await vault.append(batch))]), batch);

for (const engine of ENGINES) {
  describe(`a lost connection in ${engine}`, () => {
    const at = group(engine, { before, afterEach, after });

    test('is reopened once, and the batch is stored', async () => {
      const page = await at.page(spy);
      await openOwn(page);
      assert.deepEqual(await append(page, rows('a', 3)), { ok: [3, 0] });
      await page.evaluate(() => databases[0].close());
      assert.deepEqual(await append(page, rows('a', 5)), { ok: [2, 3] });
      await page.evaluate(() => databases[1].close());
      const read = await page.evaluate(() => vault.readAll());
      assert.deepEqual(JSON.parse(read), JSON.parse(rows('a', 5)));
      assert.equal(await page.evaluate(() => databases.length), 3);
      assert.deepEqual(page.uncaught, []);
    });

    test('is reopened once for concurrent operations', async () => {
      const page = await at.page(spy);
      await openOwn(page);
      await page.evaluate(() => databases[0].close());
      const done = await page.evaluate(
        (batches) => Promise.all(batches.map((batch) => vault.append(batch))),
        [rows('a', 3), rows('b', 3), rows('c', 3)],
      );
      assert.equal(done.length, 3);
      const all = JSON.parse(await page.evaluate(() => vault.readAll()));
      assert.equal(all.length, 9);
    });

    test('in the middle of a batch stores no part of it', async () => {
      const page = await at.page(() => {
        const real = IDBTransaction.prototype.commit;
        window.commits = 0;
        IDBTransaction.prototype.commit = function () {
          window.commits += 1;
          return window.commits === window.fails ? this.abort() : real.call(this);
        };
      });
      await openOwn(page);
      await page.evaluate(() => {
        window.fails = commits + 1;
      });
      assert.deepEqual(await append(page, rows('a', 50)), { ok: [50, 0] });
      assert.equal(await page.evaluate(() => commits - fails), 1);
      assert.deepEqual(page.uncaught, []);
    });

    test('that is lost every time gives up with an error', async () => {
      const page = await at.page(() => {
        const real = IDBTransaction.prototype.commit;
        IDBTransaction.prototype.commit = function () {
          return window.failing ? this.abort() : real.call(this);
        };
      });
      await openOwn(page);
      await page.evaluate(() => {
        window.failing = true;
      });
      assert.deepEqual(await append(page, rows('a', 5)), { error: 'Closed' });
      const left = await page.evaluate(() => vault.readAll());
      assert.equal(left, '[]');
      await page.evaluate(() => {
        window.failing = false;
      });
      assert.deepEqual(await append(page, rows('a', 5)), { ok: [5, 0] });
    });

    test('a dropped vault releases its database', async () => {
      const page = await at.page();
      await openOwn(page);
      await append(page, rows('a', 1));
      const deleted = await page.evaluate(async () => {
        vault.free();
        return new Promise((done) => {
          const request = indexedDB.deleteDatabase('stemtide');
          request.onsuccess = () => done('deleted');
          request.onblocked = () => done('blocked');
        });
      });
      assert.equal(deleted, 'deleted');
    });
  });
}

test('chromium clearing the site under an open vault does not stop it', async () => {
  const server = await serve();
  const { dir, remove } = await profile();
  const browser = await start('chromium', dir);
  try {
    const page = await open(browser, server.url);
    await openOwn(page);
    await append(page, rows('a', 3));
    const session = await page.createCDPSession();
    await session.send('Storage.clearDataForOrigin', {
      origin: new URL(server.url).origin,
      storageTypes: 'indexeddb',
    });
    assert.deepEqual(await append(page, rows('b', 2)), { ok: [2, 0] });
    const read = await page.evaluate(() => vault.readAll());
    assert.deepEqual(JSON.parse(read), JSON.parse(rows('b', 2)));
    assert.deepEqual(page.uncaught, []);
  } finally {
    await browser.close();
    await server.stop();
    await remove();
  }
});
