//! Back from the stems: what to sow, when and how much, so that every week has its stems.
//!
//! Target weeks and stems -> plants -> cells -> sowing date, one target after the other, first week first: a succession is placed for
//! the first week that is short, its stems are taken off the weeks it covers, and so on to the last week; then each is trimmed to
//! what the others leave to it. What is already planted, sown or accepted counts first. Whether all of it fits the mat, shelves and beds at the same time is not solved here: each
//! proposal says where it would stand, and [`Plan::crowding`] says when a space would overflow.

mod cells;
mod crowding;
mod dates;
mod serve;
mod succession;

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

pub use cells::{CellsFor, cells_for};
pub use crowding::Crowding;
pub use dates::{SowingDate, latest_sowing, sowing_for_bloom};

use crate::almanac::Almanac;
use crate::fact::{PlannedFact, Wanted};
use crate::forecast::{Supply, supply};
use crate::ids::*;
use crate::state::Target;
use crate::why::Reason;
use crate::words::Say;

/// A sowing that would serve a target.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// Which target.
    pub target: TargetId,
    /// What to sow.
    pub variety: VarietyId,
    /// When to sow.
    pub sow: NaiveDate,
    /// When to plant.
    pub plant: NaiveDate,
    /// Where to plant.
    pub space: SpaceId,
    /// First bloom.
    pub bloom: Spread<NaiveDate>,
    /// Plants to set.
    pub plants: u32,
    /// Cells to sow.
    pub cells: u32,
    /// First and last week that it is meant for.
    pub weeks: (IsoWeek, IsoWeek),
    /// Bed length at the crop's spacing and a bed 1.2 m wide, m.
    pub bed_metres: f64,
    /// The chain behind the number of plants.
    pub why_plants: Vec<Reason>,
    /// The chain behind the number of cells.
    pub why_cells: Vec<Reason>,
    /// The chain behind the dates.
    pub why_dates: Vec<Reason>,
}

impl Proposal {
    /// The entry that accepts it.
    pub fn accept(&self, of: PlannedId) -> PlannedFact {
        PlannedFact {
            of,
            variety: Some(self.variety.clone()),
            target: Some(self.target.clone()),
            sow: Some(self.sow),
            space: Some(self.space.clone()),
            bed: None,
            cells: Some(self.cells),
            plants: Some(self.plants),
            pinned: None,
            retired: None,
        }
    }
}

/// Stems of a target that no sowing can serve any more or at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// Which target.
    pub target: TargetId,
    /// First and last week that is short.
    pub weeks: (IsoWeek, IsoWeek),
    /// Stems short in all.
    pub stems: u32,
    /// Why, in one sentence.
    pub why: Say,
    /// The last day to sow for it, where that has passed: then there are four ways out.
    pub latest_sowing: Option<NaiveDate>,
}

/// The four ways out when it is too late to sow: keys of their words. Common practice.
pub const WAYS_OUT: [&str; 4] = [
    "way_out.plugs",
    "way_out.stems",
    "way_out.swap",
    "way_out.tell",
];

/// What to sow, and what can't be met.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// By sowing date.
    pub proposals: Vec<Proposal>,
    /// What can't be met.
    pub shortfalls: Vec<Shortfall>,
    /// Weeks in which a mat or shelf would overflow if all were sown.
    pub crowding: Vec<Crowding>,
}

/// Whether a variety answers to what is wanted.
pub fn answers(almanac: &Almanac<'_>, variety: &VarietyId, wanted: &Wanted) -> bool {
    let Some(entity) = almanac.variety(variety) else {
        return false;
    };
    if let Some(this) = &wanted.variety {
        return this == variety;
    }
    let crop = wanted.crop.as_ref().is_none_or(|crop| *crop == entity.crop);
    let colour = wanted
        .colour
        .as_ref()
        .is_none_or(|colour| colour.trim().to_lowercase() == entity.colour.trim().to_lowercase());
    let role = wanted
        .role
        .is_none_or(|role| almanac.role(variety) == Some(role));
    let anything = wanted.crop.is_some() || wanted.colour.is_some() || wanted.role.is_some();
    anything && crop && colour && role
}

/// Plans all targets as of a day.
pub fn plan(almanac: &Almanac<'_>, today: NaiveDate) -> Plan {
    let mut plan = Plan::default();
    let supply = supply(almanac, today);
    // Stems that stand, are sown or accepted go to the first target that they answer to, week by week.
    let mut left = left_over(&supply);
    for target in in_order(almanac) {
        serve::target(almanac, target, &mut left, today, &mut plan);
    }
    plan.proposals
        .sort_by_key(|p| (p.sow, p.target.clone(), p.variety.clone()));
    plan.crowding = crowding::crowding(almanac, &plan.proposals, &supply, today);
    plan
}

/// Stems by variety and week that no target has taken yet.
type LeftOver = BTreeMap<(VarietyId, IsoWeek), f64>;

fn left_over(supply: &Supply) -> LeftOver {
    let mut left = LeftOver::new();
    for line in &supply.lines {
        for (week, stems) in &line.weeks {
            *left.entry((line.variety.clone(), *week)).or_default() += stems.p50;
        }
    }
    left
}

/// Narrow targets first, so that a target for any white spike does not take what one for this variety needs; then by first week.
pub(crate) fn in_order<'a>(almanac: &Almanac<'a>) -> Vec<&'a Target> {
    let mut targets: Vec<&Target> = almanac
        .season()
        .targets
        .values()
        .filter(|t| !t.retired)
        .collect();
    targets.sort_by_key(|t| {
        (
            t.wanted.variety.is_none(),
            t.wanted.crop.is_none(),
            t.from,
            t.id.clone(),
        )
    });
    targets
}
