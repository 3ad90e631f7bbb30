//! Layout of plantings in beds over time.
//!
//! Plantings take the first gap that is free during all of their weeks, in the order of their dates; those
//! with a fixed bed go there. A planting that fits no gap is split. In order of date, what is free when a
//! planting begins plantings free, so plantings that fit the total length in every week can always be placed by
//! splitting. Otherwise, and if splitting is not allowed, other orders and tighter gaps are tried and the
//! best layout is kept: the least missing, then the fewest pieces.

mod gaps;
mod lay;
mod problem;

#[cfg(test)]
mod tests;

pub use lay::lay_out;
pub use problem::{Bed, BedOption, LayoutError, LayoutProblem, Piece, Placement, Planting};
