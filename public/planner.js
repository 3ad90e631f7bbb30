// The planner's thread: starts its module, which then speaks for itself.

import start from "./{{file:worker.js}}";

await start({ module_or_path: fetch(new URL("{{file:worker_bg.wasm}}", import.meta.url)) });
