// Keeps one build of the app on the device, whole or not at all.
//
// Everything a build needs is in FILES. A build is installed beside the one
// in use and waits; it never replaces a running one by itself. The page, its
// style, its scripts and modules are then always of the same build.

const BUILD = "{{build}}";
// Path below the scope, the content type it must arrive with, and, where the
// name holds no hash of the content, its SHA-256.
const FILES = {{files}};

const SCOPE = self.registration.scope;
const SCOPE_PATH = new URL(SCOPE).pathname;
// Several copies may live on one host under different paths.
const OURS = `stemtide ${SCOPE_PATH} `;
const CACHE = OURS + BUILD;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));

self.addEventListener("message", (event) => {
  if (event.data?.type === "SKIP_WAITING") {
    self.skipWaiting();
  } else if (event.data?.type === "BUILD") {
    event.ports[0]?.postMessage(BUILD);
  }
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(SCOPE)) {
    return;
  }
  const path = new URL(request.url).pathname.slice(SCOPE_PATH.length);
  if (request.mode === "navigate" && !isFile(path)) {
    event.respondWith(page(request, path));
  } else {
    event.respondWith(asset(request));
  }
});

/** Whether a path names a file rather than a place in the app. */
function isFile(path) {
  return path !== "index.html" && path.slice(path.lastIndexOf("/") + 1).includes(".");
}

async function install() {
  const cache = await caches.open(CACHE);
  // The page goes in last, so that its presence says the rest is there.
  if (await cache.match(SCOPE)) {
    return;
  }
  try {
    await Promise.all(FILES.map((file) => take(cache, ...file)));
    const index = await fetched(SCOPE, "text/html");
    if (!(await index.clone().text()).includes(`content="${BUILD}"`)) {
      throw new Error("the page on the server is of another build");
    }
    await cache.put(SCOPE, index);
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function take(cache, path, type, sum) {
  const url = new URL(path, SCOPE).href;
  // A name with its content's hash in it means the same bytes in every build.
  const kept = sum === undefined ? await fromOurs(url) : undefined;
  const response = kept ?? (await fetched(url, type));
  if (sum !== undefined && (await sumOf(response.clone())) !== sum) {
    throw new Error(`${url} on the server is of another build`);
  }
  await cache.put(url, response);
}

/** The SHA-256 of what a response brings, in hex. */
async function sumOf(response) {
  const sum = await crypto.subtle.digest("SHA-256", await response.arrayBuffer());
  return Array.from(new Uint8Array(sum), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function fetched(url, type) {
  const response = await fetch(url, { cache: "reload" });
  const given = (response.headers.get("content-type") ?? "").split(";")[0].trim();
  if (!response.ok || given !== type) {
    throw new Error(`${url}: ${response.status} ${given}, not ${type}`);
  }
  if (!response.redirected) {
    return response;
  }
  // A response that remembers a redirection may not answer a navigation.
  const { status, statusText, headers } = response;
  return new Response(await response.blob(), { status, statusText, headers });
}

async function activate() {
  // The build before this one stays: a window of it may still be open. Those
  // before it go. The browser lists caches in the order they were made.
  const earlier = (await caches.keys()).filter(
    (name) => name.startsWith(OURS) && name !== CACHE
  );
  await Promise.all(earlier.slice(0, -1).map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function page(request, path) {
  // The page names its files relative to the scope, so it is only good there.
  if (path.includes("/")) {
    return Response.redirect(SCOPE);
  }
  const cache = await caches.open(CACHE);
  return (await cache.match(SCOPE, { ignoreVary: true })) ?? fetch(request);
}

async function asset(request) {
  const cache = await caches.open(CACHE);
  return (
    (await cache.match(request, { ignoreVary: true })) ??
    (await fromOurs(request)) ??
    fetch(request)
  );
}

/** What any build of this copy of the app kept under this address. */
async function fromOurs(request) {
  for (const name of await caches.keys()) {
    if (name.startsWith(OURS)) {
      const cache = await caches.open(name);
      const kept = await cache.match(request, { ignoreVary: true });
      if (kept) {
        return kept;
      }
    }
  }
  return undefined;
}
