//! Measuring what the user pays for.

pub mod engine;
pub mod sizes;
pub mod start;
