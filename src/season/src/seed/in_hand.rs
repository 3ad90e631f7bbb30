//! What seed in hand counts for: its number, less what was sown of it, at what its age left of it.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::Fact;
use crate::forecast::lot_germination;
use crate::ids::*;
use crate::state::{Season, SeedLot};
use crate::why::{Figure, Reason};
use crate::words::{Arg, Say};

/// A lot expected to come up less than this share as well as fresh seed is not counted on. Common practice, without a source: the
/// cells, heat and weeks that empty cells take cost more than a packet. A germination test of the lot may say otherwise.
pub const LEAST_OF_FRESH: f64 = 0.5;

/// How a lot stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LotStanding {
    /// It counts.
    Counts,
    /// Nobody said how many seeds it holds.
    NotSaid,
    /// All of it was sown.
    UsedUp,
    /// Too old to be worth sowing.
    TooOld,
}

/// One lot and what it counts for.
#[derive(Debug, Clone, PartialEq)]
pub struct LotWorth {
    /// Which lot.
    pub lot: LotId,
    /// Seeds left; `None` when it was not said how many there were.
    pub left: Option<u32>,
    /// Share expected to come up; `None` for a crop without seed figures.
    pub now: Option<f64>,
    /// Share of fresh seed that usually does.
    pub fresh: Option<f64>,
    /// Fresh seeds that it counts for.
    pub counts_as: u32,
    /// How it stands.
    pub standing: LotStanding,
    /// Why it counts for that.
    pub why: Vec<Reason>,
}

impl LotWorth {
    /// Expected to come up this well beside fresh seed, 1 at most.
    fn of_fresh(&self) -> f64 {
        match (self.now, self.fresh) {
            (Some(now), Some(fresh)) if fresh > 0.0 => (now / fresh).min(1.0),
            _ => 1.0,
        }
    }

    /// Whether it comes up worse than fresh seed.
    pub fn is_discounted(&self) -> bool {
        self.of_fresh() < 1.0
    }
}

/// Seeds sown of each lot, into trays and into beds. A bed's plants are taken for a seed each: how thickly it was sown is not
/// noted.
pub(super) fn sown_of_lots(season: &Season) -> BTreeMap<LotId, u32> {
    let mut sown = BTreeMap::<LotId, u32>::new();
    let trays = season.sowings.values().filter_map(|sowing| {
        let seeds = sowing.cells.saturating_mul(sowing.seeds_per_cell);
        Some((sowing.lot.clone()?, seeds))
    });
    let beds = season
        .events
        .values()
        .filter_map(|event| match event.fact.as_ref() {
            Fact::DirectSown(f) => Some((f.lot.clone()?, f.plants)),
            _ => None,
        });
    for (lot, seeds) in trays.chain(beds) {
        let sum = sown.entry(lot).or_default();
        *sum = sum.saturating_add(seeds);
    }
    sown
}

/// A variety's lots in use, the youngest first, as they are on the day when they are sown.
pub(super) fn lots(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    sown: &BTreeMap<LotId, u32>,
    on: NaiveDate,
) -> Vec<LotWorth> {
    let mut lots: Vec<&SeedLot> = almanac
        .season()
        .lots
        .values()
        .filter(|lot| lot.variety.as_ref() == Some(variety) && !lot.retired)
        .collect();
    lots.sort_by_key(|lot| core::cmp::Reverse((lot.year, lot.id.clone())));
    lots.into_iter()
        .map(|lot| worth(almanac, variety, lot, sown.get(&lot.id).copied(), on))
        .collect()
}

fn worth(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    lot: &SeedLot,
    sown: Option<u32>,
    on: NaiveDate,
) -> LotWorth {
    let sown = sown.unwrap_or(0);
    let left = lot.seeds.map(|seeds| seeds.saturating_sub(sown));
    let mut found = LotWorth {
        lot: lot.id.clone(),
        left,
        now: None,
        fresh: None,
        counts_as: 0,
        standing: LotStanding::Counts,
        why: vec![held(lot, sown)],
    };
    if let Some(crop) = almanac.crop(variety) {
        let usual = crop.emergence_usual();
        found.fresh = usual.map(|usual| usual.germination);
        if let Some(now) = lot_germination(almanac, crop, variety, Some(&lot.id), on, None) {
            found.now = Some(now.rate);
            found.why.extend(now.why);
        }
        if lot.year.is_none() {
            found
                .why
                .push(Reason::assumed(Say::new("why.lot_year_not_said")));
        }
    }
    let share = found.of_fresh();
    let rates = |say: Say| {
        say.with_some("now", found.now.map(Arg::Share))
            .with_some("fresh", found.fresh.map(Arg::Share))
    };
    let (standing, counts_as, reason) = match left {
        None => (
            LotStanding::NotSaid,
            0,
            Reason::assumed(Say::new("why.lot_not_said")),
        ),
        Some(0) => (
            LotStanding::UsedUp,
            0,
            Reason::measured(Say::new("why.lot_used_up")),
        ),
        Some(_) if share < LEAST_OF_FRESH => (
            LotStanding::TooOld,
            0,
            Reason::assumed(rates(Say::new("why.lot_too_old"))),
        ),
        Some(left) => {
            // A part of a seed does not come up.
            let seeds = (f64::from(left) * share + 1e-9).floor() as u32;
            let say = rates(Say::new("why.lot_counts"))
                .with("left", left)
                .with("n", seeds);
            (LotStanding::Counts, seeds, Reason::forecast(say))
        }
    };
    found.standing = standing;
    found.counts_as = counts_as;
    found.why.push(reason);
    found
}

fn held(lot: &SeedLot, sown: u32) -> Reason {
    let name = Some(lot.name.clone()).filter(|name| !name.is_empty());
    Reason::measured(
        Say::new("why.lot_held")
            .with_some("name", name)
            .with_some("year", lot.year.map(|year| year.to_string()))
            .with_some("seeds", lot.seeds)
            .with_some("sown", (sown > 0).then_some(sown)),
    )
}

/// All lots together.
pub(super) fn usable(lots: &[LotWorth], on: NaiveDate) -> Figure<u32> {
    let value = lots
        .iter()
        .map(|lot| lot.counts_as)
        .fold(0, u32::saturating_add);
    let why = match lots {
        [] => vec![Reason::assumed(Say::new("why.no_lot"))],
        lots => {
            let day = Reason::forecast(Say::new("why.lots_on").with("date", on));
            let of_lots = lots.iter().flat_map(|lot| lot.why.iter().cloned());
            core::iter::once(day).chain(of_lots).collect()
        }
    };
    Figure { value, why }
}
