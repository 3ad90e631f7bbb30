// Preferences of the device in local storage, for any stored content.

import assert from 'node:assert/strict';
import { after, afterEach, before, describe, test } from 'node:test';
import { ENGINES, group } from './harness.mjs';

const DEFAULTS = 'auto metric - stemtide 0';
const CHOSEN = 'sunlight us bench stemtide-demo 1800000000000';

const refusal = (member) => [
  `local storage whose ${member} throws`,
  {
    getter: () =>
      Object.defineProperty(window, 'localStorage', {
        get: () => {
          throw new DOMException('Denied.', 'SecurityError');
        },
      }),
    getItem: () => {
      Storage.prototype.getItem = () => {
        throw new DOMException('Denied.', 'SecurityError');
      };
    },
    setItem: () => {
      Storage.prototype.setItem = () => {
        throw new DOMException('No room.', 'QuotaExceededError');
      };
    },
  }[member],
];

for (const engine of ENGINES) {
  describe(`choices in ${engine}`, () => {
    const at = group(engine, { before, afterEach, after });

    test('survive a reload, together with members of a newer version', async () => {
      const page = await at.page();
      assert.equal(await page.evaluate(() => probe.loadPrefs()), DEFAULTS);
      await page.evaluate(() => localStorage.setItem('stemtide', '{"later":1}'));
      const set = await page.evaluate(() => probe.setPrefs('sunlight', 'bench'));
      assert.equal(set, `${CHOSEN} kept=true`);
      await page.reload();
      await page.waitForFunction(() => window.ready === true);
      assert.equal(await page.evaluate(() => probe.loadPrefs()), CHOSEN);
      const raw = JSON.parse(await page.evaluate(() => localStorage.getItem('stemtide')));
      assert.deepEqual(raw, {
        later: 1,
        theme: 'sunlight',
        units: 'us',
        screen: 'bench',
        book: 'demo',
        exported_ms: 1_800_000_000_000,
      });
    });

    test('garbage counts as not chosen', async () => {
      const page = await at.page();
      for (const garbage of ['', 'not json', '[]', '7', 'null', '{"theme":{}}', '{"theme":"x"', '"']) {
        await page.evaluate((text) => localStorage.setItem('stemtide', text), garbage);
        assert.equal(await page.evaluate(() => probe.loadPrefs()), DEFAULTS, garbage);
        const set = await page.evaluate(() => probe.setPrefs('sunlight', 'bench'));
        assert.equal(set, `${CHOSEN} kept=true`, garbage);
      }
      assert.deepEqual(page.uncaught, []);
    });

    for (const member of ['getter', 'getItem', 'setItem']) {
      const [what, before] = refusal(member);
      test(`${what} gives the defaults and reports that nothing was stored`, async () => {
        const page = await at.page(before);
        assert.equal(await page.evaluate(() => probe.loadPrefs()), DEFAULTS);
        const set = await page.evaluate(() => probe.setPrefs('sunlight', 'bench'));
        assert.equal(set, `${CHOSEN} kept=false`);
        assert.deepEqual(page.uncaught, []);
      });
    }
  });
}
