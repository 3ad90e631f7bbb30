// What a hand does on the phone: go somewhere, fill in, tap. By what stands
// on the screen, as a person finds it.

import assert from "node:assert/strict";
import { opened } from "./chromium.mjs";
import { LOOK_MS, inPlace } from "./in_place.mjs";
import { within } from "./pace.mjs";
import { word } from "./words.mjs";

const PLANNING = word("plan.busy");

/** Opens a place of the app on a day; the app's day is set by its address. */
export async function at(page, url, day, place) {
  await page.goto(`${url}?today=${day}#/${place}`);
  // A change of the hash alone opens nothing anew.
  await page.reload();
  await opened(page);
}

/** Goes to another place of the app on the same day, and waits until its screen is drawn. */
export async function go(page, place) {
  await page.evaluate(async (place) => {
    const hash = `#/${place}`;
    if (location.hash === hash) return;
    const changed = new Promise((done) => {
      addEventListener("hashchange", function heard({ newURL }) {
        if (!newURL.endsWith(hash)) return;
        removeEventListener("hashchange", heard);
        done();
      });
    });
    location.hash = hash;
    await changed;
    // What the app draws on hearing of it is drawn before the next task.
    await new Promise((done) => setTimeout(done));
  }, place);
  await page.locator("main").waitFor();
}

/** Waits until the app itself has gone to a place, given as a string or by a pattern, and drawn its screen. */
export async function arrived(page, place) {
  const pattern = place instanceof RegExp ? place : new RegExp(`^${place}$`);
  await page.waitForURL((url) => pattern.test(url.hash.replace(/^#\//, "")));
  await page.evaluate(() => new Promise((done) => setTimeout(done)));
}

/** Text on the screen, spaces folded. */
export function screen(page) {
  return page.evaluate(() => document.querySelector("main").innerText.replace(/\s+/g, " ").trim());
}

/** Waits until the screen is at rest: a plan that is being made is a screen on its way. */
export async function rested(page) {
  await page.waitForFunction((planning) => {
    const main = document.querySelector("main:not(.opening)");
    return main && !main.innerText.includes(planning) && !main.querySelector('[aria-busy="true"]');
  }, PLANNING);
}

/** Asserts that the screen says something; waits for it. */
export async function says(page, what) {
  const pattern = what instanceof RegExp ? what : new RegExp(what.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  try {
    await page.waitForFunction(
      ({ source, flags }) =>
        new RegExp(source, flags).test(document.body.innerText.replace(/\s+/g, " ")),
      { source: pattern.source, flags: pattern.flags },
      { timeout: within(8_000) }
    );
  } catch {
    assert.fail(`the screen does not say ${pattern}; it says: ${await screen(page)}`);
  }
}

/** Fills in fields by their labels, in the open sheet if there is one. */
export async function fill(page, fields) {
  const sheet = page.locator("dialog[open]");
  const scope = (await sheet.count()) > 0 ? sheet.last() : page;
  for (const [label, value] of Object.entries(fields)) {
    let field = scope.getByLabel(label, { exact: true }).first();
    const tag = await field.evaluate((element) => element.tagName);
    // A number with its buttons is labelled as a whole.
    if (tag === "DIV") field = field.locator("input");
    if (tag === "SELECT") {
      await field.selectOption({ label: value });
    } else if (typeof value === "boolean") {
      await field.setChecked(value, { force: true });
    } else {
      await field.fill(String(value));
    }
  }
}

/** Chooses one of a group of radio buttons by its face. */
export async function choose(page, group, face) {
  const sheet = page.locator("dialog[open]");
  const scope = (await sheet.count()) > 0 ? sheet.last() : page;
  await scope
    .getByRole("group", { name: group })
    .locator("label")
    .filter({ hasText: new RegExp(`^${face}$`, "i") })
    .click();
}

/** Taps something; what is in a row, once the row has been in its place for a while. */
export async function press(target) {
  await target.evaluate(inPlace, LOOK_MS);
  await target.click();
}

/** Taps a button or a link by what it says. */
export async function tap(page, name, options = {}) {
  const sheet = page.locator("dialog[open]");
  const scope = (await sheet.count()) > 0 ? sheet.last() : page;
  const target = scope
    .getByRole("button", { name, ...options })
    .or(scope.getByRole("link", { name, ...options }))
    .first();
  await press(target);
}

/** Waits until no sheet is open. */
export async function closed(page) {
  const open = () => !document.querySelector("dialog[open]");
  await page.waitForFunction(open, null, { timeout: within(10_000) });
}

/** Waits until the app says that something was saved and no sheet is open. */
export async function saved(page) {
  await closed(page);
  await page.locator('.keep[data-state="saved"]').waitFor();
}
