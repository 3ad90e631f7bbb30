// The time for reading a whole log, compared with plain JavaScript reading the
// same rows in the same page. Printed, and asserted only to an order of
// magnitude, because machines differ.

import assert from 'node:assert/strict';
import { after, afterEach, before, describe, test } from 'node:test';
import { ENGINES, group, rows } from './harness.mjs';

const RATIO_MAX = 10;

for (const engine of ENGINES) {
  describe(`reading in ${engine}`, () => {
    const at = group(engine, { before, afterEach, after });

    for (const count of [10_000, 100_000]) {
      test(`${count} rows`, { timeout: 300_000 }, async (t) => {
        const page = await at.page();
        const batch = rows('s', count);
        const figures = await page.evaluate(async (batch) => {
          const vault = await probe.Probe.open('own');
          const timed = async (work) => {
            const begun = performance.now();
            const result = await work();
            return [performance.now() - begun, result];
          };
          const median = (list) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)];
          const raw = () =>
            new Promise((done, failed) => {
              const request = indexedDB.open('stemtide');
              request.onsuccess = () => {
                const db = request.result;
                const store = db.transaction('entries').objectStore('entries');
                const all = store.getAll();
                all.onerror = () => failed(all.error);
                all.onsuccess = () => {
                  db.close();
                  done(all.result.length);
                };
              };
            });
          const [append_ms] = await timed(() => vault.append(batch));
          const [again_ms, again] = await timed(() => vault.append(batch));
          const [ours, theirs] = [[], []];
          let tally;
          let length;
          for (let i = 0; i < 5; i += 1) {
            const [raw_ms, raw_length] = await timed(raw);
            const [our_ms, our_tally] = await timed(() => vault.tally());
            theirs.push(raw_ms);
            ours.push(our_ms);
            tally = [...our_tally];
            length = raw_length;
          }
          return {
            append_ms,
            again_ms,
            again: [...again],
            read_ms: median(ours),
            raw_ms: median(theirs),
            tally,
            length,
          };
        }, batch);
        const bytes = JSON.parse(batch).reduce((sum, [id, json]) => sum + id.length + json.length, 0);
        assert.deepEqual(figures.tally, [count, bytes]);
        assert.equal(figures.length, count);
        assert.deepEqual(figures.again, [0, count]);
        const ratio = figures.read_ms / figures.raw_ms;
        t.diagnostic(
          `${engine} ${count} rows: append ${figures.append_ms.toFixed(0)} ms, ` +
            `again ${figures.again_ms.toFixed(0)} ms, read ${figures.read_ms.toFixed(0)} ms, ` +
            `plain getAll ${figures.raw_ms.toFixed(0)} ms, ratio ${ratio.toFixed(2)}`,
        );
        assert.ok(ratio < RATIO_MAX, `ratio ${ratio}`);
      });
    }
  });
}
