// How long the installed app takes from a tap on its icon to something to read,
// without a network, on a phone four times slower than this machine, beside an
// empty page of the same framework in the same shell. Started by
// `cargo stemtide measure start`, which builds both.

import { readFile } from "node:fs/promises";
import { host } from "../journeys/support/host.mjs";
import { launch, openAndKeep, PHONE } from "../journeys/support/chromium.mjs";

const { APP_SITE, EMPTY_SITE } = process.env;
const TIMES = 9;
const SLOWER = 4;
const DAY = "2027-07-19";

const cleanUp = [];
const ends = { after: (act) => cleanUp.unshift(act) };

/** A browser of its own that keeps a site, with its server gone. */
async function kept(site, prepare) {
  const server = await host(ends, { site });
  const browser = await launch();
  ends.after(() => browser.close());
  const context = await browser.newContext(PHONE);
  await context.addInitScript(() => {
    window.heard = [];
    window.addEventListener("stemtide:offline-ready", () => window.heard.push("offline-ready"));
    // Something to read: what the page is for, not its waiting line.
    const look = () => {
      const main = document.querySelector("main:not(.opening)");
      if (main?.innerText.trim() && !document.getElementById("opening")) {
        window.readable_ms ??= performance.now();
      } else {
        requestAnimationFrame(look);
      }
    };
    requestAnimationFrame(look);
  });
  const page = await openAndKeep(context, server.url);
  await prepare?.(page);
  await page.close();
  await server.stop();
  return { context, url: server.url };
}

/** Milliseconds from the navigation until there is something to read. */
async function coldStart({ context, url }) {
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await page.goto(`${url}?today=${DAY}#/today`);
  await page.waitForFunction(() => window.readable_ms !== undefined, null, { timeout: 120_000 });
  const took_ms = await page.evaluate(() => window.readable_ms);
  await page.close();
  return took_ms;
}

/** Takes the demo season into the app's own storage, as a grower takes a file. */
async function takeDemo(page) {
  const demo = await readFile(new URL("../../demo-data/demo-season.json", import.meta.url));
  await page.goto(`${page.url().split("#")[0]}#/shed/import`);
  await page.locator('input[type="file"]').setInputFiles({
    name: "season.json",
    mimeType: "application/json",
    buffer: demo,
  });
  await page.getByRole("button", { name: /^Take these \d+ entries/ }).click();
  await page.getByText(/entries taken/).waitFor({ timeout: 60_000 });
}

function median(figures) {
  const sorted = [...figures].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

try {
  const sites = {
    "an empty page": await kept(EMPTY_SITE),
    "the app, nothing recorded": await kept(APP_SITE),
    "the app with the demo season": await kept(APP_SITE, takeDemo),
  };
  const figures = Object.fromEntries(Object.keys(sites).map((name) => [name, []]));
  // In turn, so that a busy moment of this machine falls on all alike; the first round warms up.
  for (let round = 0; round <= TIMES; round += 1) {
    for (const [name, site] of Object.entries(sites)) {
      const took_ms = await coldStart(site);
      if (round > 0) figures[name].push(took_ms);
    }
  }
  const empty = median(figures["an empty page"]);
  console.log(`cold start offline, ${SLOWER} times slower, median (least to most) of ${TIMES}:`);
  for (const [name, all] of Object.entries(figures)) {
    const [least, most] = [Math.min(...all), Math.max(...all)].map(Math.round);
    const ratio = (median(all) / empty).toFixed(2);
    console.log(`${name.padEnd(30)} ${Math.round(median(all))} ms (${least} to ${most}), ${ratio} times the empty page`);
  }
} finally {
  for (const act of cleanUp) await act();
}
