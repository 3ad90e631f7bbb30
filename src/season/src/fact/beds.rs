//! What happens to plants in beds, and to sowings and plantings alike.

use chrono::NaiveDate;
use fact_macro::fact;

use super::words::{BloomStage, Grade, WaterRegime};
use crate::ids::*;
use crate::limits::*;

/// Seed sown into a bed. The entry's id is the planting's.
#[fact(kind = "direct_sown")]
pub struct DirectSownFact {
    /// What was sown.
    #[ask("field.variety", fixed)]
    pub variety: VarietyId,
    /// Into which bed.
    #[ask("field.bed")]
    pub bed: BedId,
    /// Plants expected to be left after thinning.
    #[limit(PLANTS)]
    #[ask("field.plants_thinned")]
    pub plants: u32,
    /// Distance between plants, cm.
    #[limit(SPACINGS_CM)]
    #[unit(Spacing)]
    #[ask("field.spacing")]
    pub spacing_cm: Option<f64>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
    /// From which lot.
    #[ask("field.lot")]
    pub lot: Option<LotId>,
    /// Which planned sowing this is.
    pub planned: Option<PlannedId>,
}

/// Plants set into a bed. The entry's id is the planting's.
#[fact(kind = "transplanted")]
pub struct TransplantedFact {
    /// Which sowing they come from.
    pub sowing: SowingId,
    /// Into which bed.
    #[ask("field.bed")]
    pub bed: BedId,
    /// How many plants.
    #[limit(PLANTS)]
    #[ask("field.plants")]
    pub plants: u32,
    /// Distance between plants, cm.
    #[limit(SPACINGS_CM)]
    #[unit(Spacing)]
    #[ask("field.spacing")]
    pub spacing_cm: Option<f64>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Growing tips taken out.
#[fact(kind = "pinched")]
pub struct PinchedFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Support mesh put up.
#[fact(kind = "netted")]
pub struct NettedFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Watered, or how wet it is to be kept.
#[fact(kind = "watered", one_of(sowing, planting))]
pub struct WateredFact {
    /// Which sowing.
    pub sowing: Option<SowingId>,
    /// Which planting.
    pub planting: Option<PlantingId>,
    /// How wet it is kept from now on.
    #[ask("field.regime")]
    pub regime: Option<WaterRegime>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Fed.
#[fact(kind = "fed", one_of(sowing, planting))]
pub struct FedFact {
    /// Which sowing.
    pub sowing: Option<SowingId>,
    /// Which planting.
    pub planting: Option<PlantingId>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// A bud or the first colour seen.
#[fact(kind = "seen")]
pub struct SeenFact {
    /// On which planting.
    pub planting: PlantingId,
    /// What.
    #[ask("field.stage")]
    pub stage: BloomStage,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Stems cut from a planting.
#[fact(kind = "cut")]
pub struct CutFact {
    /// Which planting.
    pub planting: PlantingId,
    /// Saleable stems.
    #[limit(STEMS_FOUND)]
    #[ask("field.stems", pad)]
    pub stems: u32,
    /// Stems cut but not saleable.
    #[limit(STEMS_FOUND)]
    #[missing(0)]
    #[ask("field.culls")]
    pub culls: u32,
    /// Their grade.
    #[ask("field.grade")]
    pub grade: Option<Grade>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Covered against the night's cold.
#[fact(kind = "covered", one_of(sowing, planting))]
pub struct CoveredFact {
    /// Which sowing.
    pub sowing: Option<SowingId>,
    /// Which planting.
    pub planting: Option<PlantingId>,
    /// On which evening.
    #[ask("field.evening")]
    pub date: NaiveDate,
}

/// Side buds taken out.
#[fact(kind = "disbudded")]
pub struct DisbuddedFact {
    /// Which planting.
    pub planting: PlantingId,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// A sowing or planting ended: the rest of a tray given up, a bed pulled.
#[fact(kind = "finished", one_of(sowing, planting))]
pub struct FinishedFact {
    /// Which sowing.
    pub sowing: Option<SowingId>,
    /// Which planting.
    pub planting: Option<PlantingId>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}
