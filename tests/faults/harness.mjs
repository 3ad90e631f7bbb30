// Serves the probe page and starts browsers for the fault tests.
//
// The probe is built beforehand:
//   cargo stemtide bundle --package vault-probe --dev --out tests/faults/out
// and the drivers are those of the journeys (npm ci in tests/journeys).

import { createServer } from 'node:http';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, readdir, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const require = createRequire(new URL('../journeys/package.json', import.meta.url));
const out = new URL('./out/', import.meta.url);

const PAGE = `<!doctype html><meta charset="utf-8"><title>probe</title>
<script type="module">
import init, * as probe from './vault_probe.js';
await init({ module_or_path: new URL('./vault_probe_bg.wasm', location.href) });
window.probe = probe;
// Errors are returned as values, so that a test can inspect them.
window.attempt = async (work) => {
  try {
    return { ok: await work() };
  } catch (error) {
    return { error: String(error) };
  }
};
window.ready = true;
</script>`;

const FILES = {
  '/': ['text/html', () => PAGE],
  // A page of the same origin without the module, for raw JavaScript.
  '/bare': ['text/html', () => '<!doctype html><meta charset="utf-8"><title>bare</title>'],
  '/vault_probe.js': ['text/javascript', () => readFile(new URL('vault_probe.js', out))],
  '/vault_probe_bg.wasm': ['application/wasm', () => readFile(new URL('vault_probe_bg.wasm', out))],
};

/** Serves the probe on a loopback port; `url` ends in a slash. */
export async function serve() {
  if (!existsSync(new URL('vault_probe_bg.wasm', out))) {
    throw new Error(
      'The probe is not built: cargo stemtide bundle --package vault-probe --dev --out tests/faults/out',
    );
  }
  const server = createServer(async (request, response) => {
    const file = FILES[new URL(request.url, 'http://x').pathname];
    if (!file) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'content-type': file[0], 'cache-control': 'no-store' });
    response.end(await file[1]());
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  return {
    url: `http://127.0.0.1:${server.address().port}/`,
    stop: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(done);
      }),
  };
}

/** A folder for a browser profile, with the function that removes it. */
export async function profile() {
  const dir = await mkdtemp(join(tmpdir(), 'stemtide-profile-'));
  return { dir, remove: () => rm(dir, { recursive: true, force: true, maxRetries: 5 }) };
}

/** The engines that the tests drive; one driver serves both. */
export const ENGINES = ['chromium', 'firefox'];

/** Starts an engine, with a profile folder if what it stores must outlive it. */
export async function start(engine, userDataDir) {
  const puppeteer = require('puppeteer-core');
  if (engine === 'firefox') {
    return puppeteer.launch({
      browser: 'firefox',
      executablePath: process.env.FIREFOX ?? '/usr/bin/firefox-esr',
      headless: true,
      userDataDir,
    });
  }
  return puppeteer.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    userDataDir,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/**
 * Kills a browser as a crash would, and waits until the driver has put back
 * the profile's files that it had set aside.
 */
export async function kill(browser, userDataDir) {
  const gone = new Promise((done) => browser.process().once('exit', done));
  browser.process().kill('SIGKILL');
  await gone;
  for (let tries = 0; tries < 100; tries += 1) {
    const left = await readdir(userDataDir);
    if (!left.some((name) => name.endsWith('.puppeteer'))) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  throw new Error('The driver did not put the profile back.');
}

/**
 * Starts a server and one browser of an engine for a group of tests. Each
 * test takes a storage of its own with `context()`.
 */
export function group(engine, hooks) {
  const at = {};
  const contexts = [];
  hooks.before(async () => {
    at.server = await serve();
    at.url = at.server.url;
    at.browser = await start(engine);
  });
  hooks.afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  hooks.after(async () => {
    await at.browser?.close();
    await at.server?.stop();
  });
  at.context = async () => {
    const context = await at.browser.createBrowserContext();
    contexts.push(context);
    return context;
  };
  /** The probe page in a storage of its own. */
  at.page = async (before) => open(await at.context(), at.url, before);
  return at;
}

/**
 * Opens the probe page and waits until the module runs. `before` runs in the
 * page ahead of its scripts. What the page throws with nobody catching it is
 * kept in `page.uncaught`.
 */
export async function open(context, url, before) {
  const page = await context.newPage();
  page.uncaught = [];
  page.on('pageerror', (error) => page.uncaught.push(String(error)));
  if (before) await page.evaluateOnNewDocument(before);
  await page.goto(url);
  await page.waitForFunction(() => window.ready === true);
  return page;
}

/** A page of the same origin without the module. */
export async function bare(context, url) {
  const page = await context.newPage();
  await page.goto(`${url}bare`);
  return page;
}

/** Rows `{prefix}0..{prefix}n`, as JSON for the probe. */
export function rows(prefix, count, from = 0) {
  return JSON.stringify(
    Array.from({ length: count }, (_, i) => {
      const id = prefix + String(from + i).padStart(6, '0');
      return [id, JSON.stringify({ id, kind: 'note', text: `row ${from + i}` })];
    }),
  );
}
