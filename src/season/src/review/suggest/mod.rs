//! What a season's records suggest for the next one's figures, each with how much it rests on.
//!
//! The figure as it stands and the crop's usual range are the prior, the season's own records move it ([`agronomy::posterior`]).
//! Other varieties of the crop count for a part. Meant for a season to come: figures that were accepted for the season which is
//! looked back on would be moved by the same records twice.

mod evidence;
mod figures;

use std::collections::BTreeSet;

use agronomy::posterior::Posterior;
use chrono::NaiveDate;
use culture::allowed;

use super::Look;
use crate::almanac::Almanac;
use crate::ids::*;
use crate::why::Reason;
use crate::words::{Arg, Say};

/// What a suggested figure rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RestsOn {
    /// The variety's own plantings, or lots for germination.
    pub plantings: u32,
    /// Their plants, stems or seeds.
    pub count: u32,
    /// How much of the new figure is own records, 0 to 1; the rest is the figure before.
    pub weight: f64,
}

/// A figure that the season's records move.
#[derive(Debug, Clone, PartialEq)]
pub struct Suggestion {
    /// Of which variety.
    pub variety: VarietyId,
    /// The figure's name in the crop reference.
    pub figure: &'static str,
    /// The figure as it stands.
    pub before: f64,
    /// The figure suggested.
    pub after: f64,
    /// One chance in ten that it is lower.
    pub low: f64,
    /// One chance in ten that it is higher.
    pub high: f64,
    /// What it rests on.
    pub rests_on: RestsOn,
    /// What was seen, and what it suggests.
    pub say: Say,
    /// Why.
    pub reasons: Vec<Reason>,
}

/// A figure that can be learned.
#[derive(Debug, Clone, Copy)]
struct Learned {
    /// Its name in the crop reference.
    figure: &'static str,
    /// The sentence that tells it.
    say: &'static str,
    /// How its value is told.
    arg: fn(f64) -> Arg,
    /// Its step: finer than that, nobody can tell.
    step: f64,
    /// The least move that is worth a suggestion, and that as a share of the figure: the larger of both counts.
    least: f64,
    least_share: f64,
    /// Limits where the reference does not define it yet.
    limits: (f64, f64),
}

// Steps and least moves are common practice: what a grower would plan otherwise by.
const STEMS: Learned = Learned {
    figure: "stems_per_plant_season",
    say: "suggest.stems",
    arg: |n| Arg::Decimal(n, 1),
    step: 0.1,
    least: 0.1,
    least_share: 0.05,
    limits: (0.0, 200.0),
};
const MARKETABLE_TUNNEL: Learned = Learned {
    figure: "marketable_tunnel",
    say: "suggest.marketable",
    arg: Arg::Share,
    step: 0.01,
    least: 0.03,
    least_share: 0.0,
    limits: (0.0, 1.0),
};
const MARKETABLE_FIELD: Learned = Learned {
    figure: "marketable_field",
    ..MARKETABLE_TUNNEL
};
const GERMINATION: Learned = Learned {
    figure: "germination_pct",
    say: "suggest.germination",
    arg: |n| Arg::Share(n / 100.0),
    step: 1.0,
    least: 3.0,
    least_share: 0.0,
    limits: (1.0, 100.0),
};
const BLOOM: Learned = Learned {
    figure: "own_bloom_factor",
    say: "suggest.bloom",
    arg: |n| Arg::Decimal(n, 2),
    step: 0.01,
    least: 0.03,
    least_share: 0.0,
    limits: (0.4, 2.0),
};

/// All that can be.
const ALL: [Learned; 5] = [
    STEMS,
    MARKETABLE_TUNNEL,
    MARKETABLE_FIELD,
    GERMINATION,
    BLOOM,
];

/// The value of a figure that can be learned, as sentences write it.
pub fn learned_value(figure: &str, value: f64) -> Arg {
    match ALL.iter().find(|learned| learned.figure == figure) {
        Some(learned) => (learned.arg)(value),
        None => Arg::Decimal(value, 2),
    }
}

/// A figure before and after records, and what was seen, as it is said.
struct Moved {
    before: f64,
    after: Posterior,
    plantings: u32,
    count: u32,
    /// Other varieties of the crop that had a say.
    others: u32,
    /// What was seen.
    seen: f64,
    /// The figure's own reason.
    range: Option<Reason>,
}

/// Figures that the records of a span suggest for the next season, by variety and figure; only those that move by more than a
/// stated least.
///
/// Yields and saleable shares come from plantings that are over and were cut, the way to bloom from those that showed a bud,
/// colour or a first cut, germination from trays of fresh seed that were followed to their end. Plants that have not bloomed yet
/// say nothing, so that a look back in midsummer finds lines sooner than they are.
pub fn suggest(
    almanac: &Almanac<'_>,
    from: NaiveDate,
    to: NaiveDate,
    today: NaiveDate,
) -> Vec<Suggestion> {
    let look = Look::new(almanac, from, to, today);
    let records = evidence::Records::of(&look);
    let varieties: BTreeSet<&VarietyId> = records.varieties();
    let mut suggestions = Vec::new();
    for variety in varieties {
        for learned in ALL {
            suggestions.extend(
                figures::moved(almanac, &records, variety, learned)
                    .and_then(|moved| suggestion(almanac, variety, learned, moved)),
            );
        }
    }
    suggestions
}

fn suggestion(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    learned: Learned,
    moved: Moved,
) -> Option<Suggestion> {
    let (least, most) = allowed(learned.figure).unwrap_or(learned.limits);
    let told = |value: f64| ((value / learned.step).round() * learned.step).clamp(least, most);
    let (low, after, high) = (
        told(moved.after.low),
        told(moved.after.middle),
        told(moved.after.high),
    );
    let worth = learned.least.max(moved.before * learned.least_share);
    // A hair's breadth is left for what rounding to steps does.
    if (after - moved.before).abs() < worth - learned.step * 1e-6 {
        return None;
    }
    let arg = learned.arg;
    let say = Say::new(learned.say)
        .with("variety", almanac.variety_name(variety))
        .with("seen", arg(moved.seen))
        .with("count", moved.count)
        .with("plantings", moved.plantings)
        .with("before", arg(moved.before))
        .with("after", arg(after))
        .with("low", arg(low))
        .with("high", arg(high));
    let mut reasons: Vec<Reason> = moved.range.into_iter().collect();
    reasons.push(Reason::measured(
        Say::new("suggest.why.records")
            .with("n", moved.plantings)
            .with("share", Arg::Share(moved.after.weight)),
    ));
    if moved.others > 0 {
        reasons.push(Reason::measured(
            Say::new("suggest.why.others").with("n", moved.others),
        ));
    }
    Some(Suggestion {
        variety: variety.clone(),
        figure: learned.figure,
        before: moved.before,
        after,
        low,
        high,
        rests_on: RestsOn {
            plantings: moved.plantings,
            count: moved.count,
            weight: moved.after.weight,
        },
        say,
        reasons,
    })
}

#[cfg(test)]
mod tests;
