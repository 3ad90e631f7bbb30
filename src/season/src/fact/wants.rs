//! What is wanted and planned: targets, orders, recipes, crop years and planned sowings.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use fact_macro::fact;
use serde::Serialize;

use super::words::Role;
use crate::ids::*;
use crate::limits::*;
use crate::money::Money;

/// What stems are wanted: the narrower fields win.
#[fact(part = "wanted")]
#[derive(Default, Eq)]
pub struct Wanted {
    /// This variety.
    pub variety: Option<VarietyId>,
    /// Any variety of this crop.
    #[limit(ANY_ID)]
    pub crop: Option<String>,
    /// Any variety with this role.
    pub role: Option<Role>,
    /// Of this colour.
    #[limit(SHORT_TEXT)]
    pub colour: Option<String>,
}

/// The chance of having enough that is planned for when the grower set none.
pub const CHANCE_USUAL: f64 = 0.8;

/// Stems wanted in each of a span of weeks.
#[fact(kind = "target", state = Target)]
pub struct TargetFact {
    /// Which target.
    pub of: TargetId,
    /// What is wanted.
    #[plain]
    pub wanted: Option<Wanted>,
    /// Where it is to be grown, if that matters: a tunnel or outdoor space.
    pub space: Option<SpaceId>,
    /// First week.
    pub from: Option<IsoWeek>,
    /// Last week.
    pub to: Option<IsoWeek>,
    /// Stems in each week.
    #[limit(STEMS)]
    #[plain]
    pub stems: Option<u32>,
    /// The chance wanted of having at least that many plants.
    #[limit(CHANCES)]
    #[plain(CHANCE_USUAL)]
    pub chance: Option<f64>,
    /// No longer wanted.
    #[plain]
    pub retired: Option<bool>,
}

/// Stems of one kind in an order or a recipe.
#[fact(part = "line")]
#[derive(Eq)]
pub struct OrderLine {
    /// What is wanted.
    pub wanted: Wanted,
    /// How many stems.
    #[limit(STEMS)]
    pub stems: u32,
    /// The price of as many stems as the next field gives.
    pub price: Option<Money>,
    /// How many stems the price is for; one when absent.
    #[limit(STEMS_PER_PRICE)]
    pub per: Option<u32>,
}

/// Pieces of one recipe in an order.
#[fact(part = "pieces")]
#[derive(Eq)]
pub struct OrderPieces {
    /// Which recipe.
    pub recipe: RecipeId,
    /// How many pieces.
    #[limit(PIECES)]
    pub pieces: u32,
    /// The price of one.
    pub price: Option<Money>,
}

/// How a delivery of a standing order ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Closed {
    /// Handed over.
    HandedOver,
    /// Not wanted that time.
    Skipped,
}

/// Stems or pieces wanted on a date by somebody.
#[fact(
    kind = "order",
    state = Order,
    also(closed: BTreeMap<NaiveDate, Closed>, "Deliveries of a standing order that are closed, by the day they were due.")
)]
pub struct OrderFact {
    /// Which order.
    pub of: OrderId,
    /// For whom.
    #[limit(SHORT_TEXT)]
    #[plain]
    pub who: Option<String>,
    /// For when.
    pub date: Option<NaiveDate>,
    /// Stems.
    #[plain]
    pub lines: Option<Vec<OrderLine>>,
    /// Pieces.
    #[plain]
    pub pieces: Option<Vec<OrderPieces>>,
    /// Days from one delivery of a standing order to the next; 0 for an order wanted once.
    #[limit(EVERY_DAYS)]
    #[plain]
    pub every_days: Option<u32>,
    /// The last day on which a standing order may fall.
    pub until: Option<NaiveDate>,
    /// Handed over.
    #[plain]
    pub done: Option<bool>,
    /// Called off.
    #[plain]
    pub retired: Option<bool>,
}

/// Stems by role per piece.
#[fact(kind = "recipe", state = Recipe)]
pub struct RecipeFact {
    /// Which recipe.
    pub of: RecipeId,
    /// Name.
    #[limit(SHORT_TEXT)]
    #[plain]
    pub name: Option<String>,
    /// Stems per piece.
    #[plain]
    pub lines: Option<Vec<OrderLine>>,
    /// No longer in use.
    #[plain]
    pub retired: Option<bool>,
}

/// A crop year: from its first day on what is sown, planted and wanted belongs to it.
#[fact(kind = "season", state = CropYear)]
pub struct SeasonFact {
    /// Which season.
    pub of: SeasonId,
    /// What it is called.
    #[limit(SHORT_TEXT)]
    #[plain]
    pub name: Option<String>,
    /// Its first day.
    pub from: Option<NaiveDate>,
    /// Not begun after all.
    #[plain]
    pub retired: Option<bool>,
}

/// A sowing accepted from the plan.
#[fact(
    kind = "planned",
    state = PlannedSowing,
    also(sown_as: Option<EntryId>, "The sowing or planting that carried it out.")
)]
pub struct PlannedFact {
    /// Which planned sowing.
    pub of: PlannedId,
    /// What to sow.
    pub variety: Option<VarietyId>,
    /// Which target it serves.
    pub target: Option<TargetId>,
    /// When to sow.
    pub sow: Option<NaiveDate>,
    /// Where it will be planted: a tunnel or outdoor space.
    pub space: Option<SpaceId>,
    /// The bed chosen for it. A space without a bed leaves the bed to the plan again.
    #[merge(take_bed)]
    pub bed: Option<BedId>,
    /// Cells to sow.
    #[limit(CELLS)]
    #[plain]
    pub cells: Option<u32>,
    /// Plants it is to give.
    #[limit(PLANTS_FOUND)]
    #[plain]
    pub plants: Option<u32>,
    /// Kept as it is when the rest is planned again.
    #[plain]
    pub pinned: Option<bool>,
    /// Dropped from the plan.
    #[plain]
    pub retired: Option<bool>,
}

fn take_bed(planned: &mut PlannedSowing, fact: &PlannedFact) {
    if fact.space.is_some() || fact.bed.is_some() {
        planned.bed.clone_from(&fact.bed);
    }
}
