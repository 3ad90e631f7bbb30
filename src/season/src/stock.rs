//! Stems in the cooler by age: first in, first out.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::deliveries::deliveries;
use crate::forecast::Outlook;
use crate::ids::*;
use crate::keeping::{self, Keeping, Warm};
use crate::state::{Season, StemsMoved, Warmed};

/// Stems of one variety cut on one day that are still there.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// Of which variety.
    pub variety: VarietyId,
    /// The day they were cut, or bought in.
    pub cut: NaiveDate,
    /// Stems left.
    pub stems: u32,
    /// How far their keeping is used up.
    pub keeping: Keeping,
}

impl Batch {
    /// Whole days of keeping that are left; below zero when past.
    pub fn days_left(&self) -> Option<i64> {
        self.keeping.left.map(|left| left.floor() as i64)
    }

    /// Whether the stems are there on a day and still keep, at the store's temperature from today on; where it is not known how long
    /// they do, they do.
    pub fn keeps_until(&self, day: NaiveDate, today: NaiveDate) -> bool {
        let days = (day - today.max(self.cut)).num_days();
        days >= 0 && self.keeping.left.is_none_or(|left| left >= days as f64)
            || days < 0 && self.cut <= today && self.keeping.left.is_none_or(|left| left >= 0.0)
    }
}

/// What is in stock as of a day, oldest first within a variety; and stems that left without having been cut.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stock {
    /// What is there, least keeping left first.
    pub batches: Vec<Batch>,
    /// Stems sold or thrown away beyond those cut, by variety: something was not recorded.
    pub unaccounted: BTreeMap<VarietyId, u32>,
    /// Stems among them that are put aside for an open order or delivery, and not handed over yet.
    pub aside: BTreeMap<ForWhom, BTreeMap<VarietyId, u32>>,
}

/// An order, or one delivery of a standing order by the day it is due.
pub type ForWhom = (OrderId, Option<NaiveDate>);

impl Stock {
    /// Stems of a variety.
    pub fn there(&self, variety: &VarietyId) -> u32 {
        let own = self.batches.iter().filter(|b| b.variety == *variety);
        own.fold(0, |sum, batch| sum.saturating_add(batch.stems))
    }

    /// Stems of a variety that are put aside for nobody.
    pub fn free(&self, variety: &VarietyId) -> u32 {
        let aside = self.aside.values().filter_map(|of| of.get(variety));
        let aside = aside.fold(0u32, |sum, stems| sum.saturating_add(*stems));
        self.there(variety).saturating_sub(aside)
    }
}

/// The stock today.
pub fn stock_today(outlook: &Outlook<'_>) -> Arc<Stock> {
    outlook.keep(|outlook| stock(outlook.almanac(), outlook.today()))
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
    for bought in season.bought.iter().filter(|bought| bought.date <= today) {
        let stems = by_variety
            .entry(bought.variety.clone())
            .or_default()
            .entry(bought.date)
            .or_default();
        *stems = stems.saturating_add(bought.stems);
    }
    let mut stock = Stock {
        aside: aside(almanac, today),
        ..Stock::default()
    };
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
        for (cut, stems) in batches.into_iter().filter(|(_, stems)| *stems > 0) {
            let warm = warm_spells(season, &variety, cut);
            stock.batches.push(Batch {
                keeping: keeping::used(almanac, &variety, cut, today, &warm),
                variety: variety.clone(),
                cut,
                stems,
            });
        }
    }
    stock.batches.sort_by(|a, b| {
        let left = |batch: &Batch| batch.keeping.left.unwrap_or(f64::INFINITY);
        left(a)
            .total_cmp(&left(b))
            .then_with(|| (a.cut, &a.variety).cmp(&(b.cut, &b.variety)))
    });
    stock
}

/// The hours that stems of one cut stood in the warm.
fn warm_spells(season: &Season, variety: &VarietyId, cut: NaiveDate) -> Vec<Warm> {
    let theirs = |spell: &&Warmed| {
        spell.variety.as_ref().is_none_or(|of| of == variety)
            && spell.cut.is_none_or(|of| of == cut)
    };
    season
        .warmed
        .iter()
        .filter(theirs)
        .map(|spell| Warm {
            date: spell.date,
            hours: spell.hours,
            temp_c: spell.temp_c,
        })
        .collect()
}

/// What is put aside and still waits: orders that are closed, moved or long past give back what they did not take.
fn aside(almanac: &Almanac<'_>, today: NaiveDate) -> BTreeMap<ForWhom, BTreeMap<VarietyId, u32>> {
    let season = almanac.season();
    let open: BTreeSet<ForWhom> = deliveries(almanac, today)
        .into_iter()
        .map(|delivery| (delivery.order.id.clone(), delivery.due))
        .collect();
    let mut aside = BTreeMap::<ForWhom, BTreeMap<VarietyId, u32>>::new();
    let up_to_now = |moved: &&StemsMoved| moved.date <= today;
    for moved in season.allocated.iter().filter(up_to_now) {
        let Some(order) = &moved.order else { continue };
        let whom = (order.clone(), moved.due);
        if !open.contains(&whom) {
            continue;
        }
        let of = aside.entry(whom).or_default();
        let stems = of.entry(moved.variety.clone()).or_default();
        *stems = stems.saturating_add(moved.stems);
    }
    for moved in season.sold.iter().filter(up_to_now) {
        let Some(order) = &moved.order else { continue };
        if let Some(stems) = aside
            .get_mut(&(order.clone(), moved.due))
            .and_then(|of| of.get_mut(&moved.variety))
        {
            *stems = stems.saturating_sub(moved.stems);
        }
    }
    for of in aside.values_mut() {
        of.retain(|_, stems| *stems > 0);
    }
    aside.retain(|_, of| !of.is_empty());
    aside
}

/// Stems that are bought in for a day to come.
pub fn on_their_way(almanac: &Almanac<'_>, today: NaiveDate) -> Vec<Batch> {
    let bought = almanac.season().bought.iter();
    bought
        .filter(|bought| bought.date > today)
        .map(|bought| Batch {
            variety: bought.variety.clone(),
            cut: bought.date,
            stems: bought.stems,
            keeping: keeping::used(almanac, &bought.variety, bought.date, bought.date, &[]),
        })
        .collect()
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
