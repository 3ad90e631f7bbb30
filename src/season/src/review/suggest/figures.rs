//! One figure of one variety, moved by its own records and a part of those of other varieties of its crop.

use std::collections::BTreeMap;

use agronomy::posterior::{
    BetaPrior, LogNormalPrior, Posterior, ShareRecord, ValueRecord, beta, log_normal,
};
use agronomy::quantity::Chance;
use agronomy::yields::variation_between_years;
use culture::{Confidence, Crop, Range};

use super::evidence::{Ratio, Records, Share};
use super::{BLOOM, GERMINATION, Learned, MARKETABLE_TUNNEL, Moved, STEMS};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::why::Reason;
use crate::words::Arg;

/// What another variety of the crop says, beside what a variety says of itself. From memory of practice, as are the others below.
pub(super) const OTHERS: f64 = 1.0 / 3.0;
/// How far plantings of one season go together, for the weather they share.
const SAME_SEASON: f64 = 0.5;
/// How far stems or seeds of one planting or lot go together: Utah's saleable shares of snapdragon in tunnels, 65 and 89 in 100
/// in two years, lie as far apart.
const ALIKE: f64 = 0.05;
/// So many stems or seeds a usual share stands for where its range is not known, as for germination.
const USUAL_TRIALS: f64 = 20.0;
/// Standard deviation of the logarithm of the way to bloom: of a line or farm about the reference, and of plantings about that. A
/// band of eight to twelve days nine times of ten (from memory of practice) is as wide as both together.
const BLOOM_OF_LINES: f64 = 0.10;
const BLOOM_OF_PLANTINGS: f64 = 0.06;

/// Records of the variety, and of the others of its crop.
pub(super) struct Both<T> {
    pub(super) own: Vec<T>,
    pub(super) others: Vec<T>,
}

fn both<T: Copy>(
    almanac: &Almanac<'_>,
    records: &BTreeMap<VarietyId, Vec<T>>,
    variety: &VarietyId,
) -> Option<Both<T>> {
    let crop_of = |id: &VarietyId| almanac.variety(id).map(|variety| &variety.crop);
    let own = records.get(variety)?.clone();
    let others = records
        .iter()
        .filter(|(id, _)| *id != variety && crop_of(id) == crop_of(variety))
        .flat_map(|(_, seen)| seen.iter().copied())
        .collect();
    Some(Both { own, others })
}

/// How much less plantings of one season are worth than their number.
pub(super) fn season_share(weights: f64) -> f64 {
    1.0 / (1.0 + (weights - 1.0).max(0.0) * SAME_SEASON)
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// A figure after the records; `None` without records of the variety's own, or without the figure.
pub(super) fn moved(
    almanac: &Almanac<'_>,
    records: &Records,
    variety: &VarietyId,
    learned: Learned,
) -> Option<Moved> {
    let crop = almanac.crop(variety)?;
    let range = crop.figure(learned.figure);
    let name = learned.figure;
    if name == STEMS.figure {
        let variation = variation_between_years(0);
        let between = (variation * variation).ln_1p().sqrt();
        let range = range?;
        let times = |end: f64| end / range.typical;
        let prior =
            LogNormalPrior::from_range(range.low.map(times), 1.0, range.high.map(times), between);
        let seen = both(almanac, &records.stems, variety)?;
        let moved = by_ratio(range.typical, prior.ok()?, between, &seen)?;
        return Some(Moved {
            range: Some(reason(range, |n| Arg::Decimal(n, 1))),
            ..moved
        });
    }
    if name == BLOOM.figure {
        let before = crop.typical(name).unwrap_or(1.0);
        let prior = LogNormalPrior::new(1.0, BLOOM_OF_LINES).ok()?;
        let seen = both(almanac, &records.bloom, variety)?;
        return by_ratio(before, prior, BLOOM_OF_PLANTINGS, &seen);
    }
    let (seen, whole) = if name == GERMINATION.figure {
        (&records.germination, 100.0)
    } else if name == MARKETABLE_TUNNEL.figure {
        (&records.tunnel, 1.0)
    } else {
        (&records.field, 1.0)
    };
    by_share(crop, name, whole, &both(almanac, seen, variety)?)
}

fn reason(range: &Range, arg: impl Fn(f64) -> Arg) -> Reason {
    let key = match range.confidence {
        Confidence::Grower => "suggest.why.own",
        _ => "suggest.why.usual",
    };
    let (low, typical, high) = range.spread();
    let mut reason = Reason::figure(key, range, arg(typical));
    reason.say = reason.say.with("low", arg(low)).with("high", arg(high));
    reason
}

pub(super) fn by_ratio(
    before: f64,
    prior: LogNormalPrior,
    between: f64,
    seen: &Both<Ratio>,
) -> Option<Moved> {
    let weights = |seen: &[Ratio], part: f64| seen.iter().map(|one| one.weight * part).sum::<f64>();
    let part = season_share(weights(&seen.own, 1.0) + weights(&seen.others, OTHERS));
    let seen_as = |one: &Ratio, share: f64| ValueRecord {
        value: one.times,
        weight: one.weight * share * part,
    };
    let own = seen.own.iter().map(|one| seen_as(one, 1.0));
    let others = seen.others.iter().map(|one| seen_as(one, OTHERS));
    let all: Vec<ValueRecord> = own.chain(others).collect();
    let times = log_normal(prior, between, &all).ok()?;
    let weight = weights(&seen.own, 1.0);
    let logs: f64 = seen.own.iter().map(|one| one.weight * one.times.ln()).sum();
    Some(Moved {
        before,
        after: Posterior {
            low: times.low * before,
            middle: times.middle * before,
            high: times.high * before,
            ..times
        },
        plantings: count(seen.own.len()),
        count: seen
            .own
            .iter()
            .fold(0u32, |sum, one| sum.saturating_add(one.plants)),
        others: count(seen.others.len()),
        seen: (logs / weight).exp() * before,
        range: None,
    })
}

fn by_share(crop: &Crop, name: &str, whole: f64, seen: &Both<Share>) -> Option<Moved> {
    let range = crop.figure(name)?;
    let chance = |value: f64| Chance::new(value / whole).ok();
    let (low, typical, high) = range.spread();
    let prior = if low < high {
        BetaPrior::from_range(chance(low)?, chance(typical)?, chance(high)?)
    } else {
        BetaPrior::new(chance(typical)?, USUAL_TRIALS)
    }
    .ok()?;
    let records = seen.own.len() as f64 + seen.others.len() as f64 * OTHERS;
    let part = season_share(records);
    let record = |one: &Share, share: f64| ShareRecord {
        successes: one.did.min(one.of),
        trials: one.of,
        weight: share * part,
    };
    let own = seen.own.iter().map(|one| record(one, 1.0));
    let others = seen.others.iter().map(|one| record(one, OTHERS));
    let all: Vec<ShareRecord> = own.chain(others).collect();
    let after = beta(prior, ALIKE, &all).ok()?;
    let (did, of) = seen.own.iter().fold((0.0, 0u32), |sum, one| {
        (
            sum.0 + f64::from(one.did.min(one.of)),
            sum.1.saturating_add(one.of),
        )
    });
    Some(Moved {
        before: typical,
        after: Posterior {
            low: after.low * whole,
            middle: after.middle * whole,
            high: after.high * whole,
            ..after
        },
        plantings: count(seen.own.len()),
        count: of,
        others: count(seen.others.len()),
        seen: did / f64::from(of.max(1)) * whole,
        range: Some(reason(range, |n| Arg::Share(n / whole))),
    })
}
