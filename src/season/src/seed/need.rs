//! Seed that the plan needs, by variety.

use std::collections::BTreeMap;

use agronomy::quantity::Chance;
use agronomy::sowing::{Cell, Germination};
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::forecast::USABLE_SHARE;
use crate::ids::*;
use crate::plan::Proposal;
use crate::state::{CHANCE_USUAL, Season};
use crate::why::{Figure, Reason};
use crate::words::{Arg, Say};

/// A sowing as the plan counts it.
struct Planned {
    cells: u32,
    /// Plants it is to give; 0 when not said.
    plants: u32,
    /// The chance of that.
    chance: f64,
}

/// What the plan sows of one variety.
#[derive(Default)]
pub(super) struct Need {
    pub(super) accepted: u32,
    pub(super) proposed: u32,
    pub(super) first: Option<NaiveDate>,
    sowings: Vec<Planned>,
}

impl Need {
    fn add(&mut self, sow: Option<NaiveDate>, planned: Planned) {
        self.first = match (self.first, sow) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        self.sowings.push(planned);
    }

    /// Seeds needed if they are fresh, one to a cell. Where a lot in hand is old (`has_old`), cells may have been counted for it:
    /// then no more than fresh seed needs for the same plants.
    pub(super) fn in_fresh_seed(
        &self,
        almanac: &Almanac<'_>,
        variety: &VarietyId,
        has_old: bool,
    ) -> Figure<u32> {
        let cells = self.accepted.saturating_add(self.proposed);
        let mut why = Vec::new();
        if self.accepted > 0 {
            why.push(Reason::measured(
                Say::new("why.seed_accepted").with("n", self.accepted),
            ));
        }
        if self.proposed > 0 {
            why.push(Reason::forecast(
                Say::new("why.seed_proposed").with("n", self.proposed),
            ));
        }
        why.push(Reason::assumed(Say::new("why.seed_one_each")));
        let mut seeds = cells;
        if has_old {
            seeds = self
                .sowings
                .iter()
                .map(|sowing| {
                    let fresh = fresh_for(almanac, variety, sowing);
                    fresh.map_or(sowing.cells, |n| n.min(sowing.cells))
                })
                .fold(0, u32::saturating_add);
        }
        if seeds < cells {
            why.push(Reason::forecast(
                Say::new("why.seed_fresh_for_old")
                    .with("cells", cells)
                    .with("n", seeds)
                    .with("usable", Arg::Share(USABLE_SHARE)),
            ));
        }
        Figure { value: seeds, why }
    }
}

/// Fresh seeds that give a sowing's plants with its chance, as the plan counts cells. `None` where the plants are not said.
fn fresh_for(almanac: &Almanac<'_>, variety: &VarietyId, sowing: &Planned) -> Option<u32> {
    let usual = almanac.crop(variety)?.emergence_usual()?;
    let (rate, weight) = (usual.germination.clamp(0.01, 0.995), usual.weight_seeds);
    let rate = Germination::Uncertain {
        alpha: rate * weight,
        beta: (1.0 - rate) * weight,
    };
    let usable = Chance::new(USABLE_SHARE).ok()?;
    let chance = Chance::new(sowing.chance.clamp(0.5, 0.99)).ok()?;
    let plants = Some(sowing.plants).filter(|n| *n > 0)?;
    Cell::new(rate, 1, usable)
        .and_then(|cell| cell.least_cells(plants, chance))
        .ok()
}

/// What accepted sowings that are not sown yet, and proposals, sow of each variety.
pub(super) fn of_varieties(
    almanac: &Almanac<'_>,
    proposals: &[Proposal],
) -> BTreeMap<VarietyId, Need> {
    let season = almanac.season();
    let mut needs = BTreeMap::<VarietyId, Need>::new();
    for planned in season.planned.values() {
        if planned.retired || planned.sown_as.is_some() || planned.cells == 0 {
            continue;
        }
        let Some(variety) = &planned.variety else {
            continue;
        };
        let need = needs.entry(variety.clone()).or_default();
        need.accepted = need.accepted.saturating_add(planned.cells);
        let sowing = Planned {
            cells: planned.cells,
            plants: planned.plants,
            chance: chance_of(season, planned.target.as_ref()),
        };
        need.add(planned.sow, sowing);
    }
    for proposal in proposals.iter().filter(|proposal| proposal.cells > 0) {
        let need = needs.entry(proposal.variety.clone()).or_default();
        need.proposed = need.proposed.saturating_add(proposal.cells);
        let sowing = Planned {
            cells: proposal.cells,
            plants: proposal.plants,
            chance: chance_of(season, proposal.target.as_ref()),
        };
        need.add(Some(proposal.sow), sowing);
    }
    needs
}

fn chance_of(season: &Season, target: Option<&TargetId>) -> f64 {
    target
        .and_then(|id| season.targets.get(id))
        .map_or(CHANCE_USUAL, |target| target.chance)
}
