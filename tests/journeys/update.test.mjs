// A newer build is taken whole, and only when the user agrees.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { appendFile, cp, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { host, SITE } from "./support/host.mjs";
import { copyOfBuild, laterBuild } from "./support/builds.mjs";
import { buildOf, heard, launch, openAndKeep, opened, visitor } from "./support/chromium.mjs";

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

function checkForUpdate(page) {
  return page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update();
  });
}

function caches(page) {
  return page.evaluate(() => window.caches.keys());
}

/** The user agrees; waits for the page that comes of it. */
async function agree(page) {
  await Promise.all([
    page.waitForEvent("load"),
    page.evaluate(() => window.dispatchEvent(new CustomEvent("stemtide:take-update"))),
  ]);
  await opened(page);
}

test("a newer build waits, is taken on agreement, and other windows decide for themselves", async (t) => {
  const server = await host(t, { under: "/s/" });
  const later = await laterBuild(t, "a");
  const { context, errors } = await visitor(t, browser, server.origin);
  const first = await openAndKeep(context, server.url);
  const second = await openAndKeep(context, server.url);
  const build = await buildOf(first);

  server.publish(later.site);
  await checkForUpdate(first);
  await heard(first, "update-ready");
  await heard(second, "update-ready");
  await first.reload();
  await opened(first);
  assert.equal(await buildOf(first), build, "a newer build was taken unasked");
  await heard(first, "update-ready");

  await second.evaluate(() => (window.typed = "not yet saved"));
  await agree(first);
  assert.equal(await buildOf(first), later.build);
  assert.equal(await second.evaluate(() => window.typed), "not yet saved");
  assert.equal(await buildOf(second), build);

  await agree(second);
  assert.equal(await buildOf(second), later.build);
  await server.stop();
  await second.reload();
  await opened(second);
  assert.equal(await buildOf(second), later.build);
  assert.deepEqual(errors, []);
});

test("a newer build is taken at the next start without asking", async (t) => {
  const server = await host(t);
  const later = await laterBuild(t, "b");
  const { context } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  server.publish(later.site);
  await checkForUpdate(page);
  await heard(page, "update-ready");
  await page.close();
  const next = await context.newPage();
  await next.waitForTimeout(500);
  await next.goto(server.url);
  await opened(next);
  assert.equal(await buildOf(next), later.build);
});

/** Ways in which a host may have a part of a build only. */
const HALVES = {
  "the worker is new, the page still the old one": (half) => cp(join(SITE, "index.html"), join(half, "index.html")),
  "a file is of another build under the same name": (half) =>
    appendFile(join(half, "demo", "demo-season.json"), "\n"),
  "a file is not there yet": (half) => rm(join(half, "manifest.webmanifest")),
};

for (const [how, spoil] of Object.entries(HALVES)) {
  test(`a half-published build is not taken: ${how}`, async (t) => {
    const server = await host(t);
    const later = await laterBuild(t, "c");
    const { context } = await visitor(t, browser, server.origin);
    const page = await openAndKeep(context, server.url);
    const build = await buildOf(page);
    const names = await caches(page);

    const half = await copyOfBuild(t, later.site);
    await spoil(half);
    server.publish(half);
    const end = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      const ended = new Promise((done) =>
        registration.addEventListener("updatefound", () => {
          const worker = registration.installing;
          worker.addEventListener("statechange", () => done(worker.state));
        })
      );
      await registration.update().catch(() => {});
      return ended;
    });
    assert.equal(end, "redundant", "the half of a build was installed");
    assert.deepEqual(await caches(page), names, "a part of it was left behind");
    assert.deepEqual(await page.evaluate(() => window.heard), ["offline-ready"]);
    await server.stop();
    await page.reload();
    await opened(page);
    assert.equal(await buildOf(page), build);
  });
}

test("a lost file keeps the first copy from being called complete", async (t) => {
  const server = await host(t);
  const icon = (await readdir(join(SITE, "assets"))).find((name) => name.startsWith("icon-512"));
  server.lost.add(`assets/${icon}`);
  const { context } = await visitor(t, browser, server.origin);
  const page = await context.newPage();
  await page.goto(server.url);
  await opened(page);
  const states = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    const worker = registration?.installing;
    if (worker) {
      await new Promise((done) =>
        worker.addEventListener("statechange", () => worker.state === "redundant" && done())
      );
    }
    return [registration?.active ?? null, (await window.caches.keys()).length];
  });
  assert.deepEqual(states, [null, 0]);
  assert.ok(!(await page.evaluate(() => window.heard)).includes("offline-ready"));
});

test("three builds on, only the last two are kept", async (t) => {
  const server = await host(t, { under: "/s/" });
  const { context } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  // Another copy on the same host is none of this one's business.
  await page.evaluate(() => window.caches.open("stemtide /other/ 0000"));
  const builds = [];
  for (const digit of ["1", "2", "3"]) {
    const later = await laterBuild(t, digit);
    builds.push(later);
    server.publish(later.site);
    const asked = server.asked.length;
    await checkForUpdate(page);
    await heard(page, "update-ready");
    const again = server.asked.slice(asked).filter(({ path }) => path.endsWith(".wasm"));
    assert.deepEqual(again, [], "an unchanged file was fetched again");
    await agree(page);
  }
  await page.waitForFunction(async () => (await window.caches.keys()).length === 3);
  const names = await caches(page);
  assert.deepEqual(names.sort(), [
    "stemtide /other/ 0000",
    `stemtide /s/ ${builds[1].build}`,
    `stemtide /s/ ${builds[2].build}`,
  ]);
});

test("the worker kept in reserve removes the kept copies and itself", async (t) => {
  const server = await host(t);
  const retired = await copyOfBuild(t);
  await cp(join(retired, "sw-retire.js"), join(retired, "sw.js"));
  const { context } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  assert.equal((await caches(page)).length, 1);
  server.publish(retired);
  await checkForUpdate(page);
  await page.waitForFunction(async () => (await window.caches.keys()).length === 0);

  // From here on the host is asked again, whatever worker still looks on.
  const asked = server.asked.length;
  await page.reload();
  await opened(page);
  const again = server.asked.slice(asked).map(({ path }) => path);
  assert.ok(again.includes("/"), `the page came from elsewhere: ${again}`);
  assert.deepEqual(await caches(page), []);
});
