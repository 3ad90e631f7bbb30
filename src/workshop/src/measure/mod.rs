//! Measuring what the user pays for.

pub mod sizes;
