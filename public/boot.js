// Starts the app, keeps the installed copy, and hands the browser's offers to
// the app. The app and this file speak only through events on `window`:
//
//   from here:     stemtide:offline-ready    the whole app is kept on this device
//                  stemtide:offline-refused  this browser does not keep it
//                  stemtide:update-ready     a newer build waits to be taken
//                  stemtide:can-install      the browser offers to install
//                  stemtide:installed        it has been installed
//   from the app:  stemtide:hello            tell me again what you have told
//                  stemtide:take-update      the user agrees to the newer build
//                  stemtide:install          the user wants it installed
//
// `data-base` on the root element is the path the app is served under, and
// `data-planner` the address of the script that the planner's thread runs.

import start from "./{{file:app.js}}";

const root = new URL("../", import.meta.url);
const build = document.querySelector('meta[name="build"]')?.content ?? "";
document.documentElement.dataset.base = root.pathname;
document.documentElement.dataset.planner = new URL("./{{file:planner.js}}", import.meta.url).href;

const told = new Set();

function tell(name) {
  told.add(name);
  window.dispatchEvent(new CustomEvent(`stemtide:${name}`));
}

function on(name, act) {
  window.addEventListener(`stemtide:${name}`, act);
}

on("hello", () => {
  for (const name of told) {
    window.dispatchEvent(new CustomEvent(`stemtide:${name}`));
  }
});

// Installing, where the browser leaves the asking to us.

let offer = null;

window.addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  offer = event;
  tell("can-install");
});

window.addEventListener("appinstalled", () => {
  offer = null;
  told.delete("can-install");
  tell("installed");
});

on("install", async () => {
  const taken = offer;
  // An offer is good for one asking.
  offer = null;
  told.delete("can-install");
  await taken?.prompt().catch(() => {});
});

// The copy kept on the device. A newer build waits until the user agrees, or
// until the app is next started with no other window of it open.

const RECHECK_MS = 60 * 60 * 1000;
const ANSWER_MS = 3000;
let leaving = false;

function reloadOnce() {
  if (!leaving) {
    leaving = true;
    window.location.reload();
  }
}

/** The build a worker belongs to, or null if it does not say. */
function buildOf(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event) => resolve(event.data);
    setTimeout(() => resolve(null), ANSWER_MS);
    worker.postMessage({ type: "BUILD" }, [port2]);
  });
}

async function keep(workers) {
  let agreed = false;
  const registration = await workers.register(new URL("sw.js", root), {
    scope: root.pathname,
    updateViaCache: "none",
  });

  const follow = (worker) => {
    const look = () => {
      // Without an active worker this is the first one, which need not wait.
      if (worker.state === "installed" && registration.active) {
        tell("update-ready");
      }
    };
    worker.addEventListener("statechange", look);
    look();
  };
  registration.addEventListener("updatefound", () => {
    if (registration.installing) {
      follow(registration.installing);
    }
  });
  for (const worker of [registration.installing, registration.waiting]) {
    if (worker) {
      follow(worker);
    }
  }

  on("take-update", () => {
    agreed = true;
    const worker = registration.waiting;
    if (!worker) {
      reloadOnce();
      return;
    }
    worker.addEventListener("statechange", () => {
      if (worker.state === "activated") {
        reloadOnce();
      }
    });
    worker.postMessage({ type: "SKIP_WAITING" });
  });

  const compare = async (worker) => {
    const theirs = worker ? await buildOf(worker) : null;
    if (theirs !== null && theirs !== build) {
      tell("update-ready");
    }
  };
  workers.addEventListener("controllerchange", () => {
    if (agreed) {
      reloadOnce();
    } else {
      // Another window took a newer build; this one may hold unsaved words.
      compare(workers.controller);
    }
  });

  let checked_ms = Date.now();
  document.addEventListener("visibilitychange", () => {
    const now_ms = Date.now();
    if (document.visibilityState === "visible" && now_ms - checked_ms > RECHECK_MS) {
      checked_ms = now_ms;
      registration.update().catch(() => {});
    }
  });

  const { active } = await workers.ready;
  tell("offline-ready");
  await compare(active);
}

if (navigator.serviceWorker) {
  keep(navigator.serviceWorker).catch(() => tell("offline-refused"));
} else {
  tell("offline-refused");
}

// The app itself. The module is compiled while it arrives.

try {
  await start({ module_or_path: fetch(new URL("{{file:app_bg.wasm}}", import.meta.url)) });
  document.getElementById("opening")?.remove();
} catch (error) {
  // A module that arrived but does not compile asks for a newer browser.
  const detail = error instanceof WebAssembly.CompileError ? "old" : "failed";
  window.dispatchEvent(new CustomEvent("stemtide:start-failed", { detail }));
  throw error;
}
