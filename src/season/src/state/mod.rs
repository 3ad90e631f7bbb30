//! The season: what the log adds up to. Domain types, apart from the wire types of [`crate::fact`].

mod bed_life;
mod fold;
mod set_up;
mod standing;
mod tray_life;

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;
use serde::Serialize;

pub use bed_life::{CutRecord, Planting};
pub use fold::taken_back;
pub use standing::{Standing, StepKind};
pub use tray_life::{Count, Loss, Sowing};

pub use crate::fact::{
    Bed, CHANCE_USUAL, Closed, CropYear, Order, Place, PlannedSowing, Recipe, SeedLot, Space,
    Target, Variety,
};

use crate::canonical;
use crate::fact::Fact;
use crate::ids::*;
use crate::money::Money;
use crate::stamp::Stamp;

/// What a live event of the log says after all corrections, for showing and undoing.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Its entry.
    pub entry: EntryId,
    /// When it was recorded.
    pub at: Stamp,
    /// Where it was recorded.
    pub device: DeviceId,
    /// What it says now; the entry's own fact where it was not corrected.
    pub fact: Arc<Fact>,
    /// Whether it was corrected.
    pub revised: bool,
}

/// Something in the log that does not add up. The entry stays; the season goes on without its effect.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Problem {
    /// The entry.
    pub entry: EntryId,
    /// What is wrong with it.
    pub what: ProblemKind,
}

/// What can be wrong with an entry that reads well by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ProblemKind {
    /// A known kind whose fields don't read or are out of range.
    Unreadable,
    /// It names a sowing, planting or entry that is not in the log.
    Dangling,
    /// It takes back or corrects what was recorded after it.
    BeforeItsTarget,
    /// It happened before the sowing or planting it belongs to.
    BeforeItsStart,
    /// More up, lost or planted than there was.
    MoreThanThere,
}

/// A place's measured day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Measured {
    /// Where; outdoors when `None`.
    pub space: Option<SpaceId>,
    /// Lowest, C.
    pub min_c: f64,
    /// Highest, C.
    pub max_c: f64,
    /// Mean of the day's readings, C, where there were many.
    pub mean_c: Option<f64>,
}

/// A low that was forecast for a night.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LowExpected {
    /// The entry.
    pub entry: EntryId,
    /// The evening before that night.
    pub date: NaiveDate,
    /// Where; outdoors when `None`.
    pub space: Option<SpaceId>,
    /// Lowest, C.
    pub min_c: f64,
}

/// Cut stems that stood in the warm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Warmed {
    /// The entry.
    pub entry: EntryId,
    /// Of which variety; all when `None`.
    pub variety: Option<VarietyId>,
    /// Cut on which day; any when `None`.
    pub cut: Option<NaiveDate>,
    /// When.
    pub date: NaiveDate,
    /// For how many hours.
    pub hours: f64,
    /// How warm, C.
    pub temp_c: f64,
}

/// A frost that was noted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Frost {
    /// The entry.
    pub entry: EntryId,
    /// The morning after.
    pub date: NaiveDate,
    /// Where; outdoors when `None`.
    pub space: Option<SpaceId>,
    /// Lowest, C, if it was read.
    pub min_c: Option<f64>,
}

/// Stems that left or changed their state in the cooler.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StemsMoved {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub date: NaiveDate,
    /// Of which variety.
    pub variety: VarietyId,
    /// How many stems.
    pub stems: u32,
    /// For which order, if handed over or put aside for one.
    pub order: Option<OrderId>,
    /// For which delivery of a standing order.
    pub due: Option<NaiveDate>,
    /// What they brought or cost.
    pub money: Option<Money>,
}

/// A note.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Noted {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub date: NaiveDate,
    /// What about: an id of anything.
    pub about: Option<String>,
    /// What it says.
    pub text: String,
}

/// What the log adds up to. Depends on the entries alone: not on the order in which they came, nor on today's date.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Season {
    /// Names of devices.
    pub devices: BTreeMap<DeviceId, String>,
    /// Sites; the tool works with one, [`Season::place`].
    pub places: BTreeMap<PlaceId, Place>,
    /// Spaces.
    pub spaces: BTreeMap<SpaceId, Space>,
    /// Beds.
    pub beds: BTreeMap<BedId, Bed>,
    /// Crop figures that the grower set, by crop id and figure name.
    pub crops: BTreeMap<String, BTreeMap<String, f64>>,
    /// Varieties.
    pub varieties: BTreeMap<VarietyId, Variety>,
    /// Seed lots.
    pub lots: BTreeMap<LotId, SeedLot>,
    /// Targets.
    pub targets: BTreeMap<TargetId, Target>,
    /// Orders.
    pub orders: BTreeMap<OrderId, Order>,
    /// Recipes.
    pub recipes: BTreeMap<RecipeId, Recipe>,
    /// Planned sowings.
    pub planned: BTreeMap<PlannedId, PlannedSowing>,
    /// Sowings in trays.
    pub sowings: BTreeMap<SowingId, Sowing>,
    /// Plantings in beds.
    pub plantings: BTreeMap<PlantingId, Planting>,
    /// Temperatures noted, by day.
    pub temperatures: BTreeMap<NaiveDate, Vec<Measured>>,
    /// Frosts noted.
    pub frosts: Vec<Frost>,
    /// Lows that were forecast.
    pub lows: Vec<LowExpected>,
    /// Stems bundled.
    pub bunched: Vec<StemsMoved>,
    /// Stems thrown away.
    pub discarded: Vec<StemsMoved>,
    /// Stems handed over.
    pub sold: Vec<StemsMoved>,
    /// Stems bought in.
    pub bought: Vec<StemsMoved>,
    /// Stems put aside for orders.
    pub allocated: Vec<StemsMoved>,
    /// Cut stems that stood in the warm.
    pub warmed: Vec<Warmed>,
    /// Days on which cut stems of a variety were rested in water.
    pub conditioned: BTreeMap<VarietyId, Vec<NaiveDate>>,
    /// Crop years.
    pub seasons: BTreeMap<SeasonId, CropYear>,
    /// Notes.
    pub notes: Vec<Noted>,
    /// What does not add up.
    pub problems: Vec<Problem>,
    /// Entries of kinds this version does not know.
    pub unknown: usize,
    /// Live events, after corrections.
    #[serde(skip)]
    pub events: BTreeMap<EntryId, Event>,
}

impl Season {
    /// The site that is worked with: the first that is not retired.
    pub fn place(&self) -> Option<&Place> {
        self.places.values().find(|p| !p.retired)
    }

    /// Spaces in use, in walking order.
    pub fn spaces_in_order(&self) -> Vec<&Space> {
        let mut spaces: Vec<&Space> = self.spaces.values().filter(|s| !s.retired).collect();
        spaces.sort_by(|a, b| {
            (a.walk, a.what, &a.name, &a.id).cmp(&(b.walk, b.what, &b.name, &b.id))
        });
        spaces
    }

    /// Beds in use of a space, in walking order.
    pub fn beds_of(&self, space: &SpaceId) -> Vec<&Bed> {
        let mut beds: Vec<&Bed> = self
            .beds
            .values()
            .filter(|b| !b.retired && b.space.as_ref() == Some(space))
            .collect();
        beds.sort_by(|a, b| (a.walk, &a.name, &a.id).cmp(&(b.walk, &b.name, &b.id)));
        beds
    }

    /// Varieties in use, by name.
    pub fn varieties_in_order(&self) -> Vec<&Variety> {
        let mut varieties: Vec<&Variety> = self.varieties.values().filter(|v| !v.retired).collect();
        varieties.sort_by(|a, b| (&a.name, &a.id).cmp(&(&b.name, &b.id)));
        varieties
    }

    /// Canonical JSON of the season: equal for equal entries, whatever the order in which they came.
    pub fn canonical(&self) -> Result<String, serde_json::Error> {
        canonical::to_string(self)
    }
}
