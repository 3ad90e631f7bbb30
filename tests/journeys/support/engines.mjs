// Three engines behind four verbs, for the journey that must pass in each:
// go to an address, run a function in the page, click what a function finds
// (and say whether it found it), close. Each start is a clean profile.

import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import puppeteer from "puppeteer-core";
import { SLOW } from "./pace.mjs";

const PHONE = { width: 390, height: 844, isMobile: true, hasTouch: true };
const CHROMIUM_ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"];

/** By name, what starts it. WebKit is the nearest to an iPhone that runs without one. */
export const ENGINES = {
  chromium: () =>
    puppeteered({
      executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      args: CHROMIUM_ARGUMENTS,
      defaultViewport: PHONE,
    }),
  firefox: () =>
    puppeteered({
      browser: "firefox",
      executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr",
      defaultViewport: { width: PHONE.width, height: PHONE.height },
    }),
  webkit,
};

async function puppeteered(options) {
  const browser = await puppeteer.launch({ headless: true, ...options });
  const page = await browser.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  if (SLOW > 1 && options.browser !== "firefox") await page.emulateCPUThrottling(SLOW);
  return {
    errors,
    goto: (url) => page.goto(url),
    run: (act, ...args) => page.evaluate(act, ...args),
    async click(find, ...args) {
      const handle = (await page.evaluateHandle(find, ...args)).asElement();
      await handle?.click();
      return handle !== null;
    },
    shot: (path) => page.screenshot({ path }),
    close: () => browser.close(),
  };
}

const MINI_BROWSERS = ["x86_64-linux-gnu", "aarch64-linux-gnu"].map(
  (machine) => `/usr/lib/${machine}/webkit2gtk-4.1/MiniBrowser`
);
// The name under which WebDriver passes an element (W3C WebDriver, section 12.1).
const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";

/** WebKit over plain WebDriver, on a display of its own. */
async function webkit() {
  const port = await freePort();
  const driver = spawn("xvfb-run", ["-a", "WebKitWebDriver", `--port=${port}`], {
    detached: true,
    stdio: "ignore",
  });
  const base = `http://127.0.0.1:${port}`;
  await answering(`${base}/status`);
  const { sessionId } = await ask(base, "/session", {
    capabilities: {
      alwaysMatch: {
        "webkitgtk:browserOptions": {
          binary: process.env.WEBKIT ?? MINI_BROWSERS.find((path) => existsSync(path)),
          args: ["--automation"],
        },
      },
    },
  });
  const session = `${base}/session/${sessionId}`;
  // Its window can't be made narrower than this.
  await ask(session, "/window/rect", { width: 447, height: PHONE.height });
  const run = (act, ...args) =>
    ask(session, "/execute/async", {
      script: `const done = arguments[arguments.length - 1];
        Promise.resolve((${act})(...Array.prototype.slice.call(arguments, 0, -1))).then(done);`,
      args,
    });
  return {
    // This driver tells of none; a crash shows in what the screen says.
    errors: [],
    goto: (url) => ask(session, "/url", { url }),
    run,
    async click(find, ...args) {
      const found = await run(find, ...args);
      if (found) await ask(session, `/element/${found[ELEMENT]}/click`, {});
      return found !== null;
    },
    async shot(path) {
      const image = await (await fetch(`${session}/screenshot`)).json();
      await writeFile(path, Buffer.from(image.value, "base64"));
    },
    async close() {
      await fetch(session, { method: "DELETE" }).catch(() => {});
      const gone = once(driver, "exit");
      // The display's own process too.
      process.kill(-driver.pid);
      await gone;
    },
  };
}

async function ask(base, path, body) {
  const response = await fetch(base + path, { method: "POST", body: JSON.stringify(body) });
  const { value } = await response.json();
  if (!response.ok) {
    throw new Error(`${path}: ${value.error}: ${value.message}`);
  }
  return value;
}

async function answering(url) {
  for (let tries = 0; tries < 200; tries += 1) {
    try {
      await fetch(url);
      return;
    } catch {
      await new Promise((done) => setTimeout(done, 100));
    }
  }
  throw new Error("WebKit's driver does not answer.");
}

async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address();
  server.close();
  return port;
}
