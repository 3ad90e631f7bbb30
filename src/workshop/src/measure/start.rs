//! How long the installed app takes to open, beside an empty page of the same
//! framework in the same shell.

use std::process::Command;

use crate::bundle::{self, Profile, Target};
use crate::check::browsers;
use crate::dist;
use crate::error::Error;
use crate::paths::workspace_root;
use crate::toolchain;

const EMPTY: &str = "empty-page";

/// Builds both as published, opens each in Chromium without a network on a
/// slowed machine, in turn, and lets the script print what it saw.
///
/// # Errors
/// Those of the builds and of [`browsers::ready`]; [`Error::Start`] without
/// node, [`Error::Failed`] when measuring fails.
pub fn run() -> Result<(), Error> {
    let root = workspace_root();
    let browsers = browsers::ready()?;
    let app = root.join("dist");
    dist::build(Profile::Release, &app)?;
    let made = root.join("target").join("stemtide");
    let module = made.join("empty");
    let module = bundle::build_wasm(EMPTY, Target::Bin(EMPTY), Profile::Release, &module)?;
    let empty = made.join("empty-site");
    // The empty page has no planner; it weighs nothing in a start either way.
    let modules = dist::Modules {
        app: module.clone(),
        worker: module,
    };
    dist::assemble(&root, &modules)?.0.write(&empty)?;
    browsers::install_drivers()?;
    let mut node = Command::new("node");
    node.current_dir(&root)
        .arg("tests/bench/cold_start.mjs")
        .env("CHROMIUM", &browsers.chromium)
        .env("APP_SITE", &app)
        .env("EMPTY_SITE", &empty);
    toolchain::succeed(node, "measure cold starts")
}
