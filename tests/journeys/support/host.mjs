// A plain static host, as anybody may put the app on: any path, its own idea
// of how long to keep things, its own page for what is missing. It can be
// stopped, come back on the same port, and publish another build.

import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join, normalize } from "node:path";

const TYPES = {
  ".css": "text/css",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".json": "application/json",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
};

/** The built app: what the test command built, or `dist`. */
export const SITE =
  process.env.STEMTIDE_SITE ?? new URL("../../../dist", import.meta.url).pathname;

/**
 * Serves a folder under a path until the test `t` ends. `asked` lists every request as
 * `{ path, status }`; a path in `lost` is answered as missing.
 */
export async function host(t, { site = SITE, under = "/" } = {}) {
  const state = { site, asked: [], lost: new Set() };

  async function answer(path) {
    if (!path.startsWith(under)) {
      return [404, ".txt", "Not found."];
    }
    const below = normalize(decodeURIComponent(path.slice(under.length))) || "index.html";
    const file = below === "." ? "index.html" : below;
    if (!file.startsWith("..") && !state.lost.has(file)) {
      try {
        return [200, extname(file), await readFile(join(state.site, file))];
      } catch {
        // Missing, or a folder: both are the host's page for what is missing.
      }
    }
    return [404, ".html", await readFile(join(state.site, "404.html"))];
  }

  const listener = async (request, response) => {
    const { pathname } = new URL(request.url, "http://host");
    const [status, ending, body] = await answer(pathname);
    state.asked.push({ path: pathname, status });
    response.writeHead(status, {
      "content-type": TYPES[ending] ?? "text/plain",
      "cache-control": "max-age=600",
    });
    response.end(body);
  };

  let server;
  const start = (port) =>
    new Promise((done, failed) => {
      server = createServer(listener);
      server.once("error", failed);
      server.listen(port, "127.0.0.1", () => done(server.address().port));
    });
  const port = await start(0);

  const stop = () =>
    new Promise((done) => {
      server.close(done);
      server.closeAllConnections();
    });
  t.after(stop);

  return {
    origin: `http://127.0.0.1:${port}`,
    url: `http://127.0.0.1:${port}${under}`,
    asked: state.asked,
    lost: state.lost,
    publish(folder) {
      state.site = folder;
    },
    stop,
    back: () => start(port),
  };
}
