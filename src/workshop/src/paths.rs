//! Where things stand in the checkout.

use std::path::{Path, PathBuf};

/// The top folder of the checkout this tool was compiled in.
///
/// Compiled in rather than searched for, so that the tool does the same from
/// whatever folder it is called; cargo rebuilds it when the checkout moves.
pub fn workspace_root() -> PathBuf {
    let package = Path::new(env!("CARGO_MANIFEST_DIR"));
    package.ancestors().nth(2).unwrap_or(package).to_path_buf()
}
