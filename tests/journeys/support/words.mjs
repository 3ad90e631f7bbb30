// The app's own words, so that a check that waits for one fails when the word
// goes, instead of waiting for nothing.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";

const CATALOGUE = new URL("../../../src/season/src/words/en.txt", import.meta.url);

/** The text of a key without arguments. */
export function word(key) {
  const line = readFileSync(CATALOGUE, "utf8")
    .split("\n")
    .find((line) => line.startsWith(`${key} = `));
  assert.ok(line, `the catalogue has no ${key}`);
  return line.slice(key.length + 3);
}
