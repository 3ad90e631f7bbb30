//! Varieties: what they gave for the room they took, what paid most first.

use std::collections::BTreeMap;

use super::{Look, PlantingRow};
use crate::ids::*;

/// One variety looked back on.
#[derive(Debug, Clone, PartialEq)]
pub struct VarietyRow {
    /// Which.
    pub variety: VarietyId,
    /// Plantings.
    pub plantings: u32,
    /// Plants set.
    pub plants: u32,
    /// Saleable stems cut.
    pub cut: u32,
    /// Culls.
    pub culls: u32,
    /// Stems handed over.
    pub sold: u32,
    /// Stems thrown away.
    pub discarded: u32,
    /// Metres of bed; `None` where a bed's width is not said.
    pub metres: Option<f64>,
    /// Metres of bed times the weeks for which they were taken.
    pub bed_weeks: Option<f64>,
    /// Money for its stems, where the price is known.
    pub returns: Option<f64>,
}

impl VarietyRow {
    /// Saleable stems a plant set.
    pub fn per_plant(&self) -> Option<f64> {
        (self.plants > 0).then(|| f64::from(self.cut) / f64::from(self.plants))
    }

    /// Saleable stems a metre of bed.
    pub fn per_metre(&self) -> Option<f64> {
        per(f64::from(self.cut), self.metres?)
    }

    /// Saleable stems a metre of bed and week.
    pub fn per_bed_week(&self) -> Option<f64> {
        per(f64::from(self.cut), self.bed_weeks?)
    }

    /// Money for a metre of bed and week.
    pub fn returns_per_bed_week(&self) -> Option<f64> {
        per(self.returns?, self.bed_weeks?)
    }

    /// Share of the stems cut that were culls.
    pub fn cull_share(&self) -> Option<f64> {
        let culls = f64::from(self.culls);
        per(culls, culls + f64::from(self.cut))
    }

    /// Share of the stems that left the cooler that was handed over.
    pub fn sold_share(&self) -> Option<f64> {
        let sold = f64::from(self.sold);
        per(sold, sold + f64::from(self.discarded))
    }
}

fn per(what: f64, of: f64) -> Option<f64> {
    (of > 0.0).then(|| what / of)
}

/// Sums by variety: first what returns most for a metre and week, then what has no price by its stems for a metre and week.
pub(super) fn rows(look: &Look<'_, '_>, plantings: &[PlantingRow]) -> Vec<VarietyRow> {
    let mut rows = BTreeMap::<VarietyId, VarietyRow>::new();
    for planting in plantings {
        let row = rows
            .entry(planting.variety.clone())
            .or_insert_with(|| VarietyRow {
                variety: planting.variety.clone(),
                plantings: 0,
                plants: 0,
                cut: 0,
                culls: 0,
                sold: 0,
                discarded: 0,
                metres: Some(0.0),
                bed_weeks: Some(0.0),
                returns: Some(0.0),
            });
        row.plantings += 1;
        row.plants = row.plants.saturating_add(planting.plants);
        row.cut = row.cut.saturating_add(planting.cut);
        row.culls = row.culls.saturating_add(planting.culls);
        let plus = |sum: Option<f64>, more: Option<f64>| Some(sum? + more?);
        row.metres = plus(row.metres, planting.metres);
        let taken = planting.metres.map(|metres| metres * planting.bed_weeks);
        row.bed_weeks = plus(row.bed_weeks, taken);
        row.returns = plus(row.returns, planting.returns);
    }
    let season = look.almanac.season();
    let moved = |moves: &[crate::state::StemsMoved], variety: &VarietyId| {
        moves
            .iter()
            .filter(|stems| stems.variety == *variety && look.holds(stems.date))
            .fold(0u32, |sum, stems| sum.saturating_add(stems.stems))
    };
    let mut rows: Vec<VarietyRow> = rows
        .into_values()
        .map(|row| VarietyRow {
            sold: moved(&season.sold, &row.variety),
            discarded: moved(&season.discarded, &row.variety),
            ..row
        })
        .collect();
    let paid = |row: &VarietyRow| {
        let least = f64::NEG_INFINITY;
        (
            row.returns_per_bed_week().unwrap_or(least),
            row.per_bed_week().unwrap_or(least),
        )
    };
    rows.sort_by(|a, b| {
        let (a_paid, b_paid) = (paid(a), paid(b));
        b_paid
            .0
            .total_cmp(&a_paid.0)
            .then(b_paid.1.total_cmp(&a_paid.1))
            .then_with(|| a.variety.cmp(&b.variety))
    });
    rows
}
