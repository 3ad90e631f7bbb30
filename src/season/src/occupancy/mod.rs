//! Room through time: trays on each mat, shelf and hardening spot, and metres of bed in each tunnel and outdoor space, week by week.
//!
//! What stands there is counted where it stands. What is still to come needs room of a kind, and is put where there is room: the
//! first space of the kind in walking order that is free for the whole stay; what fits nowhere overfills the first. Parts of a tray and
//! of a row are counted as such: small sowings share them.

mod fill;
mod stays;

pub(crate) use stays::{cells_per_tray, metres_each};

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::Supply;
use crate::ids::*;
use crate::plan::Proposal;
use crate::state::PlannedSowing;

/// Weeks that are looked at from today's on: one growing season and the next spring.
pub const WEEKS_AHEAD: i32 = 60;
/// Room that is called used up only beyond this much more: rounding.
const HAIR: f64 = 1e-6;

/// A sowing that is thought of beside those that are accepted: a proposal of the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Intended {
    /// What to sow.
    pub variety: VarietyId,
    /// When to sow.
    pub sow: NaiveDate,
    /// When to plant.
    pub plant: NaiveDate,
    /// First stems, if known; without, the crop's days to bloom are left out and it stands from planting for as long as it is cut.
    pub bloom: Option<NaiveDate>,
    /// Where to plant.
    pub space: SpaceId,
    /// Cells to sow.
    pub cells: u32,
    /// Plants to set.
    pub plants: u32,
}

impl From<&Proposal> for Intended {
    fn from(proposal: &Proposal) -> Self {
        Self {
            variety: proposal.variety.clone(),
            sow: proposal.sow,
            plant: proposal.plant,
            bloom: Some(proposal.bloom.p50),
            space: proposal.space.clone(),
            cells: proposal.cells,
            plants: proposal.plants,
        }
    }
}

/// One week of a space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekUse {
    /// Which week.
    pub week: IsoWeek,
    /// Most trays, or metres of bed, that are used on one day of it.
    pub used: f64,
    /// Of these, what stands there or is sown already.
    pub firm: f64,
}

/// A space through the weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct SpaceUse {
    /// Which space.
    pub space: SpaceId,
    /// Of what kind: trays on a mat, shelf or hardening spot, metres of bed in a tunnel or outdoors.
    pub what: SpaceKind,
    /// Its room in trays or metres of bed; `None` where the grower has not said.
    pub room: Option<f64>,
    /// Week by week from today's on.
    pub weeks: Vec<WeekUse>,
}

impl SpaceUse {
    /// Weeks that need more room than there is.
    pub fn over(&self) -> impl Iterator<Item = &WeekUse> {
        self.weeks
            .iter()
            .filter(|week| self.room.is_some_and(|room| week.used > room + HAIR))
    }

    /// The fullest week.
    pub fn most(&self) -> f64 {
        self.weeks.iter().map(|week| week.used).fold(0.0, f64::max)
    }
}

/// Room in every space by week, from what stands there, is sown and accepted, and what is intended beside it.
///
/// `supply` is the forecast that goes with it: days of bloom and of planting are taken from there.
pub fn occupancy(
    almanac: &Almanac<'_>,
    supply: &Supply,
    intended: &[Intended],
    today: NaiveDate,
) -> Vec<SpaceUse> {
    occupancy_with(almanac, supply, intended, None, today)
}

/// As [`occupancy`], with one planned sowing as it would be if it were changed. `supply` must hold its changed line.
pub fn occupancy_with(
    almanac: &Almanac<'_>,
    supply: &Supply,
    intended: &[Intended],
    changed: Option<&PlannedSowing>,
    today: NaiveDate,
) -> Vec<SpaceUse> {
    let mut stays = stays::standing(almanac, supply, today);
    let blooms = stays::blooms(supply);
    for planned in almanac.season().planned.values() {
        let planned = changed.filter(|c| c.id == planned.id).unwrap_or(planned);
        let bloom = blooms.get(&planned.id).copied();
        stays.extend(stays::accepted(almanac, planned, bloom, today));
    }
    for one in intended {
        stays.extend(stays::intended(almanac, one, today));
    }
    fill::fill(almanac, stays, today)
}

#[cfg(test)]
mod tests;
