//! Germination by lot: how much came up and how soon, beside what was to be expected.

use std::collections::BTreeMap;

use super::Look;
use crate::forecast::lot_germination;
use crate::ids::*;
use crate::past_trays::PastTray;

/// One lot looked back on. Trays with one seed to a cell count, once they were followed to their end.
#[derive(Debug, Clone, PartialEq)]
pub struct LotRow {
    /// Of which variety.
    pub variety: VarietyId,
    /// Which lot, where it is said.
    pub lot: Option<LotId>,
    /// Sowings of it.
    pub sowings: u32,
    /// Seeds sown.
    pub seeds: u32,
    /// Seedlings up.
    pub up: u32,
    /// Germination on the packet, 0 to 1.
    pub packet: Option<f64>,
    /// Share that was to be expected at its first sowing of the span, 0 to 1.
    pub expected: Option<f64>,
    /// Days after sowing by which half were up, where counts tell.
    pub half_day: Option<f64>,
    /// The same as the crop usually has it.
    pub half_day_usual: Option<f64>,
}

impl LotRow {
    /// Share that came up.
    pub fn share(&self) -> Option<f64> {
        (self.seeds > 0).then(|| f64::from(self.up) / f64::from(self.seeds))
    }
}

/// Trays that were sown and followed to their end in the span, by variety and lot.
pub(super) fn by_lot<'b>(
    look: &Look<'_, 'b>,
) -> BTreeMap<(VarietyId, Option<LotId>), Vec<&'b PastTray>> {
    let season = look.almanac.season();
    let mut lots = BTreeMap::<_, Vec<&PastTray>>::new();
    let crops: std::collections::BTreeSet<&str> = season
        .varieties
        .values()
        .map(|variety| variety.crop.as_str())
        .collect();
    for tray in crops.iter().flat_map(|crop| look.almanac.past_trays(crop)) {
        let sown = season.sowings.get(&tray.sowing).map(|sowing| sowing.date);
        if sown.is_some_and(|sown| look.holds(sown)) && tray.counted <= look.until {
            lots.entry((tray.variety.clone(), tray.lot.clone()))
                .or_default()
                .push(tray);
        }
    }
    lots
}

/// The rows, in the order of the varieties' names.
pub(super) fn rows(look: &Look<'_, '_>) -> Vec<LotRow> {
    let mut rows: Vec<LotRow> = by_lot(look)
        .into_iter()
        .map(|((variety, lot), trays)| row(look, variety, lot, &trays))
        .collect();
    rows.sort_by_key(|row| {
        (
            look.almanac.variety_name(&row.variety),
            row.variety.clone(),
            row.lot.clone(),
        )
    });
    rows
}

fn row(look: &Look<'_, '_>, variety: VarietyId, lot: Option<LotId>, trays: &[&PastTray]) -> LotRow {
    let almanac = look.almanac;
    let crop = almanac.crop(&variety);
    let usual = crop.and_then(|crop| crop.emergence_usual());
    let first = trays
        .iter()
        .filter_map(|tray| almanac.season().sowings.get(&tray.sowing))
        .min_by_key(|sowing| (sowing.date, sowing.id.clone()));
    let expected = first.zip(crop).and_then(|(first, crop)| {
        let (lot, besides) = (lot.as_ref(), Some(&first.id));
        lot_germination(almanac, crop, &variety, lot, first.date, besides)
    });
    let paces: Vec<(f64, f64)> = trays
        .iter()
        .filter_map(|tray| Some((tray.pace?, f64::from(tray.of))))
        .collect();
    let seeds_of_paces: f64 = paces.iter().map(|(_, seeds)| seeds).sum();
    let pace = (seeds_of_paces > 0.0).then(|| {
        let sum: f64 = paces.iter().map(|(pace, seeds)| pace * seeds).sum();
        sum / seeds_of_paces
    });
    let packet = lot.as_ref().and_then(|id| almanac.season().lots.get(id));
    let sum = |of: fn(&PastTray) -> u32| {
        trays
            .iter()
            .fold(0u32, |sum, tray| sum.saturating_add(of(tray)))
    };
    LotRow {
        sowings: u32::try_from(trays.len()).unwrap_or(u32::MAX),
        seeds: sum(|tray| tray.of),
        up: sum(|tray| tray.up),
        packet: packet.and_then(|lot| lot.germination),
        expected: expected.map(|expected| expected.rate),
        half_day: pace.zip(usual).map(|(pace, usual)| pace * usual.half_day),
        half_day_usual: usual.map(|usual| usual.half_day),
        variety,
        lot,
    }
}
