//! How long the engine takes for what a phone waits for.

use crate::error::Error;
use crate::paths::workspace_root;
use crate::toolchain;

/// Builds the measurements of `tests/bench`, runs them, and lets them print.
///
/// # Errors
/// [`Error::Start`] without cargo, [`Error::Failed`] when building or measuring fails.
pub fn run() -> Result<(), Error> {
    let mut cargo = toolchain::running_cargo();
    cargo.current_dir(workspace_root());
    cargo.args(["bench", "--package", "bench"]);
    toolchain::succeed(cargo, "measure the engine")
}
