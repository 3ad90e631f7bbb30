// Winter planning without a network: the plan is searched for beside the page,
// gets better while one looks at it, can be stopped, and says how surely it
// holds; what is accepted is kept and the rest planned round it.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openAndKeep, opened, visitor } from "./support/chromium.mjs";
import { at, go, rested, says, screen, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";
import { word } from "./support/words.mjs";

const WINTER = "2027-01-04";
// What is accepted is listed beside it in the same shape.
const PROPOSED = "ol.proposals > li";

let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** The demo season on a day in winter, kept on the device and without a network. */
async function winter(t) {
  const { origin } = await host(t);
  const { context, refused, errors } = await visitor(t, browser, origin);
  const page = await openAndKeep(context, `${origin}/`);
  await tap(page, "Open the demo season");
  await says(page, "Your own season is untouched.");
  await context.setOffline(true);
  await at(page, `${origin}/`, WINTER, "season/plan");
  return { page, refused, errors };
}

/** Sowings that are proposed. */
const proposals = (page) => page.locator(PROPOSED).count();

test("a plan is found offline, told with its bound and chances, and kept when accepted", { timeout: within(180_000) }, async (t) => {
  const { page, refused, errors } = await winter(t);
  // The page answers while the search goes on: no task of it holds the page up for long.
  const longest = await page.evaluate(async () => {
    let longest = 0;
    const until = performance.now() + 3000;
    let last = performance.now();
    while (performance.now() < until) {
      await new Promise((done) => setTimeout(done, 0));
      longest = Math.max(longest, performance.now() - last);
      last = performance.now();
    }
    return longest;
  });
  assert.ok(longest < 1500, `the page stood still for ${Math.round(longest)} ms`);
  await rested(page);
  await says(page, word("plan.done"));
  await says(page, new RegExp(`${word("plan.cheapest")}|costs at most \\d+% more`));
  const found = await proposals(page);
  assert.ok(found > 0, "nothing is proposed in winter");
  await page.getByRole("heading", { name: word("chance.head") }).waitFor();
  const text = await screen(page);
  assert.match(text, /10[,. ]?000 seasons were played/);
  assert.match(text, /week \d+, \d+%/i);

  // What a search left for want of time or room, the next one may add to what is accepted: a little, and not for ever.
  let added = found;
  for (let round = 0; round < 3 && added > 0; round++) {
    await tap(page, word("plan.accept_all"));
    // What is accepted goes from the list as the next search begins.
    await page.locator(PROPOSED).first().waitFor({ state: "detached" });
    await rested(page);
    const now = await proposals(page);
    assert.ok(now < added / 2, `${now} proposals after ${added} were accepted`);
    added = now;
  }
  await says(page, word("plan.nothing"));
  // Planned anew after a look elsewhere, it is the same.
  await go(page, "season/targets");
  await go(page, "season/plan");
  await rested(page);
  await says(page, word("plan.nothing"));
  assert.deepEqual(refused, []);
  assert.deepEqual(errors, []);
});

test("a search that is stopped keeps its best plan, and can be taken up again", { timeout: within(180_000) }, async (t) => {
  const { page, errors } = await winter(t);
  const stop = page.getByRole("button", { name: word("plan.stop") });
  const done = page.getByText(word("plan.done"));
  await stop.or(done).first().waitFor();
  // On a quick machine the search may be over before a thumb comes down.
  if (await stop.isVisible()) {
    await page.locator(PROPOSED).first().waitFor();
    // The button goes when the search is over: then there is nothing left to stop.
    const stopped = await stop.click({ timeout: 10_000 }).then(
      () => true,
      () => false
    );
    if (stopped) {
      await says(page, word("plan.stopped"));
      assert.ok((await proposals(page)) > 0);
      await tap(page, word("plan.search_again"));
    }
  }
  await rested(page);
  await says(page, word("plan.done"));
  assert.deepEqual(errors, []);
});

test("a planner whose thread can't be had says so, and can be asked again", { timeout: within(120_000) }, async (t) => {
  const { origin } = await host(t);
  // Nothing is kept on the device, so the thread's script comes from the network.
  const { context, errors } = await visitor(t, browser, origin, { serviceWorkers: "block" });
  const page = await context.newPage();
  await page.goto(`${origin}/`);
  await opened(page);
  await tap(page, "Open the demo season");
  await says(page, "Your own season is untouched.");
  let asked = 0;
  await context.route(/\/planner-[^/]*\.js$/, (route) => {
    asked += 1;
    return route.abort();
  });
  await at(page, `${origin}/`, WINTER, "season/plan");
  await says(page, word("plan.failed"));
  assert.ok(asked > 0, "the thread was not asked for");
  await context.unroute(/\/planner-[^/]*\.js$/);
  await tap(page, word("plan.search_again"));
  await rested(page);
  await says(page, word("plan.done"));
  assert.deepEqual(errors, []);
});
