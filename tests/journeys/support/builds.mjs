// Later builds for the update journeys, made from the built one.

import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { SITE } from "./host.mjs";

/**
 * A copy of the built app under another build id, as a release with other
 * words on the page would be. Returns the folder and the id.
 */
export async function laterBuild(t, digit) {
  const site = await copyOfBuild(t);
  const page = await readFile(join(site, "index.html"), "utf8");
  const was = page.match(/<meta name="build" content="([0-9a-f]{16})">/)[1];
  const build = String(digit).repeat(16);
  for (const file of ["index.html", "404.html", "sw.js"]) {
    const text = await readFile(join(site, file), "utf8");
    await writeFile(join(site, file), text.replaceAll(was, build));
  }
  return { site, build };
}

/** A copy of a build to spoil; removed when the test `t` ends. */
export async function copyOfBuild(t, from = SITE) {
  const site = await mkdtemp(join(tmpdir(), "stemtide-build-"));
  t.after(() => rm(site, { recursive: true, force: true }));
  await cp(from, site, { recursive: true });
  return site;
}
