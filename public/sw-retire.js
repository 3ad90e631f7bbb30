// A worker that removes itself, kept ready in case a published worker ever
// keeps a broken app on people's devices: publish this file as sw.js. At the
// next visit it throws away the kept copies and hands every request back to
// the network. What the grower recorded is not in those and is not touched.

const OURS = `stemtide ${new URL(self.registration.scope).pathname} `;

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => event.waitUntil(retire()));

async function retire() {
  const names = (await caches.keys()).filter((name) => name.startsWith(OURS));
  await Promise.all(names.map((name) => caches.delete(name)));
  await self.registration.unregister();
}
