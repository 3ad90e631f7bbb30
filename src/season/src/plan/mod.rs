//! Back from the stems: what to sow, when, how much and where, so that every week has its stems, at least cost in seed, bed and work,
//! inside the mats, shelves and beds there are.
//!
//! What people want becomes a problem of plain numbers ([`Brief`]), the planner's search answers it (`planner::answer`, in the app in
//! a worker of its own), and the answer is read back as proposals with their reasons ([`Brief::read`]). What is planted, sown or
//! accepted counts first and keeps its room; the rest is planned round it.

mod brief;
mod cells;
mod choices;
mod costs;
mod crowding;
mod dates;
mod miss;
mod reasons;
mod rooms;
mod told;
mod wishes;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use planner::solve::{Ended, SolveError};

pub use brief::Brief;
pub use cells::{CellsFor, cells_for};
pub use crowding::Crowding;
pub use dates::{SowingDate, latest_sowing, sowing_for_bloom};
pub use rooms::Place;
pub use told::BED_WIDTH_M;
pub use wishes::Asker;

use dates::winter_between;

use crate::almanac::Almanac;
use crate::fact::{PlannedFact, Wanted};
use crate::forecast::{Course, Intent, Outlook, intended};
use crate::ids::*;
use crate::state::Target;
use crate::why::Reason;
use crate::words::Say;

/// A sowing that would serve a target.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// Which target; none where it is an order.
    pub target: Option<TargetId>,
    /// Whom it serves most.
    pub serves: Asker,
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
    /// Where it would be from when to when, and when it would give.
    pub fn course(&self, outlook: &Outlook<'_>) -> Option<Course> {
        let of = Intent {
            variety: self.variety.clone(),
            space: Some(self.space.clone()),
            sow: self.sow,
            plant: self.plant,
            bloom: Some(self.bloom),
            cells: self.cells,
            plants: self.plants,
        };
        intended(outlook.almanac(), &of, outlook.today())
    }

    /// The entry that accepts it.
    pub fn accept(&self, of: PlannedId) -> PlannedFact {
        PlannedFact {
            variety: Some(self.variety.clone()),
            target: self.target.clone(),
            sow: Some(self.sow),
            space: Some(self.space.clone()),
            cells: Some(self.cells),
            plants: Some(self.plants),
            ..PlannedFact::new(of)
        }
    }
}

/// Stems of a target that no sowing can serve any more or at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// Which target; none where it is an order.
    pub target: Option<TargetId>,
    /// Whose.
    pub asker: Asker,
    /// What is wanted.
    pub wanted: Wanted,
    /// First and last week that is short.
    pub weeks: (IsoWeek, IsoWeek),
    /// Stems short in all, of those wanted and at the chance wanted.
    pub stems: u32,
    /// Why, in one sentence.
    pub why: Say,
    /// What would mend it, in a sentence each.
    pub mends: Vec<Say>,
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
    /// How good it is; none where nothing was searched.
    pub assurance: Option<Assurance>,
}

/// How good a plan is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assurance {
    /// What it costs, missing stems included: only proportions count.
    pub cost: f64,
    /// How far from the least cost it may be at most, as a share.
    pub gap: f64,
    /// Why the search ended; none while it goes on.
    pub ended: Option<Ended>,
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

/// Plans as of a day, searching until nothing better is found, however long it takes.
///
/// For programs without a screen; the app searches in a worker.
///
/// # Errors
/// As [`planner::answer`]: a season whose numbers make no sense together.
pub fn plan(outlook: &Outlook<'_>) -> Result<Plan, SolveError> {
    let brief = Brief::of(outlook);
    let answer = planner::answer(&brief.problem, f64::INFINITY, &|| 0.0, &mut |_| {})?;
    Ok(brief.read(outlook, &answer))
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
