// A hand that needs nothing of its driver but the four verbs of engines.mjs:
// it finds what stands on the screen by its words, in the page itself.

import assert from "node:assert/strict";
import { LOOK_MS } from "./in_place.mjs";
import { within } from "./pace.mjs";
import { word } from "./words.mjs";

const PLANNING = word("plan.busy");

/** Runs in the page: how things are found. */
function teach() {
  if (window.hand) return;
  const fold = (text) => text.replace(/\s+/g, " ").trim();
  const shown = (element) => element.getClientRects().length > 0;
  const scope = () => [...document.querySelectorAll("dialog[open]")].pop() ?? document;
  const name = (element) => fold(element.getAttribute("aria-label") ?? element.innerText);
  // In the middle of the screen, clear of the bars at its edges.
  const first = (elements, fits) => {
    const found = elements.filter(shown).find(fits) ?? null;
    found?.scrollIntoView({ block: "center" });
    return found;
  };
  let seen = null;
  window.hand = {
    /** Whether the row that something is in, if it is in one, has been in its place for so long. */
    inPlace(ms, find, ...args) {
      const row = window.hand[find](...args)?.closest("[data-guarded]");
      if (!row) return true;
      const { x, y } = row.getBoundingClientRect();
      const there = seen?.row === row && Math.hypot(seen.x - x, seen.y - y) < 1;
      if (!there) seen = { row, x, y, since: performance.now() };
      return performance.now() - seen.since >= ms;
    },
    text: () => fold(document.body.innerText),
    target(pattern) {
      const fits = new RegExp(pattern);
      return first([...scope().querySelectorAll("button, a[href]")], (e) => fits.test(name(e)));
    },
    choice(group, face) {
      const labelled = (e) =>
        fold(
          e.querySelector("legend")?.innerText ??
            document.getElementById(e.getAttribute("aria-labelledby"))?.innerText ??
            ""
        ) === group;
      const box = [...scope().querySelectorAll("fieldset, [role=group]")].find(labelled);
      return box ? first([...box.querySelectorAll("label")], (e) => fold(e.innerText) === face) : null;
    },
    fill(group, label, value) {
      const within = group
        ? [...scope().querySelectorAll("fieldset, [role=group]")].find(
            (e) => fold(e.querySelector("legend")?.innerText ?? "") === group
          )
        : scope();
      const fits = (e) => fold(e.innerText) === label;
      const control = within && first([...within.querySelectorAll("label")], fits)?.control;
      if (!control) return false;
      if (control.tagName === "SELECT") {
        const option = [...control.options].find((o) => fold(o.text) === value);
        if (!option) return false;
        control.value = option.value;
        control.dispatchEvent(new Event("change", { bubbles: true }));
      } else {
        control.value = value;
        control.dispatchEvent(new Event("input", { bubbles: true }));
      }
      return true;
    },
  };
}

/** Waits in the page until `ready` gives something true. */
async function until(drive, what, ready, ...args) {
  const end = Date.now() + within(30_000);
  while (Date.now() < end) {
    await drive.run(teach);
    if (await drive.run(ready, ...args)) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  return assert.fail(`${what}; the screen says: ${await drive.run(() => window.hand.text())}`);
}

/** Waits until nothing moves: a thumb that hits a sheet on its way up hits beside it. */
function still(drive) {
  return drive.run(async () => {
    const ends = document.getAnimations().filter((a) => a.effect?.getTiming().iterations !== Infinity);
    await Promise.allSettled(ends.map((a) => a.finished));
  });
}

/**
 * Clicks what the hand finds. A screen may be drawn anew between the look and the tap: then a
 * person taps again, and so does this, twice at most.
 */
async function press(drive, otherwise, find, ...args) {
  const there = (find, ...args) => window.hand[find](...args) !== null;
  const inPlace = (ms, find, ...args) => window.hand.inPlace(ms, find, ...args);
  const found = (find, ...args) => window.hand[find](...args);
  for (let tries = 0; tries < 3; tries += 1) {
    await until(drive, otherwise, there, find, ...args);
    await still(drive);
    await until(drive, `${otherwise} in one place`, inPlace, LOOK_MS, find, ...args);
    if (await drive.click(found, find, ...args)) return;
  }
  assert.fail(`${otherwise} for long enough to tap it`);
}

/** The verbs of a person at the screen. */
export function handOf(drive) {
  const hand = {
    /** Waits until the app stands on the page. */
    opened: () =>
      until(drive, "the app did not open", () => !document.querySelector("#opening, main.opening")),
    /** Opens a place of the app on a day. */
    async at(url, day, place) {
      // A change of the hash alone opens nothing anew.
      await drive.goto("about:blank");
      await drive.goto(`${url}?today=${day}#/${place}`);
      await hand.opened();
    },
    // Asked again until it is there: WebKit's driver now and then loses a change of the hash.
    go: (place) =>
      until(
        drive,
        place,
        (place) => {
          const there = location.hash === `#/${place}`;
          if (!there) location.hash = `#/${place}`;
          return there;
        },
        place
      ),
    /** Waits until the app itself has gone to a place. */
    arrived: (place) =>
      until(
        drive,
        `the app did not go to ${place}`,
        (source) => new RegExp(`^#/${source}$`).test(location.hash),
        place
      ),
    says: (pattern) =>
      until(
        drive,
        `the screen does not say ${pattern}`,
        (source) => new RegExp(source).test(window.hand.text()),
        pattern
      ),
    tap: (pattern) => press(drive, `nothing to tap says ${pattern}`, "target", pattern),
    choose: (group, face) => press(drive, `${group} offers no ${face}`, "choice", group, face),
    async fill(label, value, group = null) {
      const done = (group, label, value) => window.hand.fill(group, label, value);
      await until(drive, `no field ${label} takes ${value}`, done, group, label, String(value));
    },
    saved: () =>
      until(
        drive,
        "nothing says that it was saved",
        () =>
          !document.querySelector("dialog[open]") &&
          document.querySelector(".keep")?.dataset.state === "saved"
      ),
    /** Waits until the screen is at rest: nothing on it is still being reckoned. */
    rested: () =>
      until(
        drive,
        "the screen does not come to rest",
        (planning) => {
          const main = document.querySelector("main");
          return !main.innerText.includes(planning) && !main.querySelector('[aria-busy="true"]');
        },
        PLANNING
      ),
    /** What stands on the screen once it is at rest. */
    async text() {
      await hand.rested();
      return drive.run(() => document.querySelector("main").innerText.replace(/\s+/g, " ").trim());
    },
  };
  return hand;
}
