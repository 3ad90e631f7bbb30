//! The edge to the browser: clock, randomness, page, files. Nothing here knows what a season is.

pub mod boot;
pub mod clipboard;
pub mod clock;
pub mod crash;
pub mod eye;
pub mod files;
pub mod frame;
pub mod page;
pub mod picture;
pub mod planner;
pub mod random;
pub mod tap_guard;
mod thread;
