//! Facts that describe something lasting: each field is set by the last entry that names it.
//!
//! `of` says what is described; the first entry with a new `of` makes it. A field left out stays as it was.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::words::{CellKind, Keeping, Role, SpaceKind};
use crate::ids::*;
use crate::money::Money;
use crate::month_day::MonthDay;
use crate::week;

/// The name of a device.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DeviceFact {
    /// Which device.
    pub of: DeviceId,
    /// What its owner calls it.
    pub name: String,
}

/// The site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlaceFact {
    /// Which place.
    pub of: PlaceId,
    /// Name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Latitude, degrees north, -90 to 90.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub latitude: Option<f64>,
    /// Mean daily minimum by month, C, January first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tmin: Option<[f64; 12]>,
    /// Mean daily maximum by month, C, January first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tmax: Option<[f64; 12]>,
    /// Average last spring frost (after it, 50 in 100).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_frost: Option<MonthDay>,
    /// The date after which a spring frost comes in 10 years of 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_frost_10: Option<MonthDay>,
    /// The date after which a spring frost comes in 90 years of 100: in 10 the last one is over by then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_frost_90: Option<MonthDay>,
    /// Average first autumn frost (before it, 50 in 100).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_frost: Option<MonthDay>,
    /// The date before which an autumn frost comes in 10 years of 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_frost_10: Option<MonthDay>,
    /// The date before which an autumn frost comes in 90 years of 100: in 10 none has come until then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_frost_90: Option<MonthDay>,
    /// What money is counted in, as it is written beside a sum: a code or a sign.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub currency: Option<String>,
    /// Days before an order's date by which missing stems have to be bought in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub buy_in_days: Option<u32>,
    /// Share of the forecast that may be promised, above 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub promise_share: Option<f64>,
    /// No longer in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// Somewhere plants sit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpaceFact {
    /// Which space.
    pub of: SpaceId,
    /// Name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<SpaceKind>,
    /// Room in trays (mat, shelf, hardening) or buckets (cooler).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<u32>,
    /// Place in the daily walk, smallest first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub walk: Option<i32>,
    /// Chance of frost accepted when planting here, 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frost_risk: Option<f64>,
    /// Light of its lamps at the leaves (PPFD), micromoles per square metre and second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ppfd: Option<f64>,
    /// Hours a day for which its lamps burn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lamp_hours: Option<f64>,
    /// No longer in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// A strip of growing ground.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BedFact {
    /// Which bed.
    pub of: BedId,
    /// The tunnel or outdoor space that holds it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// Name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Length, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
    /// Width, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_m: Option<f64>,
    /// Place in the daily walk, smallest first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub walk: Option<i32>,
    /// First day of the year on which it can be planted; later than the last where the time in use runs over New Year.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_use_from: Option<MonthDay>,
    /// Last day of the year on which something can stand in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_use_to: Option<MonthDay>,
    /// No longer in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// Figures by their names in the crop reference; `null` goes back to the reference.
pub type Figures = BTreeMap<String, Option<f64>>;

/// A figure that records gave, with how much it rests on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Learned {
    /// The figure, in the reference's unit.
    pub value: f64,
    /// Below it lies the true figure in 10 cases of 100.
    pub low: f64,
    /// Above it lies the true figure in 10 cases of 100.
    pub high: f64,
    /// Plantings or sowings behind it.
    pub plantings: u32,
    /// Seasons behind it.
    pub seasons: u32,
    /// The last day of the records behind it: they are not to count again.
    pub until: NaiveDate,
}

/// A crop's figures as this grower sets them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CropFact {
    /// The crop's id in the reference.
    pub of: String,
    /// Figures set.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// What the grower sows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VarietyFact {
    /// Which variety.
    pub of: VarietyId,
    /// The crop's id in the reference.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<String>,
    /// Name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Colour, in the grower's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
    /// Bloom group, 1 to 4; 0 for none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<u8>,
    /// Role in a bouquet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
    /// Culture figures that differ from the crop's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
    /// Figures that this grower's own records gave, accepted from a review; `null` takes one back.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub learned: BTreeMap<String, Option<Learned>>,
    /// Seeds in a packet as it is sold, 1 or more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub packet_seeds: Option<u32>,
    /// Price of a packet in the grower's own money, 0 or more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub packet_price: Option<f64>,
    /// No longer in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// One bought batch of one variety.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeedLotFact {
    /// Which lot.
    pub of: LotId,
    /// Its variety.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variety: Option<VarietyId>,
    /// What stands on the packet to tell it apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Packed-for year.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub year: Option<i32>,
    /// Seeds in hand when entered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seeds: Option<u32>,
    /// Germination on the packet, 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub germination: Option<f64>,
    /// How it is kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kept: Option<Keeping>,
    /// No longer in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// What stems are wanted: the narrower fields win.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wanted {
    /// This variety.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variety: Option<VarietyId>,
    /// Any variety of this crop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<String>,
    /// Any variety with this role.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
    /// Of this colour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
}

/// Stems wanted in each of a span of weeks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TargetFact {
    /// Which target.
    pub of: TargetId,
    /// What is wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted: Option<Wanted>,
    /// Where it is to be grown, if that matters: a tunnel or outdoor space.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// First week.
    #[serde(
        default,
        with = "week::option",
        skip_serializing_if = "Option::is_none"
    )]
    pub from: Option<IsoWeek>,
    /// Last week.
    #[serde(
        default,
        with = "week::option",
        skip_serializing_if = "Option::is_none"
    )]
    pub to: Option<IsoWeek>,
    /// Stems in each week.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stems: Option<u32>,
    /// The chance wanted of having at least that many plants, 0.5 to 0.99.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chance: Option<f64>,
    /// No longer wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// Stems of one kind in an order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderLine {
    /// What is wanted.
    pub wanted: Wanted,
    /// How many stems.
    pub stems: u32,
    /// What is asked for `per` stems.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
    /// How many stems the price is for; one when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub per: Option<u32>,
}

/// Pieces of one recipe in an order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderPieces {
    /// Which recipe.
    pub recipe: RecipeId,
    /// How many pieces.
    pub pieces: u32,
    /// What is asked for one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
}

/// Stems or pieces wanted on a date by somebody.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OrderFact {
    /// Which order.
    pub of: OrderId,
    /// For whom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub who: Option<String>,
    /// For when.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<NaiveDate>,
    /// Stems.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lines: Option<Vec<OrderLine>>,
    /// Pieces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pieces: Option<Vec<OrderPieces>>,
    /// A standing order: wanted again every so many days; 0 for once only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub every_days: Option<u32>,
    /// The last day on which a standing order may fall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<NaiveDate>,
    /// Handed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<bool>,
    /// Called off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// Stems by role per piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RecipeFact {
    /// Which recipe.
    pub of: RecipeId,
    /// Name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Stems per piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lines: Option<Vec<OrderLine>>,
    /// No longer in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// A tray's grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tray {
    /// What seed is sown into.
    pub what: CellKind,
    /// Rows of cells.
    pub rows: u32,
    /// Cells in a row.
    pub columns: u32,
}

impl Tray {
    /// Cells of one tray; at least 1.
    pub fn cells(self) -> u32 {
        self.rows.saturating_mul(self.columns).max(1)
    }
}

/// A sowing accepted from the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlannedFact {
    /// Which planned sowing.
    pub of: PlannedId,
    /// What to sow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variety: Option<VarietyId>,
    /// Which target it serves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub target: Option<TargetId>,
    /// When to sow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sow: Option<NaiveDate>,
    /// Where it will be planted: a tunnel or outdoor space.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// The bed that the grower chose for it. A space that is told without a bed leaves the bed to the plan again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bed: Option<BedId>,
    /// Cells to sow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cells: Option<u32>,
    /// Plants it is to give.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plants: Option<u32>,
    /// Kept as it is when the rest is planned again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pinned: Option<bool>,
    /// Dropped from the plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}

/// A crop year: from its first day on what is sown, planted and wanted belongs to it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeasonFact {
    /// Which season.
    pub of: SeasonId,
    /// What it is called.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Its first day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<NaiveDate>,
    /// Not begun after all.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retired: Option<bool>,
}
