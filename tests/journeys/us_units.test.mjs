// A grower who thinks in Fahrenheit, feet and inches: what is typed is taken in
// them, what is shown is written in them, and a difference of degrees is no
// temperature. Then every screen of the demo, with all that folds opened.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openAndKeep, visitor } from "./support/chromium.mjs";
import { arrived, at, choose, fill, go, press, rested, saved, says, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { setUpPlace, setUpSpaces, setUpVarieties } from "./support/set_up.mjs";
import { word } from "./support/words.mjs";

const PLACES = [
  "today",
  "bench",
  "bench/new",
  "beds",
  "cooler",
  "cooler/available",
  "season",
  "season/targets",
  "season/plan",
  "season/supply",
  "season/beds",
  "season/seed",
  "season/review",
  "season/next",
  "shed",
  "shed/place",
  "shed/spaces",
  "shed/varieties",
  "shed/logger",
  "shed/history",
];
// A figure and a metric unit behind it.
const METRIC = /\d[^\S\n]?(?:°C|C|cm|mm|m|km|l|kg|m²|m2|metres?|litres?)(?![\p{L}\d/])|°C days|per m²|per g\b|[Aa] metre\b/u;
// Bulbs and corms are graded by centimetres everywhere, light is counted by the square metre, and a source is cited as it is titled.
const EVERYWHERE = [new RegExp(`^${word("why.after")}.*$`, "gm"), /\d+\/\d+(?: to \d+\/\d+)?\+? cm\b/g, /\d+\+ cm\b/g, /mol per square metre/g];

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** A phone whose app writes US units. */
async function phone(t) {
  const server = await host(t);
  const { context, errors } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  page.setDefaultTimeout(15_000);
  await go(page, "shed/device");
  await choose(page, word("device.units"), word("units.us"));
  return { page, url: server.url, errors };
}

/** Everything that a screen shows or has read out, with all that folds opened. */
async function everything(page) {
  await rested(page);
  for (;;) {
    const opened = await page.evaluate(async () => {
      const closed = [...document.querySelectorAll("details:not([open])")];
      for (const fold of closed) fold.open = true;
      await new Promise((done) => setTimeout(done, 50));
      return closed.length;
    });
    if (opened === 0) break;
  }
  return page.evaluate(() => {
    const heard = [...document.querySelectorAll("[aria-label]")].map((e) => e.getAttribute("aria-label"));
    return [document.body.innerText, ...heard].join("\n");
  });
}

async function nothingMetric(page, where) {
  let text = await everything(page);
  for (const same of EVERYWHERE) text = text.replaceAll(same, "");
  const line = text.split("\n").find((line) => METRIC.test(line));
  assert.equal(line, undefined, `${where} shows a metric unit`);
  return text;
}

async function openTray(page, url, day, name) {
  await at(page, url, day, "bench");
  await press(page.getByRole("article").getByRole("link", { name: new RegExp(name) }).first());
  await arrived(page, /^bench\/[0-9A-Z]{26}$/);
}

/** Three days of half hours in a file as loggers write them, in °F. */
function logged() {
  const rows = ["Time,Temperature (°F)"];
  for (let half = 0; half < 3 * 48; half++) {
    const when = new Date(Date.UTC(2027, 4, 1) + half * 1_800_000);
    const part = (1 - Math.cos(((half - 6) / 48) * 2 * Math.PI)) / 2;
    rows.push(`${when.toISOString().slice(0, 19).replace("T", " ")},${(50 + 27 * part).toFixed(1)}`);
  }
  return `${rows.join("\r\n")}\r\n`;
}

test("a season in US units", { timeout: 300_000 }, async (t) => {
  const it = await phone(t);
  const { page, url } = it;

  await t.test("what is set up is typed and read in them", async () => {
    await setUpPlace(page, url, "2027-01-10");
    await setUpSpaces(page);
    await setUpVarieties(page);
    await go(page, "shed/spaces");
    await says(page, "8 ft by 1.2 ft");
    await nothingMetric(page, "the spaces");
    await go(page, "shed/place");
    const normals = await page.getByLabel(word("place.tmax")).inputValue();
    assert.ok(normals.split(/\s+/).map(Number).some((high) => high > 70), `no summer in °F: ${normals}`);
    await nothingMetric(page, "the place");
  });

  await t.test("a verdict of planting out says how much warmer and how much less", async () => {
    await at(page, url, "2027-02-01", "bench/new");
    await tap(page, /Early spike, snapdragon/);
    await fill(page, { "Cells sown": 60 });
    await choose(page, "Where it stands", "Mat");
    await choose(page, "To be planted in", "Field");
    await nothingMetric(page, "the sowing");
    await tap(page, "60 cells sown today");
    await saved(page);
    await openTray(page, url, "2027-02-14", "Early spike");
    await tap(page, /^Count$/);
    await fill(page, { "Cells up": 52 });
    await tap(page, "52 up today");
    await saved(page);
    await openTray(page, url, "2027-04-24", "Early spike");
    const text = await nothingMetric(page, "the tray");
    assert.match(text, /Nights in the tunnel are 2 °F warmer/);
    assert.match(text, /Hardened off 0 of \d+ days; without, it bears 5 °F less/);
    assert.match(text, /Soil of \d\d °F or more, 2 in to 4 in deep/);
  });

  await t.test("plants stand so many inches apart", async () => {
    await tap(page, "Harden off");
    await tap(page, "Hardening from today");
    await saved(page);
    await openTray(page, url, "2027-05-08", "Early spike");
    await tap(page, /^Plant out.*F1/);
    await nothingMetric(page, "planting out");
    await fill(page, { "Plants set": 12, "Between plants": 9 });
    await tap(page, "12 planted today");
    await saved(page);
    await at(page, url, "2027-05-08", "beds");
    const text = await nothingMetric(page, "the beds");
    assert.match(text, /at 9 in\b/);
  });

  await t.test("a cold night: what to cover, and how much there is to spare", async () => {
    await at(page, url, "2027-05-09", "today");
    await tap(page, "Record something else");
    await tap(page, word("do.low_expected"));
    await fill(page, { [word("field.low")]: "21" });
    await tap(page, /^Forecast today/);
    await saved(page);
    await says(page, /21 °F is forecast for tonight\. \d lots? to cover, with 4 °F to spare\./);
    const text = await nothingMetric(page, "Today on a cold night");
    assert.match(text, /21 °F is to be expected here, 4 °F less on a clear night; it bears \d\d °F/);
  });

  await t.test("a logger's file in °F is shown as it was read", async () => {
    await at(page, url, "2027-05-10", "shed/logger");
    await page.locator("input[type=file]").setInputFiles({
      name: "field.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(logged(), "utf8"),
    });
    await says(page, /50 °F to 77 °F/);
    await tap(page, "Keep 3 days");
    await says(page, "3 days are kept.");
    await nothingMetric(page, "the logger");
  });

  await t.test("a figure of one's own is typed as it is shown", async () => {
    await go(page, "shed/varieties");
    await tap(page, /Early spike/);
    await arrived(page, /^shed\/varieties\/[0-9A-Z]{26}$/);
    await nothingMetric(page, "the variety");
    const figure = page.locator("details.why").filter({ hasText: word("figure.spacing_cm") }).first();
    await figure.getByLabel(word("figures.own")).fill("8");
    await figure.getByRole("button", { name: word("figures.save") }).click();
    await figure.locator(".why__num").getByText("8", { exact: true }).waitFor();
    assert.match(await figure.locator("summary").innerText(), /8\s*in/);
  });

  assert.deepEqual(it.errors, []);
});

test("no screen of the demo shows a metric unit", { timeout: 600_000 }, async (t) => {
  const { page, errors } = await phone(t);
  await go(page, "today");
  await tap(page, "Open the demo season");
  await says(page, "Your own season is untouched.");
  const places = [...PLACES];
  for (const [area, link] of [
    ["bench", 'main a[href*="/bench/0"]'],
    ["beds", 'main a[href*="/beds/0"]'],
    ["shed/varieties", 'main a[href*="/varieties/0"]'],
  ]) {
    await go(page, area);
    await page.locator(`${link}:visible`).first().waitFor();
    const found = await page.locator(link).evaluateAll((all) => all.map((a) => a.getAttribute("href").slice(2)));
    places.push(...new Set(found));
  }
  let degrees = 0;
  for (const place of places) {
    await go(page, place);
    await page.waitForFunction(() => !document.body.innerText.includes("There is no such page"));
    const text = await nothingMetric(page, place);
    degrees += text.match(/\d °F/g)?.length ?? 0;
  }
  assert.ok(degrees > 100, `only ${degrees} temperatures were seen`);
  assert.deepEqual(errors, []);
});
