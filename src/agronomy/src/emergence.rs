//! Seedling emergence: what the counts so far imply for the final stand and for the gain from waiting.
//!
//! A count is an interval-censored observation: a seedling that is new emerged at some time since the
//! previous inspection, and an empty cell emerges later or never (time-to-event analysis of germination:
//! Onofri, Mesgaran & Ritz 2022, Weed Science 70:259-271). Emergence follows a log-logistic curve in time
//! with a final fraction below one (Ritz, Pipper & Streibig 2013, Europ. J. Agronomy 45:1-6). The crop's
//! usual days and germination are the prior, so one or two counts are already informative, and a fast or slow
//! sowing shows as a stretched time scale.
//!
//! The posterior is summed over a fixed grid: it cannot fail to converge, and the same counts give the same
//! answer everywhere.

pub mod fit;
mod grid;
pub mod indices;
mod likelihood;
mod prior;
mod record;

use crate::counting::Counts;
use crate::error::{AgronomyError, within};
use crate::quantity::{Chance, Spread};
use grid::{Posterior, WeightedCurve};
use likelihood::Curve;
pub use record::Count;
use record::Inspection;

/// Latest day after sowing of a count or a question.
pub const DAYS_MAX: f64 = 1000.0;

/// The largest number of seeds or cells of a sowing.
const SOWN_MAX: u32 = 1_000_000;

/// A crop's usual emergence, at the usual temperature of the mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EmergenceFigures {
    /// Day after sowing on which the first few (5 % of the final number) are up.
    pub first_day: f64,
    /// Day on which half of the final number are up.
    pub half_day: f64,
    /// Day on which nearly all (95 % of the final number) are up.
    pub most_day: f64,
    /// Share of seeds or cells that come up in the end: the median over lots if there is a range, otherwise
    /// the mean.
    pub germination: f64,
    /// The same for a poor lot (p10 over lots).
    pub germination_low: f64,
    /// The same for a good lot (p90 over lots).
    pub germination_high: f64,
    /// How many seeds' worth of evidence the germination is: 20 for a fresh lot, 10 for an old one (from
    /// memory of practice). If low and high differ, their range is used instead.
    pub weight_seeds: f64,
}

impl EmergenceFigures {
    /// EmergenceFigures share of the final number that is up by a day after sowing: the log-logistic curve through the
    /// usual days.
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

/// The final stand and the emergence still to come, given the counts so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// Seeds or cells up in the end, of all sown; never fewer than were seen. The interval from p10 to p90,
    /// both included, has a probability of about 80 %; more if hardly any are still to come.
    pub final_up: Spread<f64>,
    /// Up by the last count. If that count covered a sample, only those seen.
    pub up_now: u32,
    /// Day after sowing by which half of the final number are up.
    pub half_day: Spread<f64>,
    sown: u32,
    last_day: f64,
    times: Vec<WeightedCurve>,
}

/// The outlook for a sowing of `sown` seeds or cells from its counts, in any order.
///
/// A count with a lower share than an earlier one is read as the earlier share: seedlings that died did
/// emerge, and losses are accounted for elsewhere. `sown` may be smaller than the number a count covered, if
/// cells were lost since; the counts then apply by their share. It may be larger, if a count covered a
/// sample.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for usual figures out of order or range, for more than 1,000,000 sown, and
/// for a count with more up than covered, nothing covered, or a day before sowing or after [`DAYS_MAX`].
pub fn outlook(
    usual: &EmergenceFigures,
    sown: u32,
    counts: &[Count],
) -> Result<Outlook, AgronomyError> {
    usual.check()?;
    within("sown", f64::from(sown), 0.0, f64::from(SOWN_MAX))?;
    let inspections = record::inspections(counts)?;
    let posterior = Posterior::new(usual, &inspections);

    let last = inspections.last();
    let covered = last.map_or(0, |inspection| inspection.of.min(sown));
    let up_now = last.map_or(0, |inspection| inspection.up_of(covered));
    let waiting = covered - up_now;
    let unseen = sown - covered;

    let to_come = still_to_come(&posterior, waiting, unseen);
    let final_up = quantiles(&to_come).map(|more| f64::from(up_now) + more);
    Ok(Outlook {
        final_up,
        up_now,
        half_day: posterior.half_day(),
        sown,
        last_day: last.map_or(0.0, |inspection| inspection.day),
        times: posterior.expected_by_time(waiting, unseen),
    })
}

/// The posterior predictive distribution of how many more come up: of the `waiting` seen empty and of the
/// `unseen` that no count covered.
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

/// Weights of 0, 1, 2 and so on of `waiting` coming up, for weighted probabilities.
fn late_comers(waiting: u32, chances: &[(f64, f64)]) -> Vec<f64> {
    let mut weights = vec![0.0; waiting as usize + 1];
    for (weight, chance) in chances {
        Counts::binomial(waiting, *chance).add_to(&mut weights, *weight);
    }
    weights
}

/// Median and p10 to p90 of a distribution of counts.
///
/// Whole plants come in steps, so the interval between plain quantiles, both ends included, has more than 80
/// % probability. Each end is therefore the mid-P quantile (H. O. Lancaster 1961, J. Am. Stat. Assoc.
/// 56:223-234), so that the interval has the right coverage over many sowings. It always includes the median.
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
    /// Expected number of new seedlings between two days after sowing, as seen from the last count. Days
    /// before that count are past and contribute nothing.
    pub fn newly_between(&self, day_a: f64, day_b: f64) -> f64 {
        if day_a.is_nan() || day_b.is_nan() || day_b <= day_a {
            return 0.0;
        }
        self.times
            .iter()
            .map(|time| time.newly_up(self.last_day, day_a.max(0.0), day_b))
            .sum()
    }

    /// Expected number of new seedlings after `day`.
    pub fn still_to_come(&self, day: f64) -> f64 {
        self.newly_between(day, f64::INFINITY)
    }

    /// The first day from `from_day` on, in whole days, after which fewer than `share_of_sown` of all sown
    /// are expected to come up within `span_days`: when the count can be taken as final. Never before the
    /// median day by which half are up, since nothing is expected right after sowing either. With nothing
    /// sown, `from_day` or that day.
    pub fn quiet_day(&self, from_day: f64, span_days: f64, share_of_sown: f64) -> f64 {
        let few = share_of_sown * f64::from(self.sown);
        let mut day = from_day.max(self.half_day.p50.ceil());
        while day < DAYS_MAX && self.newly_between(day, day + span_days) >= few.max(1e-9) {
            day += 1.0;
        }
        day
    }
}
