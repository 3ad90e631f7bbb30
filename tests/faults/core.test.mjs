// The guarantees of the vault, in real browsers.

import assert from 'node:assert/strict';
import { after, afterEach, before, describe, test } from 'node:test';
import { ENGINES, group, kill, open, profile, rows, serve, start } from './harness.mjs';

const appendAll = (page, book, batch) =>
  page.evaluate(
    async (book, batch) => {
      window.vault ??= await probe.Probe.open(book);
      return attempt(async () => [...(await vault.append(batch))]);
    },
    book,
    batch,
  );

const readAll = async (page, book = 'own') =>
  JSON.parse(
    await page.evaluate(async (book) => {
      window.vault ??= await probe.Probe.open(book);
      return vault.readAll();
    }, book),
  );

for (const engine of ENGINES) {
  describe(`a vault in ${engine}`, () => {
    const at = group(engine, { before, afterEach, after });

    test('rows survive a reload byte for byte and in order of id', async () => {
      const page = await at.page();
      const odd = [
        ['b', '{"text":"\u0000 \\u0000 \ud83c\udf3b \\"quoted\\"\\n"}'],
        ['\ufffd', '{}'],
        ['\ud83c\udf3b', ''],
        ['a', ' {"not" : "canonical" } '],
      ];
      assert.deepEqual(await appendAll(page, 'own', JSON.stringify(odd)), { ok: [4, 0] });
      await page.reload();
      await page.waitForFunction(() => window.ready === true);
      // IndexedDB orders by UTF-16 code units: the sunflower's surrogates
      // come before U+FFFD.
      const expect = [odd[3], odd[0], odd[2], odd[1]];
      assert.deepEqual(await readAll(page), expect);
      assert.deepEqual(page.uncaught, []);
    });

    test('an append requests strict durability and resolves only after the complete event', async () => {
      const page = await at.page(() => {
        const real = IDBDatabase.prototype.transaction;
        window.begun = [];
        window.completed = 0;
        IDBDatabase.prototype.transaction = function (...of) {
          const transaction = real.apply(this, of);
          if (of[1] === 'readwrite') {
            begun.push(of[2]?.durability);
            transaction.addEventListener('complete', () => {
              window.completed += 1;
            });
          }
          return transaction;
        };
      });
      const seen = await page.evaluate(
        async (batches) => {
          const vault = await probe.Probe.open('own');
          const seen = [];
          for (const batch of batches) {
            await vault.append(batch);
            seen.push(completed);
          }
          return [begun, seen];
        },
        [rows('a', 1), rows('b', 500)],
      );
      assert.deepEqual(seen, [
        ['strict', 'strict'],
        [1, 2],
      ]);
    });

    test('a stored row with the same text is left alone', async () => {
      const page = await at.page();
      assert.deepEqual(await appendAll(page, 'own', rows('a', 10)), { ok: [10, 0] });
      assert.deepEqual(await appendAll(page, 'own', rows('a', 15)), { ok: [5, 10] });
      assert.equal((await readAll(page)).length, 15);
    });

    test('a conflict lists its ids and writes nothing, in small and large batches', async () => {
      const page = await at.page();
      await appendAll(page, 'own', rows('m', 2000));
      const before = await readAll(page);
      for (const size of [5, 1999]) {
        const batch = JSON.parse(rows('m', size, 1000));
        batch[2][1] = '{"another":"text"}';
        batch.push(['zz', '{}']);
        const answer = await appendAll(page, 'own', JSON.stringify(batch));
        assert.deepEqual(answer, { error: 'Conflict { ids: ["m001002"] }' });
        assert.deepEqual(await readAll(page), before);
      }
      assert.deepEqual(page.uncaught, []);
    });

    test('a large batch over a stored one adds only new rows', async () => {
      const page = await at.page();
      await appendAll(page, 'own', rows('m', 1500, 500));
      // Few shared ids, then most of them: the two lookup strategies.
      assert.deepEqual(await appendAll(page, 'own', rows('m', 600)), { ok: [500, 100] });
      assert.deepEqual(await appendAll(page, 'own', rows('m', 3000)), { ok: [1000, 2000] });
      assert.deepEqual(await readAll(page), JSON.parse(rows('m', 3000)));
    });

    test('reading by id leaves out missing rows', async () => {
      const page = await at.page();
      await appendAll(page, 'own', rows('a', 3));
      const some = await page.evaluate(() => vault.read(['a000002', 'none', 'a000000']));
      assert.deepEqual(
        JSON.parse(some).map(([id]) => id),
        ['a000002', 'a000000'],
      );
    });

    test('limits are checked before anything is written', async () => {
      const page = await at.page();
      const long = JSON.stringify([
        ['fine', '{}'],
        ['i'.repeat(129), '{}'],
      ]);
      assert.deepEqual(await appendAll(page, 'own', long), { error: 'Limit(RowId)' });
      assert.deepEqual(await readAll(page), []);
    });

    test('the demo is a separate book, and deleting it leaves the own book', async () => {
      const page = await at.page();
      await appendAll(page, 'own', rows('own', 3));
      await page.evaluate(async (batch) => {
        window.demo = await probe.Probe.open('demo');
        await demo.append(batch);
      }, rows('demo', 5));
      assert.equal(await page.evaluate(async () => JSON.parse(await demo.readAll()).length), 5);
      // Still open here: the vault releases it when it is deleted.
      const forgotten = await page.evaluate(() => attempt(() => probe.forgetDemo()));
      assert.equal(forgotten.error, undefined);
      const closings = await page.evaluate(() => demo.closings());
      assert.deepEqual(closings, ['Deleted']);
      const late = await page.evaluate(() => attempt(() => demo.readAll()));
      assert.deepEqual(late, { error: 'Closed' });
      const anew = await page.evaluate(async () => (await probe.Probe.open('demo')).readAll());
      assert.equal(anew, '[]');
      assert.deepEqual(await readAll(page), JSON.parse(rows('own', 3)));
    });

    test('two tabs appending at once lose nothing and each is notified of the rows of the other', async () => {
      const context = await at.context();
      const tabs = [await open(context, at.url), await open(context, at.url)];
      const work = async (name) => {
        window.vault = await probe.Probe.open('own');
        window.channel = probe.Channel.join('own');
        window.start = async () => {
          for (let batch = 0; batch < 20; batch += 1) {
            const pairs = Array.from({ length: 10 }, (_, i) => [
              `${name}-${String(batch * 10 + i).padStart(3, '0')}`,
              `{"from":"${name}"}`,
            ]);
            // Every batch carries a row that the other tab writes too.
            const shared = [`shared-${String(batch).padStart(3, '0')}`, '{}'];
            await vault.append(JSON.stringify([...pairs, shared]));
            channel.announce(pairs.map(([id]) => id));
          }
        };
      };
      await tabs[0].evaluate(work, 'left');
      await tabs[1].evaluate(work, 'right');
      await Promise.all(tabs.map((tab) => tab.evaluate(() => start())));
      const ids = (name, count) =>
        Array.from({ length: count }, (_, i) => `${name}-${String(i).padStart(3, '0')}`);
      const expect = [...ids('left', 200), ...ids('right', 200), ...ids('shared', 20)];
      for (const [tab, other] of [
        [tabs[0], 'right'],
        [tabs[1], 'left'],
      ]) {
        assert.deepEqual(
          (await readAll(tab)).map(([id]) => id),
          expect,
        );
        await tab.waitForFunction(() => channel.received().length >= 200, { timeout: 5000 });
        assert.deepEqual(await tab.evaluate(() => channel.received()), ids(other, 200));
        assert.deepEqual(tab.uncaught, []);
      }
    });

    test('a channel receives its own book only', async () => {
      const context = await at.context();
      const [left, right] = [await open(context, at.url), await open(context, at.url)];
      await right.evaluate(() => {
        window.own = probe.Channel.join('own');
        window.demo = probe.Channel.join('demo');
      });
      await left.evaluate(() => {
        const raw = new BroadcastChannel('stemtide-demo');
        raw.postMessage({ another: 'kind' });
        raw.postMessage('not json');
        window.demo = probe.Channel.join('demo');
        demo.announce(['d']);
      });
      await right.waitForFunction(() => demo.received().length > 0, { timeout: 5000 });
      assert.deepEqual(await right.evaluate(() => demo.received()), ['d']);
      assert.deepEqual(await right.evaluate(() => own.received()), []);
      assert.deepEqual(right.uncaught, []);
    });

    test('of two tabs that set the device at once, both keep the same id', async () => {
      const context = await at.context();
      const tabs = [await open(context, at.url), await open(context, at.url)];
      for (const tab of tabs) {
        await tab.evaluate(async () => {
          window.vault = await probe.Probe.open('own');
        });
      }
      assert.deepEqual(await tabs[0].evaluate(() => vault.device()), []);
      const [left, right] = await Promise.all(
        tabs.map((tab, i) => tab.evaluate((i) => vault.setDevice(`id-${i}`, `name-${i}`), i)),
      );
      assert.equal(left[0], right[0]);
      assert.match(left[0], /^id-[01]$/);
      const named = await tabs[1].evaluate(() => vault.setDevice('id-2', 'shed phone'));
      assert.deepEqual(named, [left[0], 'shed phone']);
      await tabs[0].evaluate(() => vault.replaceDevice('id-3', 'restored'));
      assert.deepEqual(await tabs[1].evaluate(() => vault.device()), ['id-3', 'restored']);
    });

    test('a vault in memory behaves the same and reports that it does not persist', async () => {
      const page = await at.page();
      const seen = await page.evaluate(async (batch) => {
        const vault = probe.Probe.inMemory();
        const added = [...(await vault.append(batch))];
        const clash = await attempt(() => vault.append('[["a000001","x"]]'));
        const rows = JSON.parse(await vault.readAll());
        return { keeps: vault.keeps(), added, clash, rows };
      }, rows('a', 3));
      assert.equal(seen.keeps, false);
      assert.deepEqual(seen.added, [3, 0]);
      assert.deepEqual(seen.clash, { error: 'Conflict { ids: ["a000001"] }' });
      assert.deepEqual(seen.rows, JSON.parse(rows('a', 3)));
      assert.deepEqual(await readAll(page), []);
    });

    test('the browser is asked for storage space and persistence', async () => {
      const page = await at.page();
      const [usage, quota] = await page.evaluate(async () => [...(await probe.estimate())]);
      assert.ok(usage >= 0 && quota > 1_000_000, `${usage} of ${quota}`);
      assert.match(await page.evaluate(() => probe.persisted()), /^(Yes|No)$/);
      const without = await at.page(() => {
        Object.defineProperty(Navigator.prototype, 'storage', { get: () => undefined });
        delete window.BroadcastChannel;
      });
      const silent = await without.evaluate(async () => {
        probe.Channel.join('own').announce(['x']);
        return [await probe.persisted(), await probe.askToPersist(), [...(await probe.estimate())]];
      });
      assert.deepEqual(silent, ['Unknown', 'Unknown', []]);
      assert.deepEqual(without.uncaught, []);
    });
  });

  test(`rows reported as saved survive killing ${engine}`, async () => {
    const server = await serve();
    const { dir, remove } = await profile();
    try {
      for (let round = 0; round < 3; round += 1) {
        const browser = await start(engine, dir);
        const page = await open(browser, server.url);
        const kept = await readAll(page);
        assert.deepEqual(kept, JSON.parse(rows('r', round * 100)));
        assert.deepEqual(await appendAll(page, 'own', rows('r', 100, round * 100)), {
          ok: [100, 0],
        });
        await kill(browser, dir);
      }
      const browser = await start(engine, dir);
      const page = await open(browser, server.url);
      assert.deepEqual(await readAll(page), JSON.parse(rows('r', 300)));
      await browser.close();
    } finally {
      await server.stop();
      await remove();
    }
  });
}
