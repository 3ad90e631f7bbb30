//! Seedlings coming up: what counts so far say about the final stand and about
//! what waiting would still bring.
//!
//! A count is an interval-censored observation: what is newly up came at some
//! time since the last look, what is not up comes later or never (time-to-event
//! view of germination: Onofri, Mesgaran & Ritz 2022, Weed Science 70:259-271).
//! Emergence follows a log-logistic curve in time with a final fraction below
//! one (Ritz, Pipper & Streibig 2013, Europ. J. Agronomy 45:1-6). The crop's
//! usual days and germination stand as the prior, so one or two counts already
//! help, and a fast or a slow shelf shows as a stretched clock.
//!
//! The posterior is summed over a fixed grid: no search that could fail to
//! settle, and the same answer everywhere for the same counts.

mod evidence;
pub mod fit;
mod grid;
pub mod indices;
mod prior;
mod record;
pub mod replicates;

use crate::counting::Counts;
use crate::error::{AgronomyError, within};
use crate::quantity::{Chance, Spread};
use evidence::Curve;
use grid::{Posterior, TimePoint};
pub use record::Count;
use record::Looked;

/// Latest day after sowing that a count or a question may be about.
pub const DAYS_MAX: f64 = 1000.0;

/// The most seeds or cells one sowing may have.
pub const SOWN_MAX: u32 = 1_000_000;

/// How a crop usually comes up, at the usual temperature of the mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// Day after sowing on which the first few (1 in 20 of those to come) are up.
    pub first_day: f64,
    /// Day on which half of those to come are up.
    pub half_day: f64,
    /// Day on which nearly all (19 in 20) of those to come are up.
    pub most_day: f64,
    /// Share of seeds or cells that come up in the end, typical: with a range as
    /// many lots are better as are worse, without one it is the mean.
    pub germination: f64,
    /// The same for a poor lot (one in ten is worse).
    pub germination_low: f64,
    /// The same for a good lot (one in ten is better).
    pub germination_high: f64,
    /// How many seeds' worth of evidence the usual germination is taken for: 20
    /// for a fresh lot, 10 for an old one (from memory of practice). Where poor
    /// and good lots are told apart, their range decides instead.
    pub weight_seeds: f64,
}

impl Usual {
    /// Share of those that come up in the end that are usually up by a day after
    /// sowing: the log-logistic curve through the usual days.
    pub fn up_by(&self, day: f64) -> Chance {
        let curve = Curve {
            half_day: self.half_day,
            shape: prior::shape_of(self),
        };
        Chance::clamped(curve.up_by(day))
    }

    fn check(&self) -> Result<(), AgronomyError> {
        within("usual.first_day", self.first_day, 0.1, DAYS_MAX)?;
        within("usual.half_day", self.half_day, self.first_day, DAYS_MAX)?;
        within("usual.most_day", self.most_day, self.half_day, DAYS_MAX)?;
        within("usual.germination", self.germination, 0.01, 1.0)?;
        within(
            "usual.germination_low",
            self.germination_low,
            0.0,
            self.germination,
        )?;
        within(
            "usual.germination_high",
            self.germination_high,
            self.germination,
            1.0,
        )?;
        within("usual.weight_seeds", self.weight_seeds, 1.0, 1e6)?;
        Ok(())
    }
}

/// What the counts so far say, and what to expect.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// Seeds or cells up in the end, of all sown: at least those seen, at most all.
    /// From the first to the last number, both included, it is about 80 in 100;
    /// more where hardly any are left to come.
    pub final_up: Spread<f64>,
    /// Up by the last count, of all sown. Where a count covered only part of
    /// them, only those seen.
    pub up_now: u32,
    /// Day after sowing by which half of those that come up are up.
    pub half_day: Spread<f64>,
    sown: u32,
    last_day: f64,
    times: Vec<TimePoint>,
}

/// The outlook for a sowing of `sown` seeds or cells from its counts, in any order.
///
/// A count that is lower than an earlier one, as share of what it covered, is
/// read as that earlier share: seedlings that were up and died have emerged all
/// the same, and losses are not this function's business. `sown` may be smaller
/// than what a count covered, if cells were lost since: the counts then speak
/// for the rest by their share. It may be larger, if a count took a sample.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for usual figures out of order or range, for
/// more than [`SOWN_MAX`] sown, and for a count with more up than covered,
/// nothing covered, or a day before sowing or after [`DAYS_MAX`].
pub fn outlook(usual: &Usual, sown: u32, counts: &[Count]) -> Result<Outlook, AgronomyError> {
    usual.check()?;
    within("sown", f64::from(sown), 0.0, f64::from(SOWN_MAX))?;
    let looks = record::looks(counts)?;
    let posterior = Posterior::new(usual, &looks);

    let last = looks.last();
    let covered = last.map_or(0, |look| look.of.min(sown));
    let up_now = last.map_or(0, |look| look.up_of(covered));
    let waiting = covered - up_now;
    let unseen = sown - covered;

    let to_come = still_to_come(&posterior, waiting, unseen);
    let final_up = quantiles(&to_come).map(|more| f64::from(up_now) + more);
    Ok(Outlook {
        final_up,
        up_now,
        half_day: posterior.half_day(),
        sown,
        last_day: last.map_or(0.0, |look| look.day),
        times: posterior.expected_by_time(waiting, unseen),
    })
}

/// The posterior predictive distribution of how many more come up: of those
/// seen empty (`waiting`) and of those no count covered (`unseen`).
fn still_to_come(posterior: &Posterior, waiting: u32, unseen: u32) -> Vec<f64> {
    if unseen == 0 {
        return late_comers(waiting, &posterior.late());
    }
    let mut total = vec![0.0; (waiting + unseen) as usize + 1];
    for slice in posterior.late_by_share() {
        let late = Counts::from_weights(&late_comers(waiting, &slice.late));
        late.plus(&Counts::binomial(unseen, slice.share))
            .add_to(&mut total, slice.weight);
    }
    total
}

/// Weights of 0, 1, 2 and so on of `waiting` coming up, with weighted chances.
fn late_comers(waiting: u32, chances: &[(f64, f64)]) -> Vec<f64> {
    let mut weights = vec![0.0; waiting as usize + 1];
    for (weight, chance) in chances {
        Counts::binomial(waiting, *chance).add_to(&mut weights, *weight);
    }
    weights
}

/// The middle of the counts, and the ends of those that hold 80 chances in 100.
///
/// Whole plants come in steps: from the count not exceeded with 10 chances in 100
/// to the one not exceeded with 90, both ends included, more than 80 lie. So
/// each end takes half of its own chance to its side (the mid-P of H. O.
/// Lancaster 1961, J. Am. Stat. Assoc. 56:223-234), and over many sowings the
/// interval holds as often as it says. It always holds the middle.
fn quantiles(weights: &[f64]) -> Spread<f64> {
    let total: f64 = weights.iter().sum();
    let mut below = 0.0;
    let (mut low, mut middle, mut high) = (None, None, 0);
    for (count, weight) in weights.iter().enumerate() {
        let halfway = (below + weight / 2.0) / total;
        below += weight;
        if halfway >= 0.1 {
            low = low.or(Some(count));
        }
        if below >= 0.5 * total {
            middle = middle.or(Some(count));
        }
        if halfway <= 0.9 {
            high = count;
        }
    }
    let middle = middle.unwrap_or(weights.len().saturating_sub(1));
    Spread {
        p10: low.unwrap_or(middle).min(middle) as f64,
        p50: middle as f64,
        p90: high.max(middle) as f64,
    }
}

impl Outlook {
    /// Expected number newly up between two days after sowing, as seen from the
    /// last count. Days before that count are past: what came then has come.
    pub fn newly_between(&self, day_a: f64, day_b: f64) -> f64 {
        if day_a.is_nan() || day_b.is_nan() || day_b <= day_a {
            return 0.0;
        }
        self.times
            .iter()
            .map(|time| time.newly_up(self.last_day, day_a.max(0.0), day_b))
            .sum()
    }

    /// Expected number still to come up after `day`, if one waits for ever.
    pub fn still_to_come(&self, day: f64) -> f64 {
        self.newly_between(day, f64::INFINITY)
    }

    /// The first day from `from_day` on, in whole-day steps, after which fewer
    /// than `share_of_sown` of all sown are expected to come up within
    /// `span_days`: when it is fair to call the count. Never before the day by
    /// which half should be up, since nothing stirs before the first seedling
    /// either. With nothing sown, `from_day` or the half day.
    pub fn quiet_day(&self, from_day: f64, span_days: f64, share_of_sown: f64) -> f64 {
        let few = share_of_sown * f64::from(self.sown);
        let mut day = from_day.max(self.half_day.p50.ceil());
        while day < DAYS_MAX && self.newly_between(day, day + span_days) >= few.max(1e-9) {
            day += 1.0;
        }
        day
    }
}
