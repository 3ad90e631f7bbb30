// Times the planner's thread in Chromium, as the page uses it: from the asking to
// the first plan and to the last. Wants a built site and a folder of problems
// (cargo run --release -p planner-checks --bin write -- FOLDER).
//
//   CHROMIUM=... APP_SITE=dist node tests/bench/plan_worker.mjs FOLDER [CASE ...]

import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { extname, join } from "node:path";

const require = createRequire(new URL("../journeys/package.json", import.meta.url));
const { chromium } = require("playwright-core");

const [folder, ...asked] = process.argv.slice(2);
const cases = asked.length > 0 ? asked : ["tiny-1", "hobby-1", "farm-1", "acre-1"];
const site = process.env.APP_SITE ?? "dist";
const TYPES = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".json": "application/json" };

const server = createServer((request, response) => {
  const path = new URL(request.url, "http://localhost").pathname;
  try {
    const body = readFileSync(join(site, path === "/" ? "index.html" : path));
    response.writeHead(200, { "content-type": TYPES[extname(path)] ?? (path === "/" ? "text/html" : "application/octet-stream") });
    response.end(body);
  } catch {
    response.writeHead(404).end();
  }
});
await new Promise((done) => server.listen(0, "127.0.0.1", done));

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu"],
});
const page = await browser.newPage();
await page.goto(`http://127.0.0.1:${server.address().port}/`);
await page.waitForFunction(() => document.documentElement.dataset.planner);

console.log("case: thread ready s, first plan s, last plan s, cost");
for (const name of cases) {
  const ask = readFileSync(join(folder, `${name}.json`), "utf8");
  const told = await page.evaluate(
    (ask) =>
      new Promise((done, failed) => {
        const begun = performance.now();
        const times = {};
        const worker = new Worker(document.documentElement.dataset.planner, { type: "module" });
        worker.onerror = (event) => failed(new Error(event.message));
        worker.onmessage = ({ data }) => {
          const now = (performance.now() - begun) / 1000;
          const tell = JSON.parse(data);
          if (tell === "ready") {
            times.ready = now;
            worker.postMessage(ask);
          } else if (tell.better) {
            times.first ??= now - times.ready;
            times.last = now - times.ready;
            times.cost = tell.better.cost_in_parts;
          } else if (tell.planned) {
            worker.terminate();
            done({ ...times, settled: now - times.ready, cost: tell.planned.found.cost_in_parts });
          } else {
            failed(new Error(data));
          }
        };
      }),
    ask,
  );
  const s = (n) => n.toFixed(2);
  console.log(`${name}: ${s(told.ready)}, ${s(told.first)}, ${s(told.settled)}, ${told.cost.toFixed(1)}`);
}
await browser.close();
server.close();
