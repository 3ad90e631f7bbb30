//! What is next, where, by when and why. Tasks are derived from what was recorded, never stored: record the fact that settles one and
//! it is gone, and what follows from it moves.

mod beds;
pub mod cover;
mod draft;
mod emergence;
mod grow_on;
mod harden;
mod heat;
mod prick_out;
mod resow;
mod store;
mod trays;

use std::sync::Arc;

use chrono::NaiveDate;

pub use draft::{draft, draft_of};
pub use harden::{HardeningDay, Outing, hardening_day};
pub use heat::{Hazard, hazards};
pub use prick_out::spare_doubles;
pub use resow::{Cost, Resow, resow};
pub use trays::water_regime;

use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Outlook, Window};
use crate::ids::*;
use crate::why::Reason;
use crate::words::Say;

/// Days ahead that count as this week.
pub const WEEK_DAYS: i64 = 7;

/// What is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TaskKind {
    /// Sow what is planned.
    Sow,
    /// Count seedlings.
    Count,
    /// Dig up a few seeds and look.
    DigSeeds,
    /// Lift the dome.
    LiftDome,
    /// Take the mat away.
    MatOff,
    /// Let the tray dry between waterings.
    LetDry,
    /// Sow again what is short.
    SowAgain,
    /// Fill empty cells from those with two.
    PrickOut,
    /// Make a place of trays cooler or warmer.
    MindHeat,
    /// Feed.
    Feed,
    /// Move to bigger cells.
    PotOn,
    /// Plant what can't wait in its tray.
    CannotWait,
    /// Begin hardening off.
    Harden,
    /// Put out for another day of hardening off.
    HardenOn,
    /// Plant out.
    Transplant,
    /// Take out growing tips.
    Pinch,
    /// Put up support mesh.
    Net,
    /// Cover for the night.
    Cover,
    /// Feed a bed.
    FeedBed,
    /// Take out side buds.
    Disbud,
    /// Look for the first bud.
    LookForBud,
    /// Look for first colour.
    LookForColour,
    /// Cut.
    Cut,
    /// Clear the bed.
    Clear,
    /// Rest cut stems in water.
    Condition,
    /// Use up or throw away old stems.
    UseUp,
    /// Buy in what an order will lack.
    BuyIn,
    /// Make up an order.
    FillOrder,
}

impl TaskKind {
    /// All kinds.
    pub const ALL: &'static [Self] = &[
        Self::Sow,
        Self::Count,
        Self::DigSeeds,
        Self::LiftDome,
        Self::MatOff,
        Self::LetDry,
        Self::SowAgain,
        Self::PrickOut,
        Self::MindHeat,
        Self::Feed,
        Self::PotOn,
        Self::CannotWait,
        Self::Harden,
        Self::HardenOn,
        Self::Transplant,
        Self::Pinch,
        Self::Net,
        Self::Cover,
        Self::FeedBed,
        Self::Disbud,
        Self::LookForBud,
        Self::LookForColour,
        Self::Cut,
        Self::Clear,
        Self::Condition,
        Self::UseUp,
        Self::BuyIn,
        Self::FillOrder,
    ];

    /// The key of what it says.
    pub fn key(self) -> &'static str {
        match self {
            Self::Sow => "task.sow",
            Self::Count => "task.count",
            Self::DigSeeds => "task.dig_seeds",
            Self::LiftDome => "task.lift_dome",
            Self::MatOff => "task.mat_off",
            Self::LetDry => "task.let_dry",
            Self::SowAgain => "task.sow_again",
            Self::PrickOut => "task.prick_out",
            Self::MindHeat => "task.mind_heat",
            Self::Feed => "task.feed",
            Self::PotOn => "task.pot_on",
            Self::CannotWait => "task.cannot_wait",
            Self::Harden => "task.harden",
            Self::HardenOn => "task.harden_on",
            Self::Transplant => "task.transplant",
            Self::Pinch => "task.pinch",
            Self::Net => "task.net",
            Self::Cover => "task.cover",
            Self::FeedBed => "task.feed_bed",
            Self::Disbud => "task.disbud",
            Self::LookForBud => "task.look_for_bud",
            Self::LookForColour => "task.look_for_colour",
            Self::Cut => "task.cut",
            Self::Clear => "task.clear",
            Self::Condition => "task.condition",
            Self::UseUp => "task.use_up",
            Self::BuyIn => "task.buy_in",
            Self::FillOrder => "task.fill_order",
        }
    }
}

/// What a task is about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// A planned sowing.
    Planned(PlannedId),
    /// A sowing.
    Sowing(SowingId),
    /// A planting.
    Planting(PlantingId),
    /// Stems of a variety in the cooler.
    Variety(VarietyId),
    /// An order.
    Order(OrderId),
    /// One delivery of a standing order, by the day it is due.
    Delivery(OrderId, NaiveDate),
}

/// When a task is due, as of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Due {
    /// Past its latest day.
    Late,
    /// Its best day has come.
    Today,
    /// Its best day comes within a week.
    ThisWeek,
    /// Later.
    Later,
}

/// Something to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// What.
    pub kind: TaskKind,
    /// About what.
    pub subject: Subject,
    /// Of which variety.
    pub variety: Option<VarietyId>,
    /// Where.
    pub space: Option<SpaceId>,
    /// In which bed.
    pub bed: Option<BedId>,
    /// By when.
    pub window: Window,
    /// The reason in one sentence.
    pub why: Say,
    /// The chain behind its dates and numbers.
    pub reasons: Vec<Reason>,
    /// How many cells, plants or stems it is about.
    pub number: Option<u32>,
    /// The key of the usual caution that goes with it.
    pub caution: Option<&'static str>,
}

impl Task {
    /// When it is due.
    pub fn due(&self, today: NaiveDate) -> Due {
        if today > self.window.latest {
            Due::Late
        } else if today >= self.window.best {
            Due::Today
        } else if (self.window.best - today).num_days() <= WEEK_DAYS {
            Due::ThisWeek
        } else {
            Due::Later
        }
    }
}

/// All tasks: due first, and within that in the order of the daily walk.
pub fn tasks(outlook: &Outlook<'_>) -> Arc<Vec<Task>> {
    outlook.keep(due)
}

fn due(outlook: &Outlook<'_>) -> Vec<Task> {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let supply = outlook.supply();
    let mut tasks = Vec::new();
    for planned in almanac.season().planned.values() {
        tasks.extend(trays::sow(almanac, planned, today));
    }
    for sowing in almanac.season().sowings.values() {
        if let Some(forecast) = supply.trays.get(&sowing.id) {
            trays::of_sowing(outlook, sowing, forecast, &mut tasks);
        }
    }
    for planting in almanac.season().plantings.values() {
        if let Some(forecast) = supply.beds.get(&planting.id) {
            beds::of_planting(almanac, planting, forecast, today, &mut tasks);
        }
    }
    tasks.extend(cover::tasks(almanac, today));
    store::of_store(outlook, &mut tasks);
    tasks.sort_by_cached_key(|task| {
        (
            task.due(today),
            walk(almanac, task.space.as_ref(), task.bed.as_ref()),
            task.window.best,
            task.kind,
            task.subject.clone(),
        )
    });
    tasks
}

/// Where on the daily walk something lies: space by its place in the walk and its kind, then bed.
fn walk(
    almanac: &Almanac<'_>,
    space: Option<&SpaceId>,
    bed: Option<&BedId>,
) -> (i32, SpaceKind, String, i32, String) {
    let space = space.and_then(|id| almanac.space(id));
    let bed = bed.and_then(|id| almanac.bed(id));
    (
        space.map_or(i32::MAX, |s| s.walk),
        space.map_or(SpaceKind::Cooler, |s| s.what),
        space.map_or_else(String::new, |s| s.name.clone()),
        bed.map_or(0, |b| b.walk),
        bed.map_or_else(String::new, |b| b.name.clone()),
    )
}
