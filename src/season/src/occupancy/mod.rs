//! Room through time: trays on each mat, shelf and hardening spot, and metres of bed in each tunnel and outdoor space, week by week.
//!
//! What stands there is counted where it stands. What is still to come needs room of a kind, and is put where there is room: the
//! first space of the kind in walking order that is free for the whole stay; what fits nowhere overfills the first. Parts of a tray and
//! of a row are counted as such: small sowings share them.

mod fill;
mod stays;

use std::sync::Arc;

use agronomy::iso_week::IsoWeek;

use crate::fact::SpaceKind;
use crate::forecast::{Course, Outlook};
use crate::ids::*;

/// Weeks that are looked at from today's on: one growing season and the next spring.
pub const WEEKS_AHEAD: i32 = 60;
/// Room that is called used up only beyond this much more: rounding.
const HAIR: f64 = 1e-6;

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

/// Room in every space by week, from what is planted, sown and planned, and what is proposed beside it.
pub fn occupancy(outlook: &Outlook<'_>, proposed: &[Course]) -> Vec<SpaceUse> {
    let today = outlook.today();
    let stays = stays::stays(outlook.supply(), proposed, today);
    fill::fill(outlook.almanac(), stays, today)
}

/// The same with nothing proposed.
pub fn rooms(outlook: &Outlook<'_>) -> Arc<Vec<SpaceUse>> {
    outlook.keep(|outlook| occupancy(outlook, &[]))
}

#[cfg(test)]
mod tests;
