//! Which planting stands where in which bed, from when to when.
//!
//! Plantings take the first gap that is free for as long as they stay, in the order of their dates; those whose bed is chosen go there.
//! Where no gap holds one, it is split. Taken by date, what is free when a planting comes stays free, so plantings whose metres are
//! within the beds' length in every week always fit once they may be split. Where they are more than that, or splitting is not
//! wanted, other orders and tighter gaps are tried and the best layout is kept: first the least missing, then the fewest pieces.

mod gaps;
mod ground;
mod lay;

#[cfg(test)]
mod tests;

pub use ground::{Bed, Ground, GroundError, Laid, Piece, Place, Stay};
pub use lay::lay_out;
