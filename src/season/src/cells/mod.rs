//! A sowing's cells one by one: what was seen in each, as a grid that can be marked, written down in a few letters, and counted.

mod code;
mod grid;
mod mark;
mod tally;

pub use code::NotCells;
pub use grid::{CellMap, Place};
pub use mark::Mark;
pub use tally::{Tally, about};

#[cfg(test)]
mod tests;
