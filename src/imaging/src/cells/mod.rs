//! From patches of green to cells.

mod judge;

pub use judge::{Evidence, judge};
