// The installed app's shell: it opens from any folder of any host, keeps
// itself whole, and never speaks to anybody else.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { host, SITE } from "./support/host.mjs";
import { launch, openAndKeep, opened, visitor } from "./support/chromium.mjs";

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** What a person sees, without the spaces. */
function words(page) {
  return page.evaluate(() => document.body.innerText.replace(/\s+/g, " ").trim());
}

for (const under of ["/", "/flowers/this-year/"]) {
  test(`opens under ${under}, and again when the host is gone`, async (t) => {
    const server = await host(t, { under });
    const { context, abroad, refused, errors } = await visitor(t, browser, server.origin);
    const page = await openAndKeep(context, server.url);
    const seen = await words(page);
    assert.ok(seen.length > 0, "the app shows nothing");
    assert.equal(
      await page.evaluate(() => document.documentElement.dataset.base),
      under,
      "the app is told another path than the one it is served under"
    );
    const missed = server.asked.filter(({ status }) => status !== 200);
    assert.deepEqual(missed, [], "the page asked for what is not there");

    await server.stop();
    await page.reload();
    await opened(page);
    assert.equal(await words(page), seen);

    const second = await context.newPage();
    await second.goto(`${server.url}season?week=2027-W14`);
    await opened(second);
    assert.ok((await words(second)).length > 0);
    await second.goto(`${server.url}index.html`);
    await opened(second);

    assert.deepEqual(abroad, [], "a request left the app's own origin");
    assert.deepEqual(refused, [], "the page tried what its own policy refuses");
    assert.deepEqual(errors, []);
  });
}

test("the page refuses inline scripts, styles, eval and other hosts", async (t) => {
  const server = await host(t);
  const { context, refused } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  await page.evaluate(async () => {
    const script = document.createElement("script");
    script.textContent = "window.inlineRan = true";
    document.head.append(script);
    const style = document.createElement("style");
    style.textContent = "body { color: red }";
    document.head.append(style);
    await fetch("http://127.0.0.1:9/").catch(() => {});
    const image = new Image();
    image.src = "http://127.0.0.1:9/x.png";
    await new Promise((done) => (image.onerror = done));
  });
  assert.equal(await page.evaluate(() => window.inlineRan), undefined);
  for (const directive of ["script-src-elem", "style-src-elem", "connect-src", "img-src"]) {
    assert.ok(
      refused.some((what) => what.startsWith(directive)),
      `${directive} let it through: ${refused}`
    );
  }
  // The browser's own check: a string may not become a script.
  const evaluated = await page.evaluate(() => {
    const button = document.createElement("button");
    button.setAttribute("onclick", "window.handlerRan = true");
    document.body.append(button);
    button.click();
    button.remove();
    return window.handlerRan;
  });
  assert.equal(evaluated, undefined);
});

test("a missing file stays missing, and a deep address leads back to the app", async (t) => {
  const server = await host(t, { under: "/s/" });
  const { context } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  await page.reload();
  await opened(page);
  const answer = await page.evaluate(async () => {
    const response = await fetch("assets/gone-0123456789ab.wasm");
    return response.status;
  });
  assert.equal(answer, 404);
  await page.goto(`${server.url}bench/of/long/ago`);
  await opened(page);
  assert.equal(page.url(), server.url);
  await server.stop();
  // Another name: a host may let its "missing" be remembered.
  const gone = await page.evaluate(() =>
    fetch("assets/gone-ba9876543210.wasm").then(
      (response) => response.status,
      () => "failed"
    )
  );
  assert.equal(gone, "failed", "the page stood in for a missing file");
});

test("the browser finds nothing that keeps it from being installed", async (t) => {
  const server = await host(t, { under: "/s/" });
  const { context } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  const devtools = await context.newCDPSession(page);
  const { url, errors, data } = await devtools.send("Page.getAppManifest");
  assert.equal(url, `${server.url}manifest.webmanifest`);
  assert.deepEqual(errors, []);
  assert.equal(JSON.parse(data).short_name, "Stemtide");
  const { installabilityErrors } = await devtools.send("Page.getInstallabilityErrors");
  // A profile of this kind can install nothing, whatever the page is.
  const ours = installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito");
  assert.deepEqual(ours, []);
});

test("when the app cannot start, the page says so", async (t) => {
  const server = await host(t);
  const index = await readFile(join(SITE, "index.html"), "utf8");
  const boot = index.match(/assets\/boot-[0-9a-f]+\.js/)[0];
  const script = await readFile(join(SITE, boot), "utf8");
  const wasm = `assets/${script.match(/app_bg-[0-9a-f]+\.wasm/)[0]}`;
  for (const lost of [boot, wasm]) {
    server.lost.add(lost);
    const { context } = await visitor(t, browser, server.origin);
    const page = await context.newPage();
    await page.goto(server.url);
    await page.getByText("Stemtide could not be opened").waitFor();
    assert.ok(await page.getByText("Opening your season").isHidden(), lost);
    server.lost.clear();
  }
  const { context } = await visitor(t, browser, server.origin);
  await context.addInitScript(() => {
    delete window.WebAssembly;
  });
  const page = await context.newPage();
  await page.goto(server.url);
  await page.getByText("This browser is too old").waitFor();
});
