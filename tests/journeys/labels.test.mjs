// From the sowing to its label and back: numbered by itself, printed on its
// sheet, found by its number, and opened by its code, in a photo or before the
// camera.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openAndKeep, opened, visitor } from "./support/chromium.mjs";
import { arrived, at, choose, fill, go, press, saved, says, screen, tap } from "./support/hand.mjs";
import { host } from "./support/host.mjs";
import { within } from "./support/pace.mjs";
import { setUpPlace, setUpSpaces, setUpVarieties } from "./support/set_up.mjs";
import { word } from "./support/words.mjs";

const DAY = "2027-01-15";
const TRAY = /^bench\/[0-9A-Z]{26}$/;
/** CSS pixels of a millimetre. */
const MM = 96 / 25.4;
let browser;

before(async () => {
  browser = await launch();
});

after(async () => {
  await browser?.close();
});

/** A phone without a signal, with two varieties and one tray of each sown today. */
async function grower(t) {
  const server = await host(t);
  const { context, errors } = await visitor(t, browser, server.origin);
  const page = await openAndKeep(context, server.url);
  page.setDefaultTimeout(within(15_000));
  await server.stop();
  await setUpPlace(page, server.url, DAY);
  await setUpSpaces(page);
  await setUpVarieties(page);
  for (const variety of [/Early spike, snapdragon/, /Late spike, snapdragon/]) {
    await at(page, server.url, DAY, "bench/new");
    await press(page.getByRole("button", { name: variety }).first());
    await fill(page, { "Cells sown": 60 });
    await tap(page, "60 cells sown today");
    await saved(page);
  }
  return { page, url: server.url, errors };
}

/** The code on the label of a number. */
function code(page, number) {
  return page.getByRole("img", { name: new RegExp(`^Code that opens No\\. ${number},`) }).first();
}

/** What a code is drawn with: its side in points and the path of its dark ones. */
function drawing(page, number) {
  return code(page, number).evaluate((svg) => ({
    side: svg.viewBox.baseVal.width,
    d: svg.querySelector("path").getAttribute("d"),
  }));
}

/** A photo of a code, whole or with its middle torn out, as a file to choose. */
async function photo(page, { side, d }, { torn = false } = {}) {
  const bytes = await page.evaluate(
    async ({ side, d, torn }) => {
      const canvas = document.createElement("canvas");
      canvas.width = canvas.height = side * 8;
      const context = canvas.getContext("2d");
      context.scale(8, 8);
      context.fillStyle = "#ffffff";
      context.fillRect(0, 0, side, side);
      context.fillStyle = "#000000";
      context.fill(new Path2D(d));
      context.fillStyle = "#ffffff";
      // The three corner marks stay, so that a code is seen.
      if (torn) context.fillRect(13, 12, side - 22, side - 21);
      const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
      return [...new Uint8Array(await blob.arrayBuffer())];
    },
    { side, d, torn }
  );
  return { name: "label.png", mimeType: "image/png", buffer: Buffer.from(bytes) };
}

/** Puts a camera before a code, or before white paper. Its track is `window.track`. */
function putCamera(page, { side = 0, d = "" }) {
  return page.evaluate(
    ({ side, d }) => {
      const canvas = document.createElement("canvas");
      canvas.width = 640;
      canvas.height = 480;
      const context = canvas.getContext("2d");
      const draw = () => {
        context.setTransform(1, 0, 0, 1, 0, 0);
        context.fillStyle = "#ffffff";
        context.fillRect(0, 0, 640, 480);
        context.setTransform(8, 0, 0, 8, (640 - side * 8) / 2, (480 - side * 8) / 2);
        context.fillStyle = "#000000";
        context.fill(new Path2D(d));
      };
      draw();
      setInterval(draw, 50);
      const stream = canvas.captureStream(20);
      window.track = stream.getVideoTracks()[0];
      navigator.mediaDevices.getUserMedia = async () => stream;
    },
    { side, d }
  );
}

function choosePhoto(page, file) {
  return page.locator('input[type="file"]').setInputFiles(file);
}

test("trays are numbered as they are sown, and only their labels are printed", async (t) => {
  const { page, url, errors } = await grower(t);
  await at(page, url, DAY, "bench");
  await says(page, /No\. 1 · 60/);
  await says(page, /No\. 2 · 60/);
  await tap(page, "Labels");
  await arrived(page, "bench/labels");
  await says(page, "2 labels on 1 sheet");
  await code(page, 1).waitFor();
  await code(page, 2).waitFor();
  // Newest first.
  assert.match(await page.locator("svg.label").first().evaluate((label) => label.textContent), /^2Late spike/);

  await choose(page, "Labels to a tray", "Two, one at either end");
  await says(page, "4 labels on 1 sheet");
  await fill(page, { Sheet: word("labels.stock.a4_21") });
  await fill(page, { "First free place on the sheet": 22 });
  await says(page, /That must lie between 1 and 21/);
  assert.equal(await page.locator("svg.label").count(), 0, "printed from a place that the sheet does not have");
  await fill(page, { "First free place on the sheet": 20 });
  await says(page, "4 labels on 2 sheets");

  await page.emulateMedia({ media: "print" });
  const beside = await page.evaluate(() =>
    [...document.querySelectorAll("body *")]
      .filter((element) => !element.closest(".sheets") && !element.querySelector(".sheets"))
      .filter((element) => element.getClientRects().length > 0 && element.innerText?.trim())
      .map((element) => element.innerText)
  );
  assert.deepEqual(beside, [], "printed beside the sheets");
  const paper = await page.locator(".sheets__paper").evaluateAll((sheets) =>
    sheets.map((sheet) => sheet.getBoundingClientRect()).map(({ width, height }) => ({ width, height }))
  );
  assert.equal(paper.length, 2);
  for (const { width, height } of paper) {
    assert.ok(Math.abs(width - 210 * MM) < 1, `${width} wide`);
    assert.ok(Math.abs(height - 297 * MM) < 1, `${height} high`);
  }
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  assert.equal(pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length, 2, "a page for each sheet");
  await page.emulateMedia({ media: null });
  assert.deepEqual(errors, []);
});

test("a tray is found by its number, its words in any order, and its code in a photo", async (t) => {
  const { page, url, errors } = await grower(t);
  const field = "Number, variety or what is on the label";
  await at(page, url, DAY, "bench");
  await tap(page, "Find");
  await arrived(page, "bench/find");
  await fill(page, { [field]: "No. 2" });
  await page.keyboard.press("Enter");
  await arrived(page, TRAY);
  await says(page, /No\. 2 · 60/);

  await go(page, "bench/find");
  await fill(page, { [field]: "SPIKE eárly" });
  await page.getByRole("link", { name: /No\. 1 · Early spike/ }).waitFor();
  assert.ok(!(await screen(page)).includes("Late spike"));
  await fill(page, { [field]: "tractor" });
  await says(page, word("find.none"));

  await go(page, "bench/labels");
  const first = await drawing(page, 1);
  const whole = await photo(page, first);
  await go(page, "bench/find");
  await choosePhoto(page, whole);
  await arrived(page, TRAY);
  await says(page, /No\. 1 · 60/);

  await go(page, "bench/find");
  await choosePhoto(page, await photo(page, first, { torn: true }));
  await says(page, word("scan.torn"));
  await choosePhoto(page, await photo(page, { side: 41, d: "" }));
  await says(page, word("scan.no_code"));
  await choosePhoto(page, { name: "a.png", mimeType: "image/png", buffer: Buffer.from("no picture") });
  await says(page, word("scan.no_picture"));

  // Another season does not know the tray. Its own trays, sown before there were numbers, get some.
  await page.goto(`${url}#/shed`);
  await opened(page);
  await tap(page, "Open the demo season");
  await says(page, "Your own season is untouched.");
  await go(page, "bench/find");
  await choosePhoto(page, whole);
  await says(page, word("scan.unknown"));
  await page.getByRole("link", { name: word("scan.unknown.go") }).waitFor();
  await go(page, "bench/labels");
  await tap(page, "All of them");
  await tap(page, /^Give (it|them)/);
  await saved(page);
  await page.getByText(/no number yet/).waitFor({ state: "detached" });
  await page.locator("svg.label").first().waitFor();
  assert.deepEqual(errors, []);
});

test("the camera opens the tray that it sees, is given back, and is not missed where it is refused", async (t) => {
  const { page, url, errors } = await grower(t);
  await at(page, url, DAY, "bench/labels");
  const second = await drawing(page, 2);

  await go(page, "bench/find");
  await putCamera(page, second);
  await tap(page, "Scan a label");
  await arrived(page, TRAY);
  await says(page, /No\. 2 · 60/);
  assert.equal(await page.evaluate(() => window.track.readyState), "ended", "the camera is still on");

  await go(page, "bench/find");
  await putCamera(page, {});
  await tap(page, "Scan a label");
  await says(page, word("scan.looking"));
  await go(page, "bench");
  assert.equal(await page.evaluate(() => window.track.readyState), "ended", "on after the screen has gone");

  await go(page, "bench/find");
  for (const [name, said] of [
    ["NotAllowedError", "scan.refused"],
    ["NotFoundError", "scan.no_camera"],
    ["NotReadableError", "scan.busy"],
  ]) {
    await page.evaluate((name) => {
      navigator.mediaDevices.getUserMedia = async () => {
        throw new DOMException("no", name);
      };
    }, name);
    await tap(page, "Scan a label");
    await says(page, word(said));
  }
  // The number is right there.
  await fill(page, { "Number, variety or what is on the label": "#1" });
  await page.keyboard.press("Enter");
  await arrived(page, TRAY);
  assert.deepEqual(errors, []);
});
