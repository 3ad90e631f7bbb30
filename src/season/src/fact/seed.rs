//! What the grower sows: varieties with their figures, and seed lots.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use fact_macro::fact;

use super::words::{Keeping, Role};
use crate::ids::*;
use crate::limits::*;

/// Figures by their names in the crop reference; `null` goes back to the reference.
pub type Figures = BTreeMap<String, Option<f64>>;

/// A figure that records gave, with what it rests on.
#[fact(part = "learned")]
#[derive(Copy)]
pub struct Learned {
    /// The figure, in the reference's unit.
    #[limit(FIGURES)]
    pub value: f64,
    /// The true figure is below it with a chance of 10 %.
    #[limit(FIGURES)]
    pub low: f64,
    /// The true figure is above it with a chance of 10 %.
    #[limit(FIGURES)]
    pub high: f64,
    /// Plantings or sowings behind it.
    #[limit(PLANTS_FOUND)]
    pub plantings: u32,
    /// Seasons behind it.
    #[limit(SEASONS)]
    pub seasons: u32,
    /// The last day of the records behind it: they are not to count again.
    pub until: NaiveDate,
}

/// Learned figures by their names in the crop reference; `null` takes one back.
pub type LearnedFigures = BTreeMap<String, Option<Learned>>;

/// A crop's figures as this grower sets them.
#[fact(kind = "crop")]
pub struct CropFact {
    /// The crop's id in the reference.
    #[limit(ANY_ID)]
    pub of: String,
    /// Figures set.
    #[limit(FIGURES)]
    #[missing(Figures::new())]
    pub figures: Figures,
}

/// What the grower sows.
#[fact(kind = "variety", state = Variety)]
pub struct VarietyFact {
    /// Which variety.
    pub of: VarietyId,
    /// The crop's id in the reference.
    #[limit(ANY_ID)]
    #[plain]
    pub crop: Option<String>,
    /// Name.
    #[limit(NAME)]
    #[plain]
    pub name: Option<String>,
    /// Colour, in the grower's words.
    #[limit(SHORT_TEXT)]
    #[plain]
    pub colour: Option<String>,
    /// Bloom group, 1 to 4; 0 for none.
    #[limit(BLOOM_GROUPS)]
    #[merge(take_group)]
    pub group: Option<u8>,
    /// Role in a bouquet, where it differs from the crop's first.
    pub role: Option<Role>,
    /// Culture figures that differ from the crop's.
    #[limit(FIGURES)]
    #[missing(Figures::new())]
    pub figures: Figures,
    /// Figures that this grower's own records gave, accepted from a review; `null` takes one back. They rank above the reference and
    /// below what the grower set.
    #[missing(LearnedFigures::new())]
    pub learned: LearnedFigures,
    /// Seeds in a packet as it is sold.
    #[limit(SEEDS_PER_PACKET)]
    pub packet_seeds: Option<u32>,
    /// Price of a packet in the grower's own money.
    #[limit(PACKET_PRICES)]
    pub packet_price: Option<f64>,
    /// No longer in use.
    #[plain]
    pub retired: Option<bool>,
}

/// 0 takes the group away.
fn take_group(variety: &mut Variety, fact: &VarietyFact) {
    if let Some(group) = fact.group {
        variety.group = (group > 0).then_some(group);
    }
}

/// One bought batch of one variety.
#[fact(kind = "seed_lot", state = SeedLot)]
pub struct SeedLotFact {
    /// Which lot.
    pub of: LotId,
    /// Its variety.
    pub variety: Option<VarietyId>,
    /// What tells it apart.
    #[limit(SHORT_TEXT)]
    #[plain]
    pub name: Option<String>,
    /// Packed-for year.
    #[limit(YEARS)]
    pub year: Option<i32>,
    /// Seeds in hand when it was entered.
    #[limit(SEEDS)]
    pub seeds: Option<u32>,
    /// Germination on the packet, of one.
    #[limit(SHARES)]
    pub germination: Option<f64>,
    /// How it is kept: in a room, or dry and airtight in a fridge or a freezer.
    pub kept: Option<Keeping>,
    /// No longer in use.
    #[plain]
    pub retired: Option<bool>,
}
