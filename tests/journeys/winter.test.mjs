// A whole winter on a clean phone, offline from the first minute, through the
// screens alone: set up, plan, sow, count, dome, mat, water, a mishap, a second
// sowing, plant out, first cuts, and the season carried to a second phone.
//
// The crop comes up first on day 5, half by day 9, most by day 14 at 21 C (Iowa
// State Extension, germination requirements for annuals); its dome comes off at
// 30 to 50 in 100 up, its mat at about half (common practice), here kept on for
// the stragglers; bloom group 3 blooms later than group 1 (common practice).
// Tunnel planting runs 6 to 12 weeks before the last frost, the field 0 to 6
// (Lewis et al., snapdragon, tunnel and field).

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";
import { launch, openAndKeep, visitor } from "./support/chromium.mjs";
import { arrived, at, choose, fill, go, press, rested, saved, says, screen, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";
import { setUpPlace, setUpSpaces, setUpVarieties } from "./support/set_up.mjs";

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** Taps Record beside a task of Today; the first tap of two. */
async function record(page, task, tray) {
  await press(page.getByRole("button", { name: new RegExp(`Record ${task}: (No\\. \\d+ · )?${tray}`) }).first());
  await page.locator("dialog[open]").waitFor();
}

/** Opens the newest sowing of a variety that stands on the bench. */
async function openTray(page, url, day, variety, which = 0) {
  await at(page, url, day, "bench");
  const cards = page.getByRole("article").getByRole("link", { name: new RegExp(variety) });
  await press(cards.nth(which));
  await arrived(page, /^bench\/[0-9A-Z]{26}$/);
}

async function count(page, url, day, variety, up) {
  await openTray(page, url, day, variety);
  await tap(page, /^Count/);
  await fill(page, { "Cells up": up });
  await tap(page, `${up} up today`);
  await saved(page);
}

async function sow(page, url, day, variety, space) {
  await at(page, url, day, "bench/new");
  await press(page.getByRole("button", { name: new RegExp(`${variety}, snapdragon`) }).first());
  await fill(page, { "Cells sown": 60 });
  await choose(page, "Where it stands", "Mat");
  await choose(page, "Sown into", "soil blocks");
  await choose(page, "To be planted in", space);
  await tap(page, "60 cells sown today");
  await saved(page);
}

/** The dates that a screen names after a heading, as day and month. */
function datesAfter(text, heading) {
  const rest = text.slice(text.indexOf(heading) + heading.length);
  return [...rest.matchAll(/(\d{1,2}) (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)/g)].map(
    ([found]) => Date.parse(`${found} 2027 UTC`)
  );
}

test("a winter at the bench, offline, and the same season on a second phone", { timeout: within(600_000) }, async (t) => {
  const server = await host(t);
  const phone = await visitor(t, browser, server.origin);
  const page = await openAndKeep(phone.context, server.url);
  page.setDefaultTimeout(within(15_000));
  const url = server.url;
  await server.stop();

  await t.test("sets up the place, spaces and varieties", async () => {
    await setUpPlace(page, url, "2027-01-10");
    await says(page, "Hill field, 44°");
    await setUpSpaces(page);
    await says(page, "Mat Heat mat, room for 4 trays");
    await says(page, "Tunnel, 1 bed");
    await says(page, "Outdoors, 2 beds");
    await setUpVarieties(page);
    await go(page, "shed/varieties");
    await says(page, /Early spike snapdragon, white, group 1/i);
    await says(page, /Late spike snapdragon, white, group 3/i);
  });

  await t.test("is told what to sow, when and how much", async () => {
    await go(page, "season/targets/new");
    await fill(page, {
      "What is wanted": "Any snapdragon",
      "Stems a week": 40,
      "First week": "26",
      "Last week": "29",
      "Where it is to be grown": "Tunnel",
    });
    await tap(page, "Keep this target");
    await says(page, "40 stems a week, week 26 to week 29, grown in Tunnel, with a chance of 80%");
    await go(page, "season/plan");
    await rested(page);
    await says(page, /Early spike, snapdragon, white, group 1 For snapdragon, week 26 to week 29/);
    const [, cells, plants] = (await screen(page)).match(/(\d+) cells .*?(\d+) plants/);
    // Stems / (share of the hardest week x stems a plant x selling share x living share); at 4 stems and 77 in 100
    // sold from a tunnel no share of a week is above 0.4, so 40 stems take at least 34 plants; more cells than plants.
    assert.ok(Number(plants) >= 34 && Number(plants) < 300, `${plants} plants`);
    assert.ok(Number(cells) > Number(plants) / 0.92, `${cells} cells for ${plants} plants`);
  });

  await t.test("sows both groups, sixty blocks each", async () => {
    await sow(page, url, "2027-01-15", "Early spike", "Tunnel");
    await sow(page, url, "2027-01-15", "Late spike", "Tunnel");
    await at(page, url, "2027-01-16", "bench");
    await says(page, "Mat 2 of 4 trays");
    await says(page, /day 1|1 day/);
    await says(page, "60 cells, not counted yet");
  });

  await t.test("counts on day 10 and keeps the mat on for the stragglers", async () => {
    await at(page, url, "2027-01-25", "today");
    await record(page, "Count the tray", "Early spike");
    await fill(page, { "Cells up": 64 });
    await tap(page, "64 up today");
    await says(page, "64 up, but there are only 60 cells.");
    await fill(page, { "Cells up": 45 });
    await tap(page, "45 up today");
    await saved(page);
    await says(page, "Day 10: 45 of 60 up. Leave the mat on until");
    await count(page, url, "2027-01-25", "Late spike", 56);
    await says(page, "Day 10: 56 of 60 up.");
    await openTray(page, url, "2027-01-25", "Early spike");
    await says(page, /Day 10: 45 of 60 up\. Expect 5\d up in the end \(4\d to 5\d\)\. Lift the dome\. Leave the mat on until/);
    const until = datesAfter(await screen(page), "Leave the mat on until")[0];
    const [from, to] = ["2027-01-26", "2027-01-30"].map((day) => Date.parse(day));
    assert.ok(until >= from && until <= to, "a fortnight after sowing is the most that is worth waiting");
    await says(page, "Never let it dry");
  });

  await t.test("lifts the domes in two taps, then takes the mats away", async () => {
    await at(page, url, "2027-01-25", "today");
    for (const tray of ["Early spike", "Late spike"]) {
      await record(page, "Lift the dome", tray);
      await tap(page, "Dome lifted today");
      await saved(page);
    }
    await count(page, url, "2027-01-28", "Early spike", 51);
    await count(page, url, "2027-01-28", "Late spike", 57);
    for (const tray of ["Early spike", "Late spike"]) {
      await at(page, url, "2027-01-28", "today");
      await record(page, "Take the mat away", tray);
      await tap(page, "Mat off today");
      await saved(page);
    }
    await at(page, url, "2027-01-28", "bench");
    await says(page, "Mat 0 of 4 trays");
    await says(page, "Shelves 2 of 16 trays");
  });

  await t.test("both groups came up alike, the later group blooms later", async () => {
    const blooms = [];
    for (const tray of ["Early spike", "Late spike"]) {
      await openTray(page, url, "2027-01-28", tray);
      await says(page, "First bloom");
      blooms.push(datesAfter(await screen(page), "First bloom")[0]);
    }
    const days = (blooms[1] - blooms[0]) / 86_400_000;
    assert.ok(days >= 5 && days <= 40, `group 3 blooms ${days} days after group 1`);
  });

  await t.test("sows both again a fortnight later for the field", async () => {
    await sow(page, url, "2027-01-29", "Early spike", "Field");
    await sow(page, url, "2027-01-29", "Late spike", "Field");
    await at(page, url, "2027-01-29", "bench");
    await says(page, "4 sowings in 4 trays");
    for (const [tray, up] of [
      ["Early spike", 50],
      ["Late spike", 51],
    ]) {
      await count(page, url, "2027-02-10", tray, up);
      await tap(page, /^Dome off/);
      await tap(page, "Dome lifted today");
      await saved(page);
      await tap(page, /^Mat off/);
      await tap(page, "Mat off today");
      await saved(page);
    }
  });

  await t.test("waters by age: never dry while tiny, drying between later", async () => {
    await at(page, url, "2027-02-10", "today");
    await record(page, "Let it dry between waterings", "Early spike");
    await tap(page, /Watered today|today/);
    await saved(page);
    await at(page, url, "2027-02-10", "bench");
    await page.getByRole("article").getByRole("link", { name: /Early spike/ }).first().waitFor();
    const texts = [];
    for (const which of [0, 1]) {
      await openTray(page, url, "2027-02-10", "Early spike", which);
      texts.push(await screen(page));
    }
    assert.ok(texts.some((text) => text.includes("Let it dry between waterings As noted on")
      || /Let it dry between waterings\.? As noted/.test(text)), `no tray is kept drier: ${texts.join(" | ").slice(0, 400)}`);
    assert.ok(texts.some((text) => /Never let it dry|Let the surface go matt/.test(text)), "the young tray is kept moist");
  });

  await t.test("a row dries out and the plants to expect fall", async () => {
    const trayOfTunnel = async (day) => {
      for (const which of [0, 1]) {
        await openTray(page, url, day, "Early spike", which);
        if ((await screen(page)).includes("sown Fri 15 Jan")) return;
      }
      assert.fail("the first sowing is not on the bench");
    };
    await trayOfTunnel("2027-02-20");
    const plants = async () => Number((await screen(page)).match(/Good enough to plant (\d+) plants/)[1]);
    const before = await plants();
    await tap(page, /^Lost some/);
    await fill(page, { "How many": 10 });
    await choose(page, "Why", "dried out");
    await tap(page, "10 lost today");
    await saved(page);
    await says(page, "10 lost: dried out");
    assert.ok(before - (await plants()) >= 8, "ten seedlings less");
  });

  await t.test("hardens off and plants the tunnel a month ahead of the field", async () => {
    await at(page, url, "2027-03-20", "today");
    for (const tray of ["Early spike", "Late spike"]) {
      await at(page, url, "2027-03-10", "today");
      await record(page, "Begin hardening off", tray);
      await tap(page, "Hardening from today");
      await saved(page);
    }
    for (const [tray, plants] of [
      ["Early spike", 38],
      ["Late spike", 52],
    ]) {
      await at(page, url, "2027-03-20", "today");
      await record(page, "Plant out", tray);
      await fill(page, { "Plants set": plants });
      await tap(page, `${plants} planted today`);
      await saved(page);
    }
    await at(page, url, "2027-03-20", "beds");
    await says(page, "38 plants");
    await says(page, "52 plants");
    await at(page, url, "2027-03-21", "today");
    const text = await screen(page);
    assert.ok(!/Plant out [A-Z][a-z]+ spike[^.]*Tunnel/.test(text), "what is planted asks no more");
    for (const tray of ["Early spike", "Late spike"]) {
      await at(page, url, "2027-04-07", "today");
      await record(page, "Begin hardening off", tray);
      await tap(page, "Hardening from today");
      await saved(page);
      await at(page, url, "2027-04-17", "today");
      await record(page, "Plant out", tray);
      await fill(page, { "Plants set": 45 });
      await tap(page, "45 planted today");
      await saved(page);
    }
    await at(page, url, "2027-04-17", "beds");
    await says(page, "F1");
    await says(page, "set Sat 17 Apr");
  });

  await t.test("cuts the first stems and the cooler has them", async () => {
    await at(page, url, "2027-06-14", "beds");
    await press(page.getByRole("link", { name: /Early spike/ }).first());
    await arrived(page, /^beds\/[0-9A-Z]{26}$/);
    await tap(page, /^First colour/);
    await tap(page, "Seen today");
    await saved(page);
    await at(page, url, "2027-06-17", "beds");
    await press(page.getByRole("link", { name: /Early spike/ }).first());
    await arrived(page, /^beds\/[0-9A-Z]{26}$/);
    await tap(page, /^Cut$/);
    await fill(page, { "Saleable stems": 20, "Not saleable": 2 });
    await tap(page, "20 stems cut today");
    await saved(page);
    await says(page, /20 cut so far|cut so far 20|20 stems cut/);
    await go(page, "cooler");
    await says(page, /20 stems/);
    await says(page, "Cut today, keeps 7 days");
  });

  await t.test("carries the season to a second phone, and the two agree", async () => {
    await go(page, "shed/export");
    await says(page, /stemtide-2027|stemtide-20/);
    const waiting = page.waitForEvent("download");
    await tap(page, "Download the file");
    const file = await (await waiting).path();
    const bytes = await readFile(file);
    const written = JSON.parse(bytes.toString("utf8"));
    assert.equal(written.format, "stemtide-log");
    assert.equal(written.count, written.entries.length);

    await server.back();
    const other = await visitor(t, browser, server.origin);
    const second = await openAndKeep(other.context, url);
    second.setDefaultTimeout(within(15_000));
    await server.stop();

    // Cut short on the way: nothing is taken, and where it breaks is said.
    await at(second, url, "2027-06-17", "shed/import");
    await second.locator('input[type="file"]').setInputFiles({
      name: "half.json",
      mimeType: "application/json",
      buffer: bytes.subarray(0, bytes.length / 2),
    });
    await says(second, "This file was not taken.");
    await says(second, /line \d+/);

    await at(second, url, "2027-06-17", "shed/import");
    await second.locator('input[type="file"]').setInputFiles({
      name: "season.txt",
      mimeType: "text/plain",
      buffer: bytes,
    });
    await says(second, "new, will be added");
    await tap(second, new RegExp(`Take these ${written.count} entries`));
    await says(second, `${written.count} entries taken.`);

    for (const place of ["today", "bench", "beds", "cooler", "season", "season/plan", "season/supply"]) {
      await at(page, url, "2027-06-17", place);
      await at(second, url, "2027-06-17", place);
      await rested(page);
      await rested(second);
      assert.equal(await screen(second), await screen(page), `the two phones differ on ${place}`);
    }

    // Taken twice, nothing is new.
    await at(second, url, "2027-06-17", "shed/import");
    await second.locator('input[type="file"]').setInputFiles({
      name: "season.json",
      mimeType: "application/json",
      buffer: bytes,
    });
    await says(second, "already here");
    assert.deepEqual(other.errors, []);
  });

  assert.deepEqual(phone.abroad, [], "a request left the app's own origin");
  assert.deepEqual(phone.refused, [], "the page tried what its own policy refuses");
  assert.deepEqual(phone.errors, []);
});
