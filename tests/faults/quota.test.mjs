// No space left, in the forms in which browsers report it.

import assert from 'node:assert/strict';
import { randomBytes } from 'node:crypto';
import { after, afterEach, before, describe, test } from 'node:test';
import { ENGINES, group, open, profile, rows, serve, start } from './harness.mjs';

const append = (page, batch) =>
  page.evaluate((batch) => attempt(async () => [...(await vault.append(batch))]), batch);

const count = (page) => page.evaluate(async () => JSON.parse(await vault.readAll()).length);

// Each takes effect while `window.full` is set.
const shapes = {
  'add throws at the 30th row': () => {
    const real = IDBObjectStore.prototype.add;
    let calls = 0;
    IDBObjectStore.prototype.add = function (...of) {
      calls += 1;
      if (window.full && calls % 100 === 30) {
        throw new DOMException('No room.', 'QuotaExceededError');
      }
      return real.apply(this, of);
    };
  },
  'the transaction aborts with QuotaExceededError': () => {
    const real = IDBTransaction.prototype.commit;
    IDBTransaction.prototype.commit = function () {
      if (!window.full) return real.call(this);
      const error = new DOMException('No room.', 'QuotaExceededError');
      Object.defineProperty(this, 'error', { get: () => error });
      return this.abort();
    };
  },
  'the transaction aborts with AbortError that has the name inside': () => {
    const real = IDBTransaction.prototype.commit;
    IDBTransaction.prototype.commit = function () {
      if (!window.full) return real.call(this);
      const error = new DOMException('Aborted: QuotaExceededError', 'AbortError');
      Object.defineProperty(this, 'error', { get: () => error });
      return this.abort();
    };
  },
};

for (const engine of ENGINES) {
  describe(`no room in ${engine}`, () => {
    const at = group(engine, { before, afterEach, after });

    for (const [shape, before] of Object.entries(shapes)) {
      test(shape, async () => {
        const page = await at.page(before);
        await page.evaluate(async () => {
          window.vault = await probe.Probe.open('own');
        });
        assert.deepEqual(await append(page, rows('a', 5)), { ok: [5, 0] });
        await page.evaluate(() => {
          window.full = true;
        });
        assert.deepEqual(await append(page, rows('b', 100)), { error: 'Quota' });
        assert.equal(await count(page), 5);
        await page.evaluate(() => {
          window.full = false;
        });
        assert.deepEqual(await append(page, rows('b', 100)), { ok: [100, 0] });
        assert.equal(await count(page), 105);
        assert.deepEqual(page.uncaught, []);
      });
    }
  });
}

test('an actually small quota, in chromium', async () => {
  const server = await serve();
  const { dir, remove } = await profile();
  const browser = await start('chromium', dir);
  try {
    const page = await open(browser, server.url);
    const origin = new URL(server.url).origin;
    const session = await page.createCDPSession();
    // Before the first use: the browser caches the available space for a while.
    await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1_000_000 });
    await page.evaluate(async () => {
      window.vault = await probe.Probe.open('own');
    });
    assert.deepEqual(await append(page, rows('a', 5)), { ok: [5, 0] });
    // Text that the browser cannot compress.
    const heavy = JSON.stringify(
      Array.from({ length: 40 }, (_, i) => [`b${i}`, randomBytes(50_000).toString('hex')]),
    );
    assert.deepEqual(await append(page, heavy), { error: 'Quota' });
    assert.equal(await count(page), 5);
    await session.send('Storage.overrideQuotaForOrigin', { origin });
    assert.deepEqual(await append(page, heavy), { ok: [40, 0] });
    assert.equal(await count(page), 45);
    assert.deepEqual(page.uncaught, []);
  } finally {
    await browser.close();
    await server.stop();
    await remove();
  }
});
