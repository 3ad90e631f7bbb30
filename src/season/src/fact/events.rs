//! Facts that happened on a day, and corrections of them.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::definitions::Tray;
use super::words::{BloomStage, Grade, LossCause, WaterRegime};
use crate::ids::*;
use crate::money::Money;

fn one() -> u32 {
    1
}

fn is_one(n: &u32) -> bool {
    *n == 1
}

fn is_false(b: &bool) -> bool {
    !*b
}

fn is_zero(n: &u32) -> bool {
    *n == 0
}

/// Seed sown into trays. The entry's id is the sowing's.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SownFact {
    /// What was sown.
    pub variety: VarietyId,
    /// From which lot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<LotId>,
    /// When.
    pub date: NaiveDate,
    /// Where the trays stand: mat, shelf or hardening spot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// Cells sown, all trays together.
    pub cells: u32,
    /// Seeds in each cell.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub seeds_per_cell: u32,
    /// The tray's grid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tray: Option<Tray>,
    /// Covered by a dome.
    #[serde(default, skip_serializing_if = "is_false")]
    pub dome: bool,
    /// Which planned sowing this is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planned: Option<PlannedId>,
    /// Where it is to be planted: a tunnel or outdoor space.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub for_space: Option<SpaceId>,
    /// What stands on the tray's label.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Sown again to make up for what another sowing lacks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again_for: Option<SowingId>,
    /// The number its trays are called by, 1 to 9999.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<u32>,
}

/// Seed sown into a bed. The entry's id is the planting's.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DirectSownFact {
    /// What was sown.
    pub variety: VarietyId,
    /// From which lot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<LotId>,
    /// When.
    pub date: NaiveDate,
    /// Into which bed.
    pub bed: BedId,
    /// Plants expected to stand after thinning.
    pub plants: u32,
    /// Distance between plants, cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacing_cm: Option<f64>,
    /// Which planned sowing this is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planned: Option<PlannedId>,
}

/// Seedlings counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CountedFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// Cells with a seedling up.
    pub up: u32,
    /// Of how many cells looked at; all that are left when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<u32>,
    /// Cells with two seedlings or more, of those that are up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doubles: Option<u32>,
    /// Judged by eye and not counted: "about three quarters".
    #[serde(default, skip_serializing_if = "is_false")]
    pub about: bool,
    /// What was seen in each cell sown, as [`crate::cells`] writes it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub map: Option<String>,
}

/// A sowing's trays moved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MovedFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// Where to.
    pub space: SpaceId,
}

/// The dome lifted for good.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DomeLiftedFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
}

/// Bottom heat ended.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MatOffFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// Where the trays went.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
}

/// Cells (of a sowing) or plants (of a planting) lost. Exactly one of the two is named.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LostFact {
    /// Which sowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sowing: Option<SowingId>,
    /// Which planting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planting: Option<PlantingId>,
    /// When.
    pub date: NaiveDate,
    /// How many.
    pub number: u32,
    /// How many of the cells had a seedling up; all of them when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up: Option<u32>,
    /// Which whole tray of the sowing it was, counted from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tray: Option<u32>,
    /// Why.
    pub cause: LossCause,
}

/// Doubles pricked out into empty cells.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PrickedOutFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// Cells that gained a plant.
    pub cells: u32,
}

/// Moved to a bigger cell or pot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PottedOnFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// The new grid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tray: Option<Tray>,
}

/// Hardening off begun.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HardeningFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// Where.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
}

/// Plants set into a bed. The entry's id is the planting's.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TransplantedFact {
    /// Which sowing they come from.
    pub sowing: SowingId,
    /// When.
    pub date: NaiveDate,
    /// Into which bed.
    pub bed: BedId,
    /// How many plants.
    pub plants: u32,
    /// Distance between plants, cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacing_cm: Option<f64>,
}

/// Growing tips taken out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PinchedFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    pub date: NaiveDate,
}

/// Support mesh put up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NettedFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    pub date: NaiveDate,
}

/// Watered, or how it is to be kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WateredFact {
    /// Which sowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sowing: Option<SowingId>,
    /// Which planting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planting: Option<PlantingId>,
    /// When.
    pub date: NaiveDate,
    /// How wet it is kept from now on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub regime: Option<WaterRegime>,
}

/// Fed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FedFact {
    /// Which sowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sowing: Option<SowingId>,
    /// Which planting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planting: Option<PlantingId>,
    /// When.
    pub date: NaiveDate,
}

/// A bud or the first colour seen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeenFact {
    /// On which planting.
    pub planting: PlantingId,
    /// When.
    pub date: NaiveDate,
    /// What.
    pub stage: BloomStage,
}

/// A day's lowest and highest temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TemperatureFact {
    /// Where; outdoors when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// Which day.
    pub date: NaiveDate,
    /// Lowest, C.
    pub min_c: f64,
    /// Highest, C.
    pub max_c: f64,
    /// Mean of the day's readings, C, where there were many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mean_c: Option<f64>,
}

/// A frost.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrostFact {
    /// Where; outdoors when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// Which night's morning.
    pub date: NaiveDate,
    /// Lowest, C, if read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub min_c: Option<f64>,
}

/// Stems cut from a planting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CutFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    pub date: NaiveDate,
    /// Saleable stems.
    pub stems: u32,
    /// Their grade.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grade: Option<Grade>,
    /// Stems cut but not saleable.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub culls: u32,
}

/// Stems bundled in the cooler.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BunchedFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// When.
    pub date: NaiveDate,
    /// Bunches made.
    pub bunches: u32,
    /// Stems in each.
    pub stems_each: u32,
}

/// Stems thrown away.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DiscardedFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// When.
    pub date: NaiveDate,
    /// How many.
    pub stems: u32,
}

/// Stems handed over.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SoldFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// When.
    pub date: NaiveDate,
    /// How many.
    pub stems: u32,
    /// For which order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<OrderId>,
    /// For which delivery of a standing order: the day it was due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
    /// What they brought, where no order says it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub income: Option<Money>,
}

/// Stems bought from somebody else.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BoughtInFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// When they came.
    pub date: NaiveDate,
    /// How many.
    pub stems: u32,
    /// What they cost in all.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cost: Option<Money>,
}

/// Stems in the cooler put aside for an order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AllocatedFact {
    /// For which order.
    pub order: OrderId,
    /// For which delivery of a standing order: the day it is due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
    /// Of which variety.
    pub variety: VarietyId,
    /// When.
    pub date: NaiveDate,
    /// How many.
    pub stems: u32,
}

/// A delivery of a standing order closed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HandedOverFact {
    /// Which order.
    pub order: OrderId,
    /// Which delivery: the day it was due.
    pub due: NaiveDate,
    /// When.
    pub date: NaiveDate,
    /// Not wanted this time.
    #[serde(default, skip_serializing_if = "is_false")]
    pub skipped: bool,
}

/// Cut stems stood in the warm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WarmedFact {
    /// Of which variety; all that stood in the cooler when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variety: Option<VarietyId>,
    /// Cut on which day; all of them when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut: Option<NaiveDate>,
    /// When.
    pub date: NaiveDate,
    /// For how many hours.
    pub hours: f64,
    /// How warm, C.
    pub temp_c: f64,
}

/// Cut stems rested in water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ConditionedFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// When.
    pub date: NaiveDate,
}

/// A low that is forecast for the night to come.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LowExpectedFact {
    /// Where; outdoors when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<SpaceId>,
    /// The evening before that night.
    pub date: NaiveDate,
    /// Lowest, C.
    pub min_c: f64,
}

/// Covered against the night's cold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CoveredFact {
    /// Which sowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sowing: Option<SowingId>,
    /// Which planting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planting: Option<PlantingId>,
    /// On which evening.
    pub date: NaiveDate,
}

/// Side buds taken out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DisbuddedFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    pub date: NaiveDate,
}

/// A sowing or planting ended: the rest of a tray given up, a bed pulled.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FinishedFact {
    /// Which sowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sowing: Option<SowingId>,
    /// Which planting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planting: Option<PlantingId>,
    /// When.
    pub date: NaiveDate,
}

/// A note.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NoteFact {
    /// What it is about: the id of a sowing, planting, bed, space or variety.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<String>,
    /// When.
    pub date: NaiveDate,
    /// What it says.
    pub text: String,
}

/// Fields of an earlier event corrected. Counts only if it is later than what it corrects.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RevisedFact {
    /// Which entry.
    pub entry: EntryId,
    /// The fields' new values; `null` takes a field away.
    pub set: serde_json::Map<String, serde_json::Value>,
}

/// An earlier entry taken back. Taking back a `voided` entry brings the first one to life again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VoidedFact {
    /// Which entry.
    pub entry: EntryId,
}
