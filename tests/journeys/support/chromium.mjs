// Chromium as a phone, with everything it does written down.

import { chromium } from "playwright-core";
import { SLOW, within } from "./pace.mjs";

const ARGUMENTS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export const PHONE = {
  viewport: { width: 390, height: 844 },
  hasTouch: true,
  isMobile: true,
  locale: "en-US",
  timezoneId: "America/New_York",
};

/** Starts the browser that the test command found. */
export function launch() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    headless: true,
    args: ARGUMENTS,
  });
}

/**
 * A clean browser profile, closed when the test `t` ends. `abroad` lists requests that left `origin`,
 * `refused` what the page's policy refused, `errors` what the page threw.
 */
export async function visitor(t, browser, origin, options = {}) {
  const context = await browser.newContext({ ...PHONE, ...options });
  t.after(() => context.close());
  context.setDefaultTimeout(within(30_000));
  if (SLOW > 1) context.on("page", slowDown);
  const abroad = [];
  const refused = [];
  const errors = [];
  context.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(`${origin}/`) && !/^(data|blob):/.test(url)) {
      abroad.push(url);
    }
  });
  context.on("weberror", (error) => errors.push(String(error.error())));
  await context.exposeBinding("policyRefused", (_, what) => refused.push(what));
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      window.policyRefused(`${event.effectiveDirective} ${event.blockedURI}`);
    });
    // What the page was told by its boot file, in order.
    window.heard = [];
    for (const name of ["offline-ready", "offline-refused", "update-ready", "can-install"]) {
      window.addEventListener(`stemtide:${name}`, () => window.heard.push(name));
    }
  });
  return { context, abroad, refused, errors };
}

async function slowDown(page) {
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOW });
}

/** Waits until the app stands on the page with the season in it, not the line that says it is opening. */
export async function opened(page) {
  await page.waitForSelector("#opening, main.opening", { state: "detached" });
}

/** Waits until the page has been told of something by its boot file. */
export async function heard(page, name) {
  await page.waitForFunction((name) => window.heard.includes(name), name);
}

/** Opens the app and waits until the whole of it is kept on the device. */
export async function openAndKeep(context, url) {
  const page = await context.newPage();
  await page.goto(url);
  await opened(page);
  await heard(page, "offline-ready");
  return page;
}

/** The build the page belongs to. */
export function buildOf(page) {
  return page.getAttribute('meta[name="build"]', "content");
}
