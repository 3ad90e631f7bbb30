// What every screen owes everybody: readable in each of its looks, nothing that
// runs off the side, and targets that a cold thumb hits. The rules are axe-core's
// for WCAG 2.2 level AA; 48 px is the target size that the house asks for.

import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { launch, openAndKeep, visitor } from "./support/chromium.mjs";
import { choose, go, rested, says, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const PLACES = [
  "today",
  "bench",
  "bench/new",
  "bench/find",
  "bench/labels",
  "beds",
  "cooler",
  "cooler/orders/paste",
  "cooler/orders/new",
  "cooler/available",
  "season",
  "season/targets",
  "season/targets/new",
  "season/targets/paste",
  "season/plan",
  "season/supply",
  "season/beds",
  "season/seed",
  "season/review",
  "season/next",
  "shed",
  "shed/place",
  "shed/spaces",
  "shed/spaces/new",
  "shed/varieties",
  "shed/varieties/new",
  "shed/selling",
  "shed/logger",
  "shed/device",
  "shed/export",
  "shed/import",
  "shed/history",
];
const TARGET_PX = 48;
const LOOKS = ["light", "dark", "sunlight"];

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** Things to tap that are smaller than they must be, and why that is so. */
function small(targetPx) {
  const found = [];
  for (const element of document.querySelectorAll("button, a[href], select, summary, input, textarea")) {
    const box = element.getBoundingClientRect();
    if (box.width === 0 || element.closest(".visually-hidden, .skip")) continue;
    if (element.matches(".visually-hidden, .skip, input[type=checkbox], input[type=radio]")) continue;
    // A link in a line of text is as high as the line (WCAG 2.2, 2.5.8: inline).
    const inline = element.tagName === "A" && getComputedStyle(element).display === "inline";
    if (!inline && box.height < targetPx - 0.5) {
      found.push(`${element.tagName.toLowerCase()}.${element.className} ${Math.round(box.height)} px: ${element.innerText?.slice(0, 30)}`);
    }
  }
  return found;
}

for (const look of LOOKS) {
  test(`every screen can be read and used, ${look}`, { timeout: within(300_000) }, async (t) => {
    const server = await host(t);
    const { context, errors } = await visitor(t, browser, server.origin, { bypassCSP: true });
    const page = await openAndKeep(context, server.url);
    page.setDefaultTimeout(within(15_000));
    await tap(page, "Open the demo season");
    await says(page, "Your own season is untouched.");
    await go(page, "shed/device");
    await choose(page, "Colours", look);
    await go(page, "bench");
    const tray = await page.locator('main a[href*="/bench/0"]:visible').first().getAttribute("href");
    await go(page, "beds");
    const bed = await page.locator('main a[href*="/beds/0"]:visible').first().getAttribute("href");
    await go(page, "cooler");
    const order = await page.locator('main a[href*="/pick"]:visible').first().getAttribute("href");
    await page.addScriptTag({ path: AXE });
    for (const place of [...PLACES, tray.slice(2), bed.slice(2), order.slice(2)]) {
      await t.test(place, async () => {
        await page.setViewportSize({ width: 390, height: 844 });
        await go(page, place);
        await page.locator("main h1, header h1, h1").first().waitFor();
        await page.waitForFunction(() => !document.body.innerText.includes("There is no such page"));
        await rested(page);
        await page.evaluate(() => Promise.allSettled(document.getAnimations().map((a) => a.finished)));
        // All of it at once: what lies under the bar at the edge is no smaller for that.
        const height = await page.evaluate(() => document.documentElement.scrollHeight);
        await page.setViewportSize({ width: 390, height: Math.max(844, height) });
        const { violations } = await page.evaluate((rules) => window.axe.run({ runOnly: rules }), RULES);
        const said = violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 160)} ${nodes[0].failureSummary}`);
        assert.deepEqual(said, []);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `runs ${wide} px off the side`);
        assert.deepEqual(await page.evaluate(small, TARGET_PX), []);
      });
    }
    // The narrowest phone still in use.
    await page.setViewportSize({ width: 320, height: 640 });
    for (const place of PLACES) {
      await go(page, place);
      await rested(page);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${place} runs ${wide} px off the side at 320`);
    }
    assert.deepEqual(errors, []);
  });
}
