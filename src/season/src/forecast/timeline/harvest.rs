//! Flushes, from first to last stems, until frost ends them.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use culture::Crop;

use crate::forecast::shifted;

/// Days that stems are cut for where the crop says nothing (from memory of practice).
const CUT_DAYS_USUAL: f64 = 14.0;
/// Flushes that are looked at, as [`agronomy::bloom::flush`] has it.
const FLUSHES_MOST: f64 = 12.0;

/// One wave of stems.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flush {
    /// First stems.
    pub from: Spread<NaiveDate>,
    /// The day after the last.
    pub to: Spread<NaiveDate>,
}

/// Flushes of a crop from its first bloom on. `spared` is the share of years in which frost has not ended a week.
///
/// Frost that ends a week in more than half of the years ends the flushes. A fraction of a flush is a thinner one, as long as the others.
pub(crate) fn flushes(
    crop: &Crop,
    bloom: Spread<NaiveDate>,
    spared: impl Fn(IsoWeek) -> f64,
) -> Vec<Flush> {
    let all = from_first_stems(crop);
    let Some((_, longest)) = all.last() else {
        return Vec::new();
    };
    let frost = ended_by_frost(bloom.p50, shifted(bloom.p90, *longest), spared);
    let mut found: Vec<Flush> = all
        .iter()
        .map(|(start, end)| {
            let from = bloom.map(|first| shifted(first, *start));
            let to = bloom.map(|first| {
                let last = shifted(first, *end);
                let until = frost.map_or(last, |frost| last.min(frost));
                until.max(shifted(first, *start + 1))
            });
            Flush { from, to }
        })
        .collect();
    // The first is kept even where frost leaves nothing of it: it says when bloom would come.
    let come = found
        .iter()
        .skip(1)
        .take_while(|flush| frost.is_none_or(|frost| flush.from.p50 < frost))
        .count();
    found.truncate(come + 1);
    found
}

/// Days after first bloom on which each flush begins and ends.
fn from_first_stems(crop: &Crop) -> Vec<(i64, i64)> {
    let Some(window) = crop.typical("harvest_window_days") else {
        return vec![(0, CUT_DAYS_USUAL as i64)];
    };
    let count = crop.typical("flushes").unwrap_or(1.0).ceil();
    let interval = crop.typical("flush_interval_days").unwrap_or(window);
    (0..count.clamp(1.0, FLUSHES_MOST) as u32)
        .map(|n| {
            let start = f64::from(n) * interval;
            let begin = start.round() as i64;
            (begin, ((start + window).round() as i64).max(begin + 1))
        })
        .collect()
}

/// The Monday of the first week that frost ends in more than half of the years.
fn ended_by_frost(
    first: NaiveDate,
    last: NaiveDate,
    spared: impl Fn(IsoWeek) -> f64,
) -> Option<NaiveDate> {
    let begin = IsoWeek::of(first);
    (0..=begin.weeks_until(IsoWeek::of(last)))
        .map(|n| begin.plus(n))
        .find(|week| spared(*week) < 0.5)
        .map(IsoWeek::monday)
}
