//! Laws of the log, its fold and its file, for any entries: honest, dangling, contradictory and garbled.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

mod absurd;
mod corrections;
mod file;
mod generate;
mod merge;
mod stamps;
