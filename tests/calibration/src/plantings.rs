//! Simulated plantings, of which bloom and stems are known, for holding the forecasts of beds against.
//!
//! Each planting is drawn by a seed from the crop reference's ranges, by code of its own: its low, typical and high values are
//! taken as 10, 50 and 90 in 100, with half a log-normal on each side. Its weather stands in [`weather`], its way to bloom in
//! [`way`], its flushes and cuts in [`cutting`]. What is beyond the reference is from memory of practice and said there.

pub mod bed;
pub mod cutting;
pub mod table;
pub mod way;
pub mod weather;

use chrono::{NaiveDate, TimeDelta};
use culture::Range;
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;

/// The standard normal's 90 in 100, as printed in every table.
const Z90: f64 = 1.2816;

/// Which plantings are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Draw {
    /// Those that model and simulation were worked on with.
    WorkedOn,
    /// Others, which were not looked at before both were done.
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

/// How intervals did over plantings.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Held {
    /// Plantings.
    pub plantings: u32,
    /// The truth lies in the interval, its ends included.
    pub inside: u32,
    /// The truth lies below it.
    pub below: u32,
    /// The interval from end to end, all plantings together: days, or part of the middle.
    pub width: f64,
}

impl Held {
    /// One more planting.
    pub fn add(&mut self, low: f64, high: f64, truth: f64, width: f64) {
        self.plantings += 1;
        self.inside += u32::from((low..=high).contains(&truth));
        self.below += u32::from(truth < low);
        self.width += width;
    }

    /// Together with others.
    #[must_use]
    pub fn plus(mut self, other: Self) -> Self {
        self.plantings += other.plantings;
        self.inside += other.inside;
        self.below += other.below;
        self.width += other.width;
        self
    }

    /// Plantings of 100 whose truth the interval holds.
    pub fn per_100(&self) -> f64 {
        100.0 * f64::from(self.inside) / f64::from(self.plantings.max(1))
    }

    /// Plantings of 100 whose truth lies below it.
    pub fn below_per_100(&self) -> f64 {
        100.0 * f64::from(self.below) / f64::from(self.plantings.max(1))
    }

    /// Width of one.
    pub fn mean_width(&self) -> f64 {
        self.width / f64::from(self.plantings.max(1))
    }
}

/// A normal draw.
fn normal(rng: &mut Xoshiro256PlusPlus) -> f64 {
    StandardNormal.sample(rng)
}

/// A draw from a figure's range, as a share of its typical value. An end that is not known is as far off as the other one.
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

/// The date so many days later.
fn later(date: NaiveDate, days: i64) -> NaiveDate {
    date + TimeDelta::days(days)
}
