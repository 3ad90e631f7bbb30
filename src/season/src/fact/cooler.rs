//! What becomes of cut stems.

use chrono::NaiveDate;
use fact_macro::fact;

use crate::ids::*;
use crate::limits::*;
use crate::money::Money;

/// Stems bundled in the cooler.
#[fact(kind = "bunched")]
pub struct BunchedFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// Bunches made.
    #[limit(STEMS)]
    #[ask("field.bunches")]
    pub bunches: u32,
    /// Stems in each.
    #[limit(STEMS_PER_BUNCH)]
    #[ask("field.stems_each")]
    pub stems_each: u32,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Stems thrown away.
#[fact(kind = "discarded")]
pub struct DiscardedFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// How many.
    #[limit(STEMS)]
    #[ask("field.stems_gone")]
    pub stems: u32,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Stems handed over.
#[fact(kind = "sold")]
pub struct SoldFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// How many.
    #[limit(STEMS)]
    #[ask("field.stems_sold")]
    pub stems: u32,
    /// For which order.
    #[ask("field.order")]
    pub order: Option<OrderId>,
    /// For which delivery of a standing order: the day it was due.
    pub due: Option<NaiveDate>,
    /// What they brought, where no order gives a price.
    #[ask("field.income")]
    pub income: Option<Money>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Stems bought from somebody else.
#[fact(kind = "bought_in")]
pub struct BoughtInFact {
    /// Of which variety.
    #[ask("field.variety", fixed)]
    pub variety: VarietyId,
    /// How many.
    #[limit(STEMS)]
    #[ask("field.stems_bought", pad)]
    pub stems: u32,
    /// What they cost in all.
    #[ask("field.cost")]
    pub cost: Option<Money>,
    /// When they came.
    #[ask("field.comes")]
    pub date: NaiveDate,
}

/// Stems in the cooler put aside for an order.
#[fact(kind = "allocated")]
pub struct AllocatedFact {
    /// For which order.
    pub order: OrderId,
    /// For which delivery of a standing order: the day it is due.
    pub due: Option<NaiveDate>,
    /// Of which variety.
    pub variety: VarietyId,
    /// How many.
    #[limit(STEMS)]
    #[ask("field.stems_aside")]
    pub stems: u32,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// A delivery of a standing order closed.
#[fact(kind = "handed_over")]
pub struct HandedOverFact {
    /// Which order.
    pub order: OrderId,
    /// Which delivery: the day it was due.
    pub due: NaiveDate,
    /// Not wanted this time.
    #[missing(false)]
    #[ask("field.skipped")]
    pub skipped: bool,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Cut stems left in the warm.
#[fact(kind = "warmed")]
pub struct WarmedFact {
    /// Of which variety; all in the cooler when absent.
    pub variety: Option<VarietyId>,
    /// Cut on which day; all of them when absent.
    pub cut: Option<NaiveDate>,
    /// For how many hours.
    #[limit(HOURS_WARM)]
    #[ask("field.hours")]
    pub hours: f64,
    /// How warm, degrees C.
    #[limit(WARM_C)]
    #[unit(Temperature)]
    #[ask("field.how_warm")]
    pub temp_c: f64,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Cut stems rested in water.
#[fact(kind = "conditioned")]
pub struct ConditionedFact {
    /// Of which variety.
    pub variety: VarietyId,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}
