//! What a planting that is being cut has still to give.

use agronomy::bloom::cutting::{CutSpan, FlushPrior, HarvestForecast, after_cuts};
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use agronomy::yields::LogRange;
use chrono::NaiveDate;

use super::flush_told::FlushTold;
use super::stems::StemFigures;
use crate::state::CutRecord;

/// Days without a cut after which that counts for none to be cut: until then nobody may have looked (common practice: weekly at
/// the least).
const UNSEEN_DAYS: f64 = 8.0;
/// How many stems of a cut speak for one about the share that sells: those of a cut are alike.
const STEMS_ALIKE: f64 = 4.0;
/// Weeks that are looked ahead at the most.
const WEEKS_MAX: usize = 60;
/// How much further a single week strays than all weeks together, as a logarithm of its 10 and 90 in 100 (from memory of
/// practice).
const WEEK_STRAYS: f64 = 0.4;

/// Stems still to come.
pub(super) struct Rest {
    /// Saleable, all together.
    pub(super) stems: Spread<f64>,
    /// By week from this week on.
    pub(super) weeks: Vec<(IsoWeek, Spread<f64>)>,
    /// How far the flushes are along by today, 0 to 1.
    pub(super) along: f64,
    /// The first week that frost ends before the flush would have ended.
    pub(super) frost_end: Option<IsoWeek>,
    /// Share of stems that sells, if culls were noted.
    pub(super) sells: Option<f64>,
}

/// What is still to come of so many plants after their cuts. `spared` is the share of years in which frost leaves a week. `None`
/// before the first cut.
pub(super) fn rest(
    plants: u32,
    figures: &StemFigures,
    cuts: &[CutRecord],
    flush: &FlushTold,
    today: NaiveDate,
    spared: impl Fn(IsoWeek) -> f64,
) -> Option<Rest> {
    let first = cuts.first()?.date;
    let day = |date: NaiveDate| (date - first).num_days() as f64;
    let culls: f64 = cuts.iter().map(|cut| f64::from(cut.culls)).sum();
    // Where no culls were ever noted, the stems noted are taken for the saleable ones and set beside those expected.
    let noted = culls > 0.0;
    let size = if noted {
        figures.given
    } else {
        figures.saleable()
    };
    let mut spans: Vec<CutSpan> = Vec::with_capacity(cuts.len() + 1);
    for cut in cuts {
        let stems = f64::from(cut.stems) + f64::from(cut.culls);
        let to = day(cut.date);
        match spans.last_mut() {
            Some(before) if to <= before.to => before.stems += stems,
            before => {
                let from = before.map_or(to, |before| before.to);
                spans.push(CutSpan { from, to, stems });
            }
        }
    }
    let mut cut_by = spans.last()?.to;
    let now = day(today);
    if now - cut_by > UNSEEN_DAYS {
        spans.push(CutSpan {
            from: cut_by,
            to: now,
            stems: 0.0,
        });
        cut_by = now;
    }
    let size = size.scaled(f64::from(plants));
    let outlook = after_cuts(size, &as_seen(&figures.flushes, flush, first), &spans);
    let ahead = ahead(first, cut_by, today, &outlook);
    let (stems, means) = outlook.remaining(
        &ahead
            .iter()
            .map(|(week, from, to)| (*from, *to, spared(*week)))
            .collect::<Vec<_>>(),
    );
    let (sells, strays) = if noted {
        let (share, strays) = sold(cuts, figures.sells);
        (Some(share), strays)
    } else {
        (None, 0.0)
    };
    let stems = strayed(stems.map(|stems| stems * sells.unwrap_or(1.0)), strays);
    let expected: f64 = means.iter().sum();
    let weeks = ahead
        .iter()
        .zip(&means)
        .map(|((week, ..), mean)| {
            let middle = if expected > 0.0 { mean / expected } else { 0.0 };
            (
                *week,
                strayed(stems.map(|of_all| of_all * middle), WEEK_STRAYS),
            )
        })
        .filter(|(_, stems)| stems.p50 > 1e-9)
        .collect();
    let frost_end = ahead
        .iter()
        .find(|(week, from, _)| spared(*week) < 0.5 && outlook.share_cut_by(*from) < 0.97)
        .map(|(week, ..)| *week);
    Some(Rest {
        stems,
        weeks,
        along: outlook.share_cut_by(cut_by),
        frost_end,
        sells,
    })
}

/// The flushes as the cuts have shown them: one that has begun is not doubted, and tells the interval.
fn as_seen(usual: &FlushPrior, flush: &FlushTold, first: NaiveDate) -> FlushPrior {
    let number = f64::from(flush.number);
    let interval = if flush.number > 1 {
        (flush.began - first).num_days() as f64 / (number - 1.0)
    } else {
        usual.interval
    };
    FlushPrior {
        flushes: usual.flushes.max(number),
        interval,
        interval_seen: flush.number > 1,
        ..*usual
    }
}

/// The weeks ahead with their days after the first cut.
fn ahead(
    first: NaiveDate,
    cut_by: f64,
    today: NaiveDate,
    outlook: &HarvestForecast,
) -> Vec<(IsoWeek, f64, f64)> {
    let this = IsoWeek::of(today);
    let monday = (this.monday() - first).num_days() as f64;
    let end = outlook.end();
    (0..WEEKS_MAX)
        .map(|n| {
            let from = monday + 7.0 * n as f64;
            let from_here = if n == 0 { cut_by } else { from };
            (this.plus(n as i32), from_here, from + 7.0)
        })
        .take_while(|(_, from, _)| *from < end)
        .filter(|(_, from, to)| from < to)
        .collect()
}

/// The share that sells after the cuts, and how far it may still stray as a logarithm: a beta distribution about the crop's
/// range.
fn sold(cuts: &[CutRecord], usual: LogRange) -> (f64, f64) {
    let spread = usual.spread();
    let mean = spread.p50.clamp(0.02, 0.98);
    let deviation = (spread.p90.min(1.0) - spread.p10).max(0.02) / (2.0 * agronomy::quantity::Z90);
    let weight = (mean * (1.0 - mean) / (deviation * deviation) - 1.0).clamp(2.0, 200.0);
    let (stems, culls) = cuts.iter().fold((0.0, 0.0), |sum, cut| {
        (
            sum.0 + f64::from(cut.stems) / STEMS_ALIKE,
            sum.1 + f64::from(cut.culls) / STEMS_ALIKE,
        )
    });
    let weight_now = weight + stems + culls;
    let share = (weight * mean + stems) / weight_now;
    let deviation = (share * (1.0 - share) / (weight_now + 1.0)).sqrt();
    (share, agronomy::quantity::Z90 * deviation / share.max(0.02))
}

/// A band that something else widens, as a logarithm. What may be nothing stays so.
fn strayed(stems: Spread<f64>, by: f64) -> Spread<f64> {
    let side = |end: f64| {
        let away = (end / stems.p50).ln();
        stems.p50 * away.hypot(by).copysign(end - stems.p50).exp()
    };
    if stems.p50 <= 0.0 {
        return stems;
    }
    Spread {
        p10: if stems.p10 > 0.0 {
            side(stems.p10).min(stems.p50)
        } else {
            0.0
        },
        p50: stems.p50,
        p90: side(stems.p90).max(stems.p50),
    }
}
