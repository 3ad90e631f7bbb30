//! The input and output of a layout: beds and plantings, and where these are.

use serde::{Deserialize, Serialize};

/// The longest bed in metres, and the last week.
const METRES_MAX: f64 = 1e5;
const WEEKS_MAX: u32 = 10_000;

/// Beds and the plantings to lay out in them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LayoutProblem {
    /// The beds.
    pub beds: Vec<Bed>,
    /// The plantings.
    pub plantings: Vec<Planting>,
    /// Whether a planting may be split over several stretches and beds.
    pub split: bool,
}

/// A bed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bed {
    /// Length, m.
    pub length_m: f64,
    /// First week in use.
    pub from: u32,
    /// First week no longer in use.
    pub to: u32,
}

/// A planting and its weeks in a bed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Planting {
    /// First week.
    pub from: u32,
    /// First week after it; later than the first.
    pub to: u32,
    /// Beds it may be in, the best first.
    pub options: Vec<BedOption>,
    /// Whether it is already there or was placed by the grower; then it takes precedence.
    pub fixed: bool,
}

/// A bed that a planting may be in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BedOption {
    /// Index of the bed.
    pub bed: usize,
    /// Length of the whole planting there, m.
    pub metres: f64,
}

/// Where a planting was placed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Placement {
    /// Its stretches; empty if nothing fits.
    pub pieces: Vec<Piece>,
    /// Length that does not fit, m, measured in the first of its beds; 0 if all fits.
    pub missing_m: f64,
    /// The first week without enough room, and the week after the last one; `None` if all fits.
    pub short: Option<(u32, u32)>,
}

/// A stretch of a bed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// Index of the bed.
    pub bed: usize,
    /// Start, from the start of the bed, m.
    pub from_m: f64,
    /// End, m.
    pub to_m: f64,
}

/// Why a layout problem is invalid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayoutError {
    /// Length or weeks of the numbered bed.
    Bed(usize),
    /// Weeks or beds of the numbered planting.
    Planting(usize),
}

impl core::fmt::Display for LayoutError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Bed(bed) => write!(f, "bed {bed} is out of range"),
            Self::Planting(planting) => write!(f, "planting {planting} is out of range"),
        }
    }
}

impl core::error::Error for LayoutError {}

impl LayoutProblem {
    /// Checks all fields.
    ///
    /// # Errors
    /// [`LayoutError`] for a bed or planting whose length or weeks are out of range, or that refers to a
    /// missing bed.
    pub fn check(&self) -> Result<(), LayoutError> {
        let metres = |m: f64| m > 0.0 && m <= METRES_MAX;
        let weeks = |from: u32, to: u32| from < to && to <= WEEKS_MAX;
        let bed = |bed: &Bed| metres(bed.length_m) && weeks(bed.from, bed.to);
        if let Some(n) = self.beds.iter().position(|one| !bed(one)) {
            return Err(LayoutError::Bed(n));
        }
        let option = |option: &BedOption| option.bed < self.beds.len() && metres(option.metres);
        let planting = |planting: &Planting| {
            weeks(planting.from, planting.to) && planting.options.iter().all(option)
        };
        match self.plantings.iter().position(|one| !planting(one)) {
            Some(n) => Err(LayoutError::Planting(n)),
            None => Ok(()),
        }
    }
}

impl Bed {
    /// Whether the bed is in use during the whole planting.
    pub(super) fn serves(&self, planting: &Planting) -> bool {
        self.from <= planting.from && planting.to <= self.to
    }
}
