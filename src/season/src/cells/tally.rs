//! What a map adds up to.

use core::ops::Range;

use super::{CellMap, Mark};

/// A map added up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Cells looked at that are not lost.
    pub looked_at: u32,
    /// Cells with a seedling or more.
    pub up: u32,
    /// Cells with two or more.
    pub doubles: u32,
    /// Cells without.
    pub empty: u32,
    /// Cells lost.
    pub lost: u32,
    /// Cells that nobody looked at.
    pub unseen: u32,
}

impl CellMap {
    /// All of it added up.
    pub fn tally(&self) -> Tally {
        self.tally_of(0..self.cells())
    }

    /// Some of its cells added up.
    pub fn tally_of(&self, cells: Range<usize>) -> Tally {
        let mut tally = Tally::default();
        for mark in self.marks().get(cells).unwrap_or_default() {
            match mark {
                Mark::Unseen => tally.unseen += 1,
                Mark::Empty => tally.empty += 1,
                Mark::Up => tally.up += 1,
                Mark::Two => {
                    tally.up += 1;
                    tally.doubles += 1;
                }
                Mark::Lost => tally.lost += 1,
            }
        }
        tally.looked_at = tally.up + tally.empty;
        tally
    }

    /// The cells that are lost here and were not in an earlier map: how many, and how many of them had a seedling there.
    pub fn newly_lost(&self, before: Option<&Self>) -> (u32, u32) {
        let (mut lost, mut were_up) = (0, 0);
        for (cell, mark) in self.marks().iter().enumerate() {
            let was = before.map_or(Mark::Unseen, |map| map.mark(cell));
            if *mark == Mark::Lost && was != Mark::Lost {
                lost += 1;
                were_up += u32::from(was.is_up());
            }
        }
        (lost, were_up)
    }
}

/// How many cells a share of them is, for a count by eye: "about three quarters".
pub fn about(share: f64, cells: u32) -> u32 {
    (share.clamp(0.0, 1.0) * f64::from(cells)).round() as u32
}
