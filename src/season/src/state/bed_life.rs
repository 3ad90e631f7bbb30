//! A planting's life in a bed.

use chrono::NaiveDate;
use serde::Serialize;

use super::tray_life::Loss;
use crate::fact::Grade;
use crate::ids::*;

/// Stems cut on a day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutRecord {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub date: NaiveDate,
    /// Saleable stems.
    pub stems: u32,
    /// Not saleable.
    pub culls: u32,
    /// Their grade.
    pub grade: Option<Grade>,
}

/// Plants in a bed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Planting {
    /// Id.
    pub id: PlantingId,
    /// The sowing that the plants came from; `None` when sown into the bed.
    pub sowing: Option<SowingId>,
    /// What they are.
    pub variety: VarietyId,
    /// Where.
    pub bed: BedId,
    /// Planted, or sown into the bed.
    pub date: NaiveDate,
    /// Plants set.
    pub plants: u32,
    /// Distance between plants, cm.
    pub spacing_cm: Option<f64>,
    /// Plants lost since.
    pub lost: u32,
    /// The same one by one, with their causes.
    pub losses: Vec<Loss>,
    /// Which planned sowing it carried out, when sown into the bed.
    pub planned: Option<PlannedId>,
    /// Growing tips taken out.
    pub pinched: Option<NaiveDate>,
    /// Support mesh put up.
    pub netted: Option<NaiveDate>,
    /// First bud seen.
    pub visible_bud: Option<NaiveDate>,
    /// First colour seen.
    pub first_colour: Option<NaiveDate>,
    /// Side buds last taken out.
    pub disbudded: Option<NaiveDate>,
    /// Evenings on which it was covered.
    pub covered: Vec<NaiveDate>,
    /// Cuts, by date.
    pub cuts: Vec<CutRecord>,
    /// Last watered.
    pub watered: Option<NaiveDate>,
    /// Last fed.
    pub fed: Option<NaiveDate>,
    /// Bed cleared.
    pub finished: Option<NaiveDate>,
    /// Its events in the order in which they were recorded.
    pub history: Vec<EntryId>,
}

impl Planting {
    /// Plants that are left.
    pub fn standing(&self) -> u32 {
        self.plants.saturating_sub(self.lost)
    }

    /// Saleable stems cut so far.
    pub fn stems_cut(&self) -> u32 {
        self.cuts
            .iter()
            .fold(0, |sum, cut| sum.saturating_add(cut.stems))
    }

    /// The day of the first cut.
    pub fn first_cut(&self) -> Option<NaiveDate> {
        self.cuts.first().map(|cut| cut.date)
    }
}
