//! Beds, what is to stand in them, and where it came to lie.

use serde::{Deserialize, Serialize};

/// The longest bed, m, and the last week that can be asked about.
const METRES_MAX: f64 = 1e5;
const WEEKS_MAX: u32 = 10_000;

/// Beds and what is to stand in them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ground {
    /// The beds.
    pub beds: Vec<Bed>,
    /// What is to stand in them.
    pub stays: Vec<Stay>,
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

/// A planting and how long it stays.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stay {
    /// First week.
    pub from: u32,
    /// First week in which it is gone; later than the first.
    pub to: u32,
    /// Beds it may stand in, the best first.
    pub places: Vec<Place>,
    /// Whether it stands there or was put there by the grower: then it goes before those that can give way.
    pub fixed: bool,
}

/// A bed that would do.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// Which bed.
    pub bed: usize,
    /// Metres that the whole planting takes up there.
    pub metres: f64,
}

/// Where a planting came to lie.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Laid {
    /// Its stretches; none where nothing of it fits.
    pub pieces: Vec<Piece>,
    /// Metres that do not fit, as they would be in the first bed that would do; 0 if all fit.
    pub missing_m: f64,
    /// The first week with too little room for all of it and the first after the last such; `None` if all fits.
    pub short: Option<(u32, u32)>,
}

/// A stretch of a bed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// Which bed.
    pub bed: usize,
    /// From the beginning of the bed, m.
    pub from_m: f64,
    /// To, m.
    pub to_m: f64,
}

/// What can't be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GroundError {
    /// A bed's length or weeks.
    Bed(usize),
    /// A planting's weeks or places.
    Stay(usize),
}

impl core::fmt::Display for GroundError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Bed(bed) => write!(f, "bed {bed} is out of range"),
            Self::Stay(stay) => write!(f, "planting {stay} is out of range"),
        }
    }
}

impl core::error::Error for GroundError {}

impl Ground {
    /// Checks every figure.
    ///
    /// # Errors
    /// [`GroundError`] for a bed of no length or no finite one, for a planting without weeks or metres, or one in a bed that is none.
    pub fn check(&self) -> Result<(), GroundError> {
        let metres = |m: f64| m > 0.0 && m <= METRES_MAX;
        let weeks = |from: u32, to: u32| from < to && to <= WEEKS_MAX;
        let bed = |bed: &Bed| metres(bed.length_m) && weeks(bed.from, bed.to);
        if let Some(n) = self.beds.iter().position(|one| !bed(one)) {
            return Err(GroundError::Bed(n));
        }
        let place = |place: &Place| place.bed < self.beds.len() && metres(place.metres);
        let stay = |stay: &Stay| weeks(stay.from, stay.to) && stay.places.iter().all(place);
        match self.stays.iter().position(|one| !stay(one)) {
            Some(n) => Err(GroundError::Stay(n)),
            None => Ok(()),
        }
    }
}

impl Bed {
    /// Whether it is in use for as long as a planting stays.
    pub(super) fn serves(&self, stay: &Stay) -> bool {
        self.from <= stay.from && stay.to <= self.to
    }
}
