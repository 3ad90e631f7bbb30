//! Where a sowing's plants stand from when to when: on the mat, on a shelf, hardening off.

use chrono::NaiveDate;
use culture::Crop;

use super::rooms::Place;
use crate::fact::SpaceKind;
use crate::forecast::{hardening_days, mat_days, shifted};

/// Something that stands in a place from one day on and before another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stay {
    pub place: Place,
    pub from: NaiveDate,
    pub to: NaiveDate,
    /// Trays, or metres of bed.
    pub amount: f64,
}

/// Stays of so many trays of a crop that is sown and planted on these days.
pub(super) fn in_trays(crop: &Crop, sow: NaiveDate, plant: NaiveDate, trays: f64) -> [Stay; 3] {
    let plant = plant.max(sow);
    let off = shifted(sow, mat_days(crop)).min(plant);
    let harden = shifted(plant, -hardening_days(crop)).max(off);
    let stay = |what, from, to| Stay {
        place: Place::Trays(what),
        from,
        to,
        amount: trays,
    };
    [
        stay(SpaceKind::Mat, sow, off),
        stay(SpaceKind::Shelf, off, harden),
        stay(SpaceKind::Hardening, harden, plant),
    ]
}
