//! From patches of green to cells.

mod classify;

pub use classify::{Measurements, classify};
