// What goes wrong at the bench, and what may not: the demo beside one's own
// season, a tired hand, storage that refuses or is full.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";
import { launch, openAndKeep, opened, visitor } from "./support/chromium.mjs";
import { arrived, at, choose, closed, fill, go, press, saved, says, screen, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";
import { setUpPlace, setUpSpaces, setUpVarieties } from "./support/set_up.mjs";

const DAY = "2027-01-15";
const DEMO = JSON.parse(await readFile(new URL("../../demo-data/demo-season.json", import.meta.url)));
let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** A phone with the app on it and the server gone. */
async function phone(t) {
  const server = await host(t);
  const { context, errors } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  page.setDefaultTimeout(within(15_000));
  await server.stop();
  return { page, context, url: server.url, errors };
}

/** The same with the place, spaces, varieties and a tray of sixty. */
async function grower(t) {
  const it = await phone(t);
  await setUpPlace(it.page, it.url, "2027-01-10");
  await setUpSpaces(it.page);
  await setUpVarieties(it.page);
  await openSowing(it);
  await tap(it.page, "60 cells sown today");
  await saved(it.page);
  return it;
}

async function openSowing({ page, url }) {
  await at(page, url, DAY, "bench/new");
  await press(page.getByRole("button", { name: /Early spike, snapdragon/ }).first());
  await fill(page, { "Cells sown": 60 });
  await choose(page, "Where it stands", "Mat");
  await choose(page, "To be planted in", "Tunnel");
}

async function openTray({ page, url }, day) {
  await at(page, url, day, "bench");
  await press(page.getByRole("link", { name: /Early spike/ }).first());
  await arrived(page, /^bench\/[0-9A-Z]{26}$/);
}

/** How many entries the Shed says there are. */
async function entries({ page, url }, day = DAY) {
  await at(page, url, day, "shed");
  await says(page, /\d+ entries/);
  return Number((await screen(page)).match(/(\d+) entries/)[1]);
}

/** Makes every write fail as a full disk would, or lets it work again. */
function fillDisk(page, full) {
  return page.evaluate((full) => {
    const store = IDBObjectStore.prototype;
    window.emptyDisk ??= { add: store.add, put: store.put };
    const refuse = () => {
      throw new DOMException("The disk is full.", "QuotaExceededError");
    };
    Object.assign(store, full ? { add: refuse, put: refuse } : window.emptyDisk);
  }, full);
}

test("the demo is entered and left, and one's own season is as it was", async (t) => {
  const it = await grower(t);
  const { page, url } = it;
  const own = await entries(it);
  await at(page, url, DAY, "bench");
  const bench = await screen(page);

  // Without a day in the address the demo brings its own.
  await page.goto(`${url}#/shed`);
  await opened(page);
  await tap(page, "Open the demo season");
  await says(page, "Your own season is untouched.");
  await go(page, "shed");
  await says(page, `${DEMO.count} entries`);
  await go(page, "today");
  const later = page.locator("details.fold").first();
  assert.equal(await later.locator(".task").count(), 0, "what is folded up is drawn all the same");
  await press(later.locator("summary").first());
  await later.locator(".task").first().waitFor();
  await press(page.getByRole("button", { name: /^Record Cut/ }).first());
  await page.locator("dialog[open]").waitFor();
  await fill(page, { "Saleable stems": 7 });
  await tap(page, "7 stems cut today");
  await saved(page);
  await go(page, "shed");
  await says(page, `${DEMO.count + 1} entries`);

  await tap(page, "Leave the demo");
  await page.getByText("Your own season is untouched.").waitFor({ state: "detached" });
  assert.equal(await entries(it), own);
  await at(page, url, DAY, "bench");
  assert.equal(await screen(page), bench);
  assert.deepEqual(it.errors, []);
});

test("dates out of order and absurd counts are answered in words, and nothing is kept", async (t) => {
  const it = await grower(t);
  const { page } = it;
  const own = await entries(it);
  await openTray(it, "2027-01-25");
  await tap(page, /^Count/);
  for (const [typed, answer] of [
    ["-3", /That must lie between 0 and|Type a whole number/],
    ["", "How many? Type a whole number."],
    ["many", "Type a whole number, such as 60."],
    ["99999999999999999999", /Type a whole number|That must lie between/],
    ["61", "61 up, but there are only 60 cells."],
  ]) {
    await fill(page, { "Cells up": typed });
    await press(page.locator("dialog[open] .sheet__foot .btn--primary").first());
    await says(page, answer);
    assert.ok(await page.locator("dialog[open]").isVisible(), `${typed} closed the sheet`);
  }
  await fill(page, { "Cells up": 40 });
  for (const [day, answer] of [
    ["2027-01-01", "is before it was sown (Fri 15 Jan)."],
    ["2027-03-01", "is still to come. Record it on the day."],
  ]) {
    await page.locator('dialog[open] input[type="date"]').fill(day);
    await press(page.locator("dialog[open] .sheet__foot .btn--primary").first());
    await says(page, answer);
  }
  await tap(page, "Close");
  await closed(page);
  assert.equal(await entries(it, "2027-01-25"), own, "something was kept all the same");
  assert.deepEqual(it.errors, []);
});

test("a thumb that taps twice records once, and one tap takes it back", async (t) => {
  const it = await grower(t);
  const { page } = it;
  const own = await entries(it);
  await openTray(it, "2027-01-25");
  await tap(page, /^Count/);
  await fill(page, { "Cells up": 45 });
  await page.evaluate(() => {
    const save = document.querySelector("dialog[open] .sheet__foot .btn--primary");
    save.click();
    save.click();
  });
  await saved(page);
  await says(page, "45 of 60 up");
  assert.equal(await entries(it, "2027-01-25"), own + 1);

  await openTray(it, "2027-01-25");
  await tap(page, /^Count/);
  await fill(page, { "Cells up": 54 });
  await tap(page, "54 up today");
  await saved(page);
  await says(page, "54 of 60 up");
  await tap(page, "Undo");
  await says(page, "45 of 60 up");
  // Undo is an entry too: the mistake stays in the log.
  assert.equal(await entries(it, "2027-01-25"), own + 3);
  assert.deepEqual(it.errors, []);
});

test("a full disk keeps what was typed in the sheet, and the second try keeps it for good", async (t) => {
  const it = await grower(t);
  const { page } = it;
  await openTray(it, "2027-01-25");
  await tap(page, /^Count/);
  await fill(page, { "Cells up": 45 });
  await fillDisk(page, true);
  await tap(page, "45 up today");
  await says(page, "Storage is full. Free some space on the device, then try again.");
  assert.ok(!(await screen(page)).includes("45 of 60 up"), "shown as if it were kept");
  const typed = page.locator("dialog[open]").getByRole("group", { name: "Cells up" }).locator("input");
  assert.equal(await typed.inputValue(), "45");
  await fillDisk(page, false);
  await tap(page, "45 up today");
  await saved(page);
  await says(page, "45 of 60 up");
  await openTray(it, "2027-01-25");
  await says(page, "45 of 60 up");
  assert.deepEqual(it.errors, []);
});

test("where the browser keeps nothing the app says so, works on, and gives the season away", async (t) => {
  const server = await host(t);
  const { context, errors } = await visitor(t, browser, server.origin);
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException("Not here.", "SecurityError");
    };
  });
  const page = await context.newPage();
  await page.goto(server.url);
  await opened(page);
  await says(page, "This browser won't keep anything here (private window?). You can work, but export before you close it.");
  await setUpPlace(page, server.url, DAY);
  await says(page, "Hill field, 44°");
  await go(page, "shed/export");
  const waiting = page.waitForEvent("download");
  await tap(page, "Download the file");
  const file = JSON.parse(await readFile(await (await waiting).path(), "utf8"));
  assert.equal(file.count, file.entries.length);
  assert.ok(file.entries.some(({ kind, name }) => kind === "place" && name === "Hill field"));
  assert.deepEqual(errors, []);
});

test("two windows of one browser show the same season", async (t) => {
  const it = await grower(t);
  const second = await it.context.newPage();
  await at(second, it.url, "2027-01-25", "bench");
  await says(second, "60 cells, not counted yet");
  await openTray(it, "2027-01-25");
  await tap(it.page, /^Count/);
  await fill(it.page, { "Cells up": 45 });
  await tap(it.page, "45 up today");
  await saved(it.page);
  await says(second, /45 of 60/);
  assert.deepEqual(it.errors, []);
});
