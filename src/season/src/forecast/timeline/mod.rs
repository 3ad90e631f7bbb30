//! Where a sowing or planting is from when to when, and when it gives stems: worked out here, once, for what is planted, sown, planned
//! and proposed alike. Room by week, beds through the year, plan, chance and the drawing of the year all read it.

mod ahead;
mod harvest;
mod inputs;
mod planted;
mod sown;

#[cfg(test)]
mod tests;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

use super::{Window, shifted};
use crate::ids::*;

pub use ahead::{Intent, intended};
pub(crate) use ahead::{bed_ahead, hardening_days, trays_ahead};
pub use harvest::Flush;
pub(crate) use harvest::flushes;
pub(super) use inputs::{Inputs, same_set_up};
pub(super) use planted::of_planting;
pub(super) use sown::of_sowing;

/// What a course belongs to.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// Plants in a bed.
    Planting(PlantingId),
    /// Plants in trays.
    Sowing(SowingId),
    /// A planned sowing not yet sown.
    Planned(PlannedId),
}

/// A kind of place on the way from seed to stems.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Station {
    /// Trays on a heat mat.
    Mat,
    /// Trays on a shelf, or wherever else they grow on.
    Shelf,
    /// Trays that harden off.
    Hardening,
    /// In a bed.
    Bed,
}

/// A stay at one station, from one day on and before another.
#[derive(Debug, Clone, PartialEq)]
pub struct Phase {
    /// At what kind of place.
    pub station: Station,
    /// In which space; `None` where any of the kind will do, or nobody noted it.
    pub space: Option<SpaceId>,
    /// First day.
    pub from: NaiveDate,
    /// The day after the last.
    pub to: NaiveDate,
    /// Room it takes: trays, or metres of bed. 0 for the trays a planting came from; those are counted with their sowing.
    pub needs: f64,
}

/// A sowing or planting from seed to the last stem.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Of which variety.
    pub variety: VarietyId,
    /// Where it flowers.
    pub space: Option<SpaceId>,
    /// The bed it is in, or that the grower chose for it.
    pub bed: Option<BedId>,
    /// Sown, or to be sown; today if that is overdue.
    pub sown: NaiveDate,
    /// When to plant, for what is not planted yet.
    pub plant: Option<Window>,
    /// Cells sown or to be sown; 0 for a planting.
    pub cells: u32,
    /// Plants in the bed or to be set.
    pub plants: u32,
    /// Stays, in order.
    pub phases: Vec<Phase>,
    /// First bloom; the first cut once there was one.
    pub bloom: Option<Spread<NaiveDate>>,
    /// Flushes, in order, as far as frost lets them come. Once cut, all that is cut and still to come as one.
    pub flushes: Vec<Flush>,
    /// First and last cut so far.
    pub cut: Option<(NaiveDate, NaiveDate)>,
    /// Cleared or given up.
    pub ended: Option<NaiveDate>,
    /// Whether what is left in trays is spare or given up: it waits for no bed.
    pub spare: bool,
    /// Saleable stems still to come, by week from this week on.
    pub weeks: Vec<(IsoWeek, Spread<f64>)>,
}

impl Course {
    /// A course of which only the stems matter.
    pub fn of_stems(variety: VarietyId, weeks: Vec<(IsoWeek, Spread<f64>)>) -> Self {
        let sown = weeks.first().map(|(week, _)| week.monday());
        Self {
            variety,
            space: None,
            bed: None,
            sown: sown.unwrap_or_default(),
            plant: None,
            cells: 0,
            plants: 0,
            phases: Vec::new(),
            bloom: None,
            flushes: Vec::new(),
            cut: None,
            ended: None,
            spare: false,
            weeks,
        }
    }

    /// The stay in a bed.
    pub fn in_bed(&self) -> Option<&Phase> {
        self.phases
            .iter()
            .find(|phase| phase.station == Station::Bed)
    }

    /// Planted, or to be planted.
    pub fn planted(&self) -> Option<NaiveDate> {
        self.in_bed().map(|phase| phase.from)
    }

    /// Last stems.
    pub fn last(&self) -> Option<Spread<NaiveDate>> {
        self.flushes.last().map(|flush| flush.to)
    }

    /// The stay on a day.
    pub fn phase_on(&self, date: NaiveDate) -> Option<&Phase> {
        self.phases
            .iter()
            .find(|phase| phase.from <= date && date < phase.to)
    }
}
