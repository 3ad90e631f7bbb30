//! Seed that the plan needs, against seed in hand.

use std::collections::BTreeMap;

use crate::almanac::Almanac;
use crate::ids::*;
use crate::plan::Proposal;
use crate::state::Season;

/// Seed of one variety.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SeedNeed {
    /// Which variety.
    pub variety: VarietyId,
    /// Seeds for accepted sowings that are not sown yet.
    pub accepted: u32,
    /// Seeds for proposals.
    pub proposed: u32,
    /// Seeds in hand: those of its lots when entered less those sown from them; `None` when no lot says how many.
    pub in_hand: Option<u32>,
}

impl SeedNeed {
    /// Seeds needed in all.
    pub fn needed(&self) -> u32 {
        self.accepted.saturating_add(self.proposed)
    }

    /// Seeds to order.
    pub fn to_order(&self) -> u32 {
        self.needed().saturating_sub(self.in_hand.unwrap_or(0))
    }
}

/// Seed needed by variety, one seed a cell, in the order of the varieties' names.
pub fn seed_needs(almanac: &Almanac<'_>, proposals: &[Proposal]) -> Vec<SeedNeed> {
    let season = almanac.season();
    let mut needs = BTreeMap::<&VarietyId, (u32, u32)>::new();
    for planned in season.planned.values() {
        if let Some(variety) = planned
            .variety
            .as_ref()
            .filter(|_| !planned.retired && planned.sown_as.is_none())
        {
            let need = needs.entry(variety).or_default();
            need.0 = need.0.saturating_add(planned.cells);
        }
    }
    for proposal in proposals {
        let need = needs.entry(&proposal.variety).or_default();
        need.1 = need.1.saturating_add(proposal.cells);
    }
    let mut found: Vec<SeedNeed> = needs
        .into_iter()
        .map(|(variety, (accepted, proposed))| SeedNeed {
            variety: variety.clone(),
            accepted,
            proposed,
            in_hand: seeds_in_hand(season, variety),
        })
        .collect();
    found.sort_by_cached_key(|need| (almanac.variety_name(&need.variety), need.variety.clone()));
    found
}

/// Seeds of a variety in hand, as far as its lots say how many there were.
pub fn seeds_in_hand(season: &Season, variety: &VarietyId) -> Option<u32> {
    season
        .lots
        .values()
        .filter(|lot| lot.variety.as_ref() == Some(variety) && !lot.retired)
        .filter_map(|lot| {
            let sown = season
                .sowings
                .values()
                .filter(|sowing| sowing.lot.as_ref() == Some(&lot.id))
                .map(|sowing| sowing.cells.saturating_mul(sowing.seeds_per_cell))
                .fold(0u32, u32::saturating_add);
            Some(lot.seeds?.saturating_sub(sown))
        })
        .reduce(u32::saturating_add)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{PlannedFact, SeedLotFact, SownFact};
    use crate::sample::Sample;

    #[test]
    fn seed_in_hand_is_what_the_packet_held_less_what_was_sown() {
        let mut sample = Sample::new();
        let variety = sample.variety("a", "antirrhinum", "white");
        let bare = sample.variety("b", "ocimum", "green");
        let lot = LotId::new("l").expect("id");
        sample.add(SeedLotFact {
            of: lot.clone(),
            variety: Some(variety.clone()),
            name: None,
            year: Some(2027),
            seeds: Some(250),
            germination: None,
            kept: None,
            retired: None,
        });
        let date = sample.day("2027-01-15");
        sample.add(SownFact {
            variety: variety.clone(),
            lot: Some(lot),
            date,
            space: None,
            cells: 60,
            seeds_per_cell: 2,
            tray: None,
            dome: false,
            planned: None,
            for_space: None,
            label: None,
        });
        for (id, variety, cells) in [
            ("p1", &variety, 100),
            ("p2", &variety, 60),
            ("p3", &bare, 40),
        ] {
            let sow = Some(sample.day("2027-02-15"));
            sample.add(PlannedFact {
                of: PlannedId::new(id).expect("id"),
                variety: Some(variety.clone()),
                target: None,
                sow,
                space: None,
                bed: None,
                cells: Some(cells),
                plants: None,
                pinned: None,
                retired: None,
            });
        }
        let found = sample.with(|almanac| seed_needs(almanac, &[]));
        let said: Vec<(u32, Option<u32>, u32)> = found
            .iter()
            .map(|need| (need.needed(), need.in_hand, need.to_order()))
            .collect();
        assert_eq!(said, [(160, Some(130), 30), (40, None, 40)]);
    }
}
