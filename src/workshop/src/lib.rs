//! The project's native tool: it builds the app into plain static files,
//! serves them on a loopback address, runs every test, and measures.
//!
//! Nothing here is ever compiled for the browser, and nothing in the browser
//! rooms depends on it. It talks to the file system, to cargo and to the
//! browsers' test runner. Of flowers it knows what the season's own rooms say:
//! the same engine over an exported file.

pub mod bundle;
pub mod check;
pub mod dist;
pub mod engine;
pub mod error;
pub mod measure;
pub mod paths;
pub mod serve;
pub mod toolchain;
