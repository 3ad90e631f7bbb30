// A newer build is taken whole, and only when the user agrees.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { cp, mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { host, SITE } from "./support/host.mjs";
import { laterBuild } from "./support/builds.mjs";
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

test("a newer build waits, is taken on agreement, and other windows decide for themselves", async () => {
  const server = await host({ under: "/s/" });
  const later = await laterBuild("a");
  const { context, errors } = await visitor(browser, server.origin);
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
  await context.close();
  await later.remove();
});

test("a newer build is taken at the next start without asking", async () => {
  const server = await host();
  const later = await laterBuild("b");
  const { context } = await visitor(browser, server.origin);
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
  await context.close();
  await server.stop();
  await later.remove();
});

test("a half-published build is not taken", async () => {
  const server = await host();
  const later = await laterBuild("c");
  const { context } = await visitor(browser, server.origin);
  const page = await openAndKeep(context, server.url);
  const build = await buildOf(page);
  const names = await caches(page);

  // The worker is the new one already, the page still the old.
  const half = await mkdtemp(join(tmpdir(), "stemtide-half-"));
  await cp(SITE, half, { recursive: true });
  await cp(join(later.site, "sw.js"), join(half, "sw.js"));
  server.publish(half);
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    const gone = new Promise((done) =>
      registration.addEventListener("updatefound", () => {
        const worker = registration.installing;
        worker.addEventListener("statechange", () => {
          if (worker.state === "redundant") {
            done();
          }
        });
      })
    );
    await registration.update().catch(() => {});
    await gone;
  });
  assert.deepEqual(await caches(page), names, "a part of it was left behind");
  assert.deepEqual(await page.evaluate(() => window.heard), ["offline-ready"]);
  await server.stop();
  await page.reload();
  await opened(page);
  assert.equal(await buildOf(page), build);
  await context.close();
  await rm(half, { recursive: true });
  await later.remove();
});

test("a lost file keeps the first copy from being called complete", async () => {
  const server = await host();
  const icon = (await readdir(join(SITE, "assets"))).find((name) => name.startsWith("icon-512"));
  server.lost.add(`assets/${icon}`);
  const { context } = await visitor(browser, server.origin);
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
  await context.close();
  await server.stop();
});

test("three builds on, only the last two are kept", async () => {
  const server = await host({ under: "/s/" });
  const { context } = await visitor(browser, server.origin);
  const page = await openAndKeep(context, server.url);
  // Another copy on the same host is none of this one's business.
  await page.evaluate(() => window.caches.open("stemtide /other/ 0000"));
  const builds = [];
  for (const digit of ["1", "2", "3"]) {
    const later = await laterBuild(digit);
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
  await context.close();
  await server.stop();
  await Promise.all(builds.map((later) => later.remove()));
});

test("the worker kept in reserve removes the kept copies and itself", async () => {
  const server = await host();
  const retired = await mkdtemp(join(tmpdir(), "stemtide-retired-"));
  await cp(SITE, retired, { recursive: true });
  await cp(join(retired, "sw-retire.js"), join(retired, "sw.js"));
  const { context } = await visitor(browser, server.origin);
  const page = await openAndKeep(context, server.url);
  assert.equal((await caches(page)).length, 1);
  server.publish(retired);
  await checkForUpdate(page);
  await page.waitForFunction(async () => (await window.caches.keys()).length === 0);
  await page.goto(server.url);
  await opened(page);
  assert.equal(await page.evaluate(() => navigator.serviceWorker.controller), null);
  await context.close();
  await server.stop();
  await rm(retired, { recursive: true });
});
