// Rows that move while a finger is on its way: a tap that was meant for the
// row that was there does nothing, and the next one acts. Taps from the
// keyboard act at once: they name their row, wherever it is.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openAndKeep, visitor } from "./support/chromium.mjs";
import { at, choose, closed, fill, press, saved, says, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";
import { setUpPlace, setUpSpaces, setUpVarieties } from "./support/set_up.mjs";

const DAY_10 = "2027-01-25";
const COUNT = /^Record Count the tray: .*Early spike/;
const LIFT = /^Record Lift the dome: .*Early spike/;
/** Shorter than what the app asks of a row in its place, ms. */
const SOON_MS = 400;
let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** A phone with one tray of sixty on the mat, on the day it is to be counted. */
async function grower(t) {
  const server = await host(t);
  const { context, errors } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  page.setDefaultTimeout(within(15_000));
  await server.stop();
  await setUpPlace(page, server.url, "2027-01-10");
  await setUpSpaces(page);
  await setUpVarieties(page);
  await at(page, server.url, "2027-01-15", "bench/new");
  await press(page.getByRole("button", { name: /Early spike, snapdragon/ }).first());
  await fill(page, { "Cells sown": 60 });
  await choose(page, "Where it stands", "Mat");
  await choose(page, "To be planted in", "Tunnel");
  await tap(page, "60 cells sown today");
  await saved(page);
  await at(page, server.url, DAY_10, "today");
  await page.evaluate(() => {
    window.presses = [];
    addEventListener("pointerdown", (event) => window.presses.push(event.timeStamp), true);
  });
  return { page, errors };
}

/** Counts the tray, which changes what is first on Today. */
async function count(page) {
  await tap(page, COUNT);
  await fill(page, { "Cells up": 45 });
  await tap(page, "45 up today");
  await saved(page);
}

/** The middle of the button of the first row. */
async function firstButton(page) {
  const { x, y, width, height } = await page.locator(".task__do").first().boundingBox();
  return [x + width / 2, y + height / 2];
}

/** Takes the count back, without a finger, and waits until another row is at a point. When that was, ms since the page began. */
function moveRows(page, [x, y]) {
  return page.evaluate(
    async ([x, y]) => {
      const there = () => document.elementFromPoint(x, y)?.closest(".task")?.querySelector(".task__do").innerText;
      const before = there();
      document.querySelector(".slip .btn").click();
      while (there() === before || there() === undefined) await new Promise(requestAnimationFrame);
      return performance.now();
    },
    [x, y]
  );
}

const sheetOpens = (page) =>
  page
    .locator("dialog[open]")
    .waitFor({ timeout: within(1_000) })
    .then(
      () => true,
      () => false
    );

/** Presses of a finger and of a mouse, and one that begins before the rows move. */
const PRESSES = {
  "a finger": async (page, point, move) => {
    const moved = await move();
    await page.touchscreen.tap(...point);
    return moved;
  },
  "a mouse": async (page, point, move) => {
    const moved = await move();
    await page.mouse.click(...point);
    return moved;
  },
  "a finger that is down already": async (page, [x, y], move) => {
    const session = await page.context().newCDPSession(page);
    await session.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [{ x, y }] });
    const moved = await move();
    await session.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    await session.detach();
    return moved;
  },
};

for (const [name, act] of Object.entries(PRESSES)) {
  test(`${name} on a row that has just moved there records nothing, and the next tap does`, { timeout: within(120_000) }, async (t) => {
    const { page, errors } = await grower(t);
    // A press that the machine delivers too late proves nothing: then again.
    for (let tries = 0; ; tries += 1) {
      await count(page);
      await page.evaluate(() => scrollTo(0, 0));
      const point = await firstButton(page);
      const moved = await act(page, point, () => moveRows(page, point));
      const pressed = await page.evaluate(() => window.presses.at(-1));
      const opened = await sheetOpens(page);
      if (pressed - moved < SOON_MS) {
        assert.equal(opened, false, "a tap on a row that had just moved there was taken");
        break;
      }
      assert.ok(tries < 5, "no press came soon enough after the rows moved");
      if (opened) await page.keyboard.press("Escape");
      await closed(page);
    }
    await saved(page);
    await tap(page, COUNT);
    assert.ok(await sheetOpens(page), "the next tap was not taken");
    await says(page, "Cells up");
    assert.deepEqual(errors, []);
  });
}

test("a key acts at once on the row that has the focus, and rows that stay keep it", { timeout: within(120_000) }, async (t) => {
  const { page, errors } = await grower(t);
  await count(page);
  const point = await firstButton(page);
  const lift = page.getByRole("button", { name: LIFT });
  await lift.focus();
  await moveRows(page, point);
  assert.ok(await lift.evaluate((button) => button === document.activeElement), "the row lost the focus");
  await page.keyboard.press("Enter");
  assert.ok(await sheetOpens(page), "the key was not taken");
  await says(page, "Dome lifted today");
  assert.deepEqual(errors, []);
});

test("saved and undone are said once the screen is what it will be", { timeout: within(120_000) }, async (t) => {
  const { page, errors } = await grower(t);
  await page.evaluate(() => {
    const rows = () => [...document.querySelectorAll(".task")].map((row) => row.textContent).join("\n");
    const said = () =>
      document.querySelector(".keep").dataset.state + (document.querySelector(".slip__said")?.textContent ?? "");
    window.rows = rows;
    window.said = [];
    let last = said();
    new MutationObserver(() => {
      if (said() === last) return;
      last = said();
      window.said.push({ said: last, rows: rows() });
    }).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
  });
  const check = async (what) => {
    await page.waitForTimeout(1_000);
    const { said, rows } = await page.evaluate(() => ({ said: window.said.splice(0), rows: window.rows() }));
    const begun = said.findIndex((one) => one.said.startsWith("saving"));
    const done = said.slice(begun).filter((one) => one.said.startsWith("saved"));
    assert.ok(begun >= 0 && done.at(-1)?.said.includes(what), `nothing said ${what}`);
    for (const one of done) assert.equal(one.rows, rows, `${what} was said before the screen showed it`);
  };
  await count(page);
  await check("Saved");
  await tap(page, "Undo");
  await saved(page);
  await check("Taken back");
  assert.deepEqual(errors, []);
});
