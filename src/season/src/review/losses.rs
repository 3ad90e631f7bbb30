//! Losses by cause, in trays and in beds.

use std::collections::BTreeMap;

use super::Look;
use crate::fact::{Fact, LossCause};

/// What one cause took.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LossRow {
    /// Why.
    pub cause: LossCause,
    /// Cells lost in trays.
    pub cells: u32,
    /// Plants lost in beds.
    pub plants: u32,
}

/// The rows, the largest loss first.
pub(super) fn rows(look: &Look<'_, '_>) -> Vec<LossRow> {
    let season = look.almanac.season();
    let mut sums = BTreeMap::<LossCause, (u32, u32)>::new();
    for loss in season.sowings.values().flat_map(|sowing| &sowing.losses) {
        if look.holds(loss.date) {
            let sum = sums.entry(loss.cause).or_default();
            sum.0 = sum.0.saturating_add(loss.number);
        }
    }
    let in_beds = season
        .plantings
        .values()
        .flat_map(|planting| &planting.history);
    for event in in_beds.filter_map(|entry| season.events.get(entry)) {
        if let Fact::Lost(lost) = event.fact.as_ref()
            && lost.planting.is_some()
            && look.holds(lost.date)
        {
            let sum = sums.entry(lost.cause).or_default();
            sum.1 = sum.1.saturating_add(lost.number);
        }
    }
    let mut rows: Vec<LossRow> = sums
        .into_iter()
        .map(|(cause, (cells, plants))| LossRow {
            cause,
            cells,
            plants,
        })
        .collect();
    rows.sort_by_key(|row| std::cmp::Reverse(u64::from(row.cells) + u64::from(row.plants)));
    rows
}
