//! Stems in the cooler by age: first in, first out.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::Season;

/// Stems of one variety cut on one day that are still there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// Of which variety.
    pub variety: VarietyId,
    /// The day they were cut.
    pub cut: NaiveDate,
    /// Stems left.
    pub stems: u32,
    /// Days since the cut.
    pub age_days: i64,
    /// Days that the crop keeps in the cooler, as far as known.
    pub keeps_days: Option<i64>,
}

impl Batch {
    /// Days of keeping that are left; below zero when past.
    pub fn days_left(&self) -> Option<i64> {
        self.keeps_days.map(|keeps| keeps - self.age_days)
    }
}

/// What is in stock as of a day, oldest first within a variety; and stems that left without having been cut.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stock {
    /// What is there, least keeping left first.
    pub batches: Vec<Batch>,
    /// Stems sold or thrown away beyond those cut, by variety: something was not recorded.
    pub unaccounted: BTreeMap<VarietyId, u32>,
}

/// Stems cut less those sold and thrown away up to a day.
pub fn stock(almanac: &Almanac<'_>, today: NaiveDate) -> Stock {
    let season = almanac.season();
    let mut by_variety = BTreeMap::<VarietyId, BTreeMap<NaiveDate, u32>>::new();
    for planting in season.plantings.values() {
        for cut in planting.cuts.iter().filter(|cut| cut.date <= today) {
            let stems = by_variety
                .entry(planting.variety.clone())
                .or_default()
                .entry(cut.date)
                .or_default();
            *stems = stems.saturating_add(cut.stems);
        }
    }
    let mut stock = Stock::default();
    for (variety, left) in left_by_variety(season, today) {
        let batches = by_variety.entry(variety.clone()).or_default();
        let mut to_take = left;
        for stems in batches.values_mut() {
            let taken = to_take.min(*stems);
            *stems -= taken;
            to_take -= taken;
        }
        if to_take > 0 {
            stock.unaccounted.insert(variety, to_take);
        }
    }
    for (variety, batches) in by_variety {
        let keeps_days = almanac
            .crop(&variety)
            .and_then(|crop| crop.typical("cold_storage_max_days"))
            .map(|days| days.round() as i64);
        for (cut, stems) in batches.into_iter().filter(|(_, stems)| *stems > 0) {
            stock.batches.push(Batch {
                variety: variety.clone(),
                cut,
                stems,
                age_days: (today - cut).num_days(),
                keeps_days,
            });
        }
    }
    stock.batches.sort_by_key(|batch| {
        (
            batch.days_left().unwrap_or(i64::MAX),
            batch.cut,
            batch.variety.clone(),
        )
    });
    stock
}

fn left_by_variety(season: &Season, today: NaiveDate) -> BTreeMap<VarietyId, u32> {
    let mut left = BTreeMap::<VarietyId, u32>::new();
    for gone in season
        .discarded
        .iter()
        .chain(&season.sold)
        .filter(|gone| gone.date <= today)
    {
        let sum = left.entry(gone.variety.clone()).or_default();
        *sum = sum.saturating_add(gone.stems);
    }
    left
}
