// The place, spaces, beds and varieties of the winter's grower, entered as a person enters them.

import { arrived, at, choose, fill, go, press, saved, tap } from "./hand.mjs";

/** Sets up the place near 44 N with its frost dates and an example's temperatures. */
export async function setUpPlace(page, url, day) {
  await at(page, url, day, "shed/place");
  await fill(page, {
    "Name of the place": "Hill field",
    Latitude: "44",
    "Begin with an example": "Example: cold inland valley near 44 N",
  });
  for (const [group, date, month] of [
    ["Last frost in spring", "15", "May"],
    ["First frost in autumn", "1", "Oct"],
  ]) {
    const field = page.getByRole("group", { name: group, exact: true });
    await field.getByLabel("Day").fill(date);
    await field.getByLabel("Month").selectOption({ label: month });
  }
  await tap(page, "Fill in the example");
  await tap(page, "Keep the place");
  await arrived(page, "shed");
}

/** A mat of 4 trays, shelves of 16, a hardening spot, a tunnel with a bed, a field with two, a cooler. */
export async function setUpSpaces(page) {
  for (const [kind, name, room] of [
    ["Heat mat", "Mat", "4"],
    ["Shelf", "Shelves", "16"],
    ["Hardening spot", "Porch", "8"],
    ["Tunnel", "Tunnel", null],
    ["Outdoors", "Field", null],
    ["Cooler", "Cooler", "12"],
  ]) {
    await go(page, "shed/spaces/new");
    await choose(page, "What is it", kind);
    await fill(page, { Name: name });
    if (room) await page.getByLabel(/Room for/).fill(room);
    await tap(page, "Keep the space");
    await arrived(page, "shed/spaces");
  }
  for (const [space, name, length] of [
    [0, "T1", "8"],
    [1, "F1", "15"],
    [1, "F2", "15"],
  ]) {
    await press(page.getByRole("link", { name: /Add a bed/ }).nth(space));
    await fill(page, { "Name of the bed": name, Length: length, Width: "1.2" });
    await tap(page, "Keep the bed");
    await arrived(page, "shed/spaces");
  }
}

/** A white snapdragon of bloom group 1 and one of group 3. */
export async function setUpVarieties(page) {
  for (const [name, group] of [
    ["Early spike", "1"],
    ["Late spike", "3"],
  ]) {
    await go(page, "shed/varieties/new");
    await page.getByLabel("Which crop is it").fill("snap");
    await press(page.getByRole("button", { name: /snapdragon/ }));
    await fill(page, { Name: name, Colour: "white" });
    await choose(page, "Bloom group", group);
    await tap(page, "Keep the variety");
    await arrived(page, /^shed\/varieties\/[0-9A-Z]{26}$/);
  }
  await saved(page);
}
