//! Free stretches along a bed.

use super::problem::Piece;

/// Shorter stretches are rounding, in metres.
pub(super) const TOLERANCE_M: f64 = 1e-6;

/// A stretch occupied from one week up to, but not including, another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Taken {
    pub piece: Piece,
    pub from: u32,
    pub to: u32,
}

impl Taken {
    pub fn meets(&self, from: u32, to: u32) -> bool {
        self.from < to && from < self.to
    }
}

/// Stretches of a bed that are free during all of the weeks, from its start.
pub(super) fn gaps(taken: &[Taken], length_m: f64, from: u32, to: u32) -> Vec<(f64, f64)> {
    let mut there: Vec<(f64, f64)> = taken
        .iter()
        .filter(|one| one.meets(from, to))
        .map(|one| (one.piece.from_m, one.piece.to_m))
        .collect();
    there.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found = Vec::new();
    let mut at = 0.0f64;
    for (begin, end) in there {
        if begin - at > TOLERANCE_M {
            found.push((at, begin));
        }
        at = at.max(end);
    }
    if length_m - at > TOLERANCE_M {
        found.push((at, length_m));
    }
    found
}
