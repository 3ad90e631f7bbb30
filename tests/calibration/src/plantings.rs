//! Simulated plantings with known bloom and stems, for checking the forecasts of beds.
//!
//! Each planting is drawn from a seed and the crop reference's ranges, by independent code: the low, typical
//! and high values are taken as p10, p50 and p90, with half a log-normal on each side. Its weather is in
//! [`weather`], its development to bloom in [`development`], its flushes and cuts in [`cutting`]. Assumptions
//! beyond the reference are from memory of practice and documented there.

pub mod bed;
pub mod cutting;
pub mod development;
pub mod table;
pub mod weather;

use chrono::{NaiveDate, TimeDelta};
use culture::Range;
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;

/// The standard normal's 90 % quantile, as printed in every table.
const Z90: f64 = 1.2816;

/// Which plantings are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Draw {
    /// Those used while developing model and simulation.
    WorkedOn,
    /// Others, not evaluated before both were finished.
    Afresh,
}

impl Draw {
    fn seed(self, base: u64) -> u64 {
        match self {
            Self::WorkedOn => base,
            Self::Afresh => base + 1_700_000_000,
        }
    }
}

/// Coverage of intervals over plantings.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Held {
    /// Plantings.
    pub plantings: u32,
    /// The truth is within the interval, its ends included.
    pub inside: u32,
    /// The truth is below it.
    pub below: u32,
    /// Width of the intervals, summed over the plantings: days, or fractions of the median.
    pub width: f64,
}

impl Held {
    /// Adds a planting.
    pub fn add(&mut self, low: f64, high: f64, truth: f64, width: f64) {
        self.plantings += 1;
        self.inside += u32::from((low..=high).contains(&truth));
        self.below += u32::from(truth < low);
        self.width += width;
    }

    /// The sum with others.
    #[must_use]
    pub fn plus(mut self, other: Self) -> Self {
        self.plantings += other.plantings;
        self.inside += other.inside;
        self.below += other.below;
        self.width += other.width;
        self
    }

    /// Percentage of plantings whose truth is within the interval.
    pub fn per_100(&self) -> f64 {
        100.0 * f64::from(self.inside) / f64::from(self.plantings.max(1))
    }

    /// Percentage of plantings whose truth is below it.
    pub fn below_per_100(&self) -> f64 {
        100.0 * f64::from(self.below) / f64::from(self.plantings.max(1))
    }

    /// Mean width.
    pub fn mean_width(&self) -> f64 {
        self.width / f64::from(self.plantings.max(1))
    }
}

/// A normal draw.
fn normal(rng: &mut Xoshiro256PlusPlus) -> f64 {
    StandardNormal.sample(rng)
}

/// A draw from a figure's range, relative to its typical value. An unknown end is as far away as the other
/// one.
fn share_of_typical(range: &Range, rng: &mut Xoshiro256PlusPlus) -> f64 {
    let away = normal(rng);
    let below = range.low.map(|low| range.typical / low);
    let above = range.high.map(|high| high / range.typical);
    let end = if away < 0.0 {
        below.or(above)
    } else {
        above.or(below)
    }
    .expect("one end of the range");
    end.powf(away / Z90)
}

/// The date a number of days later.
fn later(date: NaiveDate, days: i64) -> NaiveDate {
    date + TimeDelta::days(days)
}
