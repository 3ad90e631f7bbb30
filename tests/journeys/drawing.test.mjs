// The year's drawing: a planned sowing moved to another week by keys, by hand
// and by buttons, with what follows said at once, kept and put back.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, opened, visitor } from "./support/chromium.mjs";
import { go, says, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";
import { word } from "./support/words.mjs";

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** The drawing of the demo season on its own day in July, with three sowings still to be sown. */
async function drawing(t, options = {}) {
  const { origin } = await host(t);
  const { context, refused, errors } = await visitor(t, browser, origin, options);
  const page = await context.newPage();
  await page.goto(`${origin}/`);
  await opened(page);
  await tap(page, "Open the demo season");
  await opened(page);
  await go(page, "season");
  await page.getByRole("slider").first().waitFor();
  return { page, refused, errors };
}

/** The day of sowing that a slider tells. */
const told = (slider) => slider.getAttribute("aria-valuetext");

test("a planned sowing moves by keys, hand and buttons alike, and stays where it is kept", { timeout: within(120_000) }, async (t) => {
  const { page, refused, errors } = await drawing(t, { hasTouch: false, isMobile: false });
  const line = page.getByRole("slider").last();
  const recorded = await told(line);

  // Keys: two weeks on and back again.
  await line.focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  const later = await told(line);
  assert.notEqual(later, recorded);
  await says(page, /First stems .* instead of /);
  const status = await page.locator(".section, main").getByRole("status").allInnerTexts();
  assert.ok(status.some((text) => text.includes("Sow ")), `the new dates are told: ${status}`);
  await page.keyboard.press("Escape");
  assert.equal(await told(line), recorded);
  assert.equal(await page.locator(".mover").count(), 0);

  // Buttons come to the same.
  await page.keyboard.press("Enter");
  await tap(page, word("year.move.later"));
  await tap(page, word("year.move.later"));
  assert.equal(await told(line), later);
  await tap(page, word("year.move.put_back"));

  // So does a hand: two of the drawing's weeks to the right.
  const box = await line.boundingBox();
  const weeks = Number(await page.locator(".year").getAttribute("data-weeks"));
  const [x, y] = [box.x + box.width / 4, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + (2 * box.width) / weeks, y, { steps: 5 });
  await page.mouse.up();
  assert.equal(await told(line), later);

  // Kept, it is the same line at its new place, and pinned.
  await tap(page, word("year.move.keep"));
  await page.locator(".mover").waitFor({ state: "detached" });
  await page.waitForFunction(
    (later) => [...document.querySelectorAll("[role=slider]")].some((e) => e.ariaValueText === later),
    later
  );
  await go(page, "season/plan");
  await says(page, word("plan.pinned"));
  assert.deepEqual([refused, errors], [[], []]);
});

test("what is sown or planted can't be dragged, and says so", { timeout: within(120_000) }, async (t) => {
  const { page } = await drawing(t, { hasTouch: false, isMobile: false });
  const line = page.locator("a.life .life__line").first();
  await line.scrollIntoViewIfNeeded();
  const box = await line.boundingBox();
  const [x, y] = [box.x + box.width / 3, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 60, y, { steps: 5 });
  await page.mouse.up();
  await says(page, word("year.move.fact"));
  assert.match(page.url(), /#\/season$/);
});
