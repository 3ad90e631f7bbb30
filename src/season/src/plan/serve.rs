//! One target served: successions placed week by week, then trimmed to what is needed.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;

use super::succession::{Miss, Succession, succession};
use super::{LeftOver, Plan, Shortfall, answers};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::Target;
use crate::words::Say;

/// Stems short in a week that are let pass: less than this share of what is wanted.
const SHORT_LET_PASS: f64 = 0.05;
/// Successions that one target may take.
const SUCCESSIONS_MAX: usize = 60;
/// Rounds in which successions are trimmed; it seldom takes more than two.
const TRIMS_MAX: usize = 4;

/// Stems by week.
pub(super) type Stems = BTreeMap<IsoWeek, f64>;

/// Plans one target: takes what is left over for it, proposes the rest, tells what can't be met.
pub(super) fn target(
    almanac: &Almanac<'_>,
    target: &Target,
    left: &mut LeftOver,
    today: NaiveDate,
    plan: &mut Plan,
) {
    let (Some(from), Some(to)) = (target.from, target.to) else {
        return;
    };
    let from = from.max(IsoWeek::of(today));
    if from > to || target.stems == 0 {
        return;
    }
    let varieties: Vec<VarietyId> = almanac
        .season()
        .varieties_in_order()
        .iter()
        .filter(|v| answers(almanac, &v.id, &target.wanted))
        .map(|v| v.id.clone())
        .collect();
    let need = needed(target, &varieties, (from, to), left);
    let cannot = if varieties.is_empty() {
        Some("short.no_variety")
    } else if almanac.climate().is_err() {
        Some("short.no_place")
    } else {
        None
    };
    if let Some(key) = cannot {
        let short: f64 = need.values().sum();
        if short >= 1.0 {
            let why = Say::new(key);
            plan.shortfalls
                .push(shortfall(target, why, (from, to), short, None));
        }
        return;
    }
    let (mut found, missed) = place_all(almanac, target, &varieties, &need, today);
    trim(&mut found, &need);
    for succession in &found {
        // What this target does not want goes to the next that the variety answers to.
        for (week, stems) in succession.gives() {
            let slot = left.entry((succession.variety.clone(), week)).or_default();
            *slot += stems;
        }
    }
    let short = take(&varieties, &need, left);
    for (place, one) in found.iter().enumerate() {
        let others = found.iter().enumerate().filter(|(n, _)| *n != place);
        let others = sum(others.map(|(_, other)| other));
        plan.proposals
            .extend(one.proposal(almanac, target, &need, &others));
    }
    tell(target, missed, &short, plan);
}

/// Stems needed by week beyond what is left over of the varieties, which is taken.
fn needed(
    target: &Target,
    varieties: &[VarietyId],
    (from, to): (IsoWeek, IsoWeek),
    left: &mut LeftOver,
) -> Stems {
    let wanted: Stems = (0..=from.weeks_until(to))
        .map(|n| (from.plus(n), f64::from(target.stems)))
        .collect();
    take(varieties, &wanted, left)
}

/// Takes stems of the varieties for the weeks; gives those that are still short.
fn take(varieties: &[VarietyId], wanted: &Stems, left: &mut LeftOver) -> Stems {
    let mut short = wanted.clone();
    for (week, short) in &mut short {
        for variety in varieties {
            if let Some(stems) = left.get_mut(&(variety.clone(), *week)) {
                let taken = stems.min(*short);
                *stems -= taken;
                *short -= taken;
            }
        }
    }
    short
}

fn place_all(
    almanac: &Almanac<'_>,
    target: &Target,
    varieties: &[VarietyId],
    need: &Stems,
    today: NaiveDate,
) -> (Vec<Succession>, Vec<(IsoWeek, Miss)>) {
    let mut open = need.clone();
    let mut found: Vec<Succession> = Vec::new();
    let mut missed: Vec<(IsoWeek, Miss)> = Vec::new();
    for _ in 0..SUCCESSIONS_MAX {
        let first = open.iter().find(|(week, stems)| {
            **stems > SHORT_LET_PASS * f64::from(target.stems)
                && missed.iter().all(|(missed, _)| missed != *week)
        });
        let Some(week) = first.map(|(week, _)| *week) else {
            break;
        };
        match succession(almanac, target, varieties, found.len(), week, &open, today) {
            Ok(succession) => {
                for (week, stems) in succession.gives() {
                    if let Some(open) = open.get_mut(&week) {
                        *open = (*open - stems).max(0.0);
                    }
                }
                found.push(succession);
            }
            Err(miss) => missed.push((week, miss)),
        }
    }
    (found, missed)
}

fn sum<'a>(successions: impl Iterator<Item = &'a Succession>) -> Stems {
    let mut sum = Stems::new();
    for (week, stems) in successions.flat_map(Succession::gives) {
        *sum.entry(week).or_default() += stems;
    }
    sum
}

/// Takes plants away from successions as long as every week keeps what it needs, or what it has where that is less.
fn trim(found: &mut Vec<Succession>, need: &Stems) {
    let all = sum(found.iter());
    let floor: Stems = need
        .iter()
        .map(|(week, need)| (*week, need.min(all.get(week).copied().unwrap_or(0.0))))
        .collect();
    for _ in 0..TRIMS_MAX {
        let mut trimmed = false;
        for place in 0..found.len() {
            let others = found.iter().enumerate().filter(|(n, _)| *n != place);
            let others = sum(others.map(|(_, other)| other));
            if let Some(one) = found.get_mut(place) {
                let least = one.hardest(&floor, &others).map_or(0, |week| week.plants);
                trimmed |= least < one.plants;
                one.plants = one.plants.min(least);
            }
        }
        if !trimmed {
            break;
        }
    }
    found.retain(|succession| succession.plants > 0);
}

/// Weeks that miss for the same reason, told together, as far as nothing else has filled them.
fn tell(target: &Target, mut missed: Vec<(IsoWeek, Miss)>, short: &Stems, plan: &mut Plan) {
    missed.sort_by_key(|(week, _)| *week);
    for run in missed.chunk_by(|a, b| a.1.key() == b.1.key() && a.0.plus(1) == b.0) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else {
            continue;
        };
        let stems: f64 = run
            .iter()
            .map(|(week, _)| short.get(week).copied().unwrap_or(0.0))
            .sum();
        if stems >= 1.0 {
            plan.shortfalls.push(shortfall(
                target,
                last.1.say(),
                (first.0, last.0),
                stems,
                last.1.latest_sowing(),
            ));
        }
    }
}

fn shortfall(
    target: &Target,
    why: Say,
    weeks: (IsoWeek, IsoWeek),
    stems: f64,
    latest_sowing: Option<NaiveDate>,
) -> Shortfall {
    Shortfall {
        target: target.id.clone(),
        weeks,
        stems: stems.ceil() as u32,
        why,
        latest_sowing,
    }
}
