//! When a planting blooms, how its stems spread over weeks, and how many sell.

mod flush;

use chrono::NaiveDate;

use crate::climate::{Climate, Cover};
use crate::days;
use crate::degree_days::{ARRIVAL_DAYS_MAX, of_day, sum_until};
use crate::error::{AgronomyError, within};
use crate::quantity::{Celsius, Chance, DegreeDays, Spread};
pub use flush::flush;

/// A figure of days at its low, typical and high value.
pub type DaysRange = (f64, f64, f64);

/// Mean temperature that "cool" days to bloom are read for.
const COOL_MEAN: f64 = 12.0;
/// Mean temperature that "warm" days to bloom are read for.
const WARM_MEAN: f64 = 20.0;

/// How reliably a crop keeps its time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Pace {
    /// Warm-season annual: quick and even.
    Warm,
    /// Cool-season crop, mostly under cover in spring.
    Cool,
    /// Slow crops and perennials, lisianthus among them.
    Slow,
}

/// The latest thing known about a planting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StageKnown {
    /// Planned or sown; the planting date itself is still a plan.
    Sown,
    /// Planted out on the date given.
    Planted,
    /// Pinched or showing its first bud.
    VisibleBud,
    /// Showing colour.
    FirstColour,
}

/// What is known of a crop's way to its first bloom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BloomFigures {
    /// Temperature below which it does not advance.
    pub base: Celsius,
    /// Temperature above which more warmth no longer hastens it.
    pub ceiling: Option<Celsius>,
    /// Degree-days above `base` from planting to first bloom, for an average line.
    pub thermal_time: Option<DegreeDays>,
    /// Days from planting to first bloom at a mean near 12 degrees.
    pub days_cool: DaysRange,
    /// Days from planting to first bloom at a mean near 20 degrees.
    pub days_warm: DaysRange,
    /// Days one flush is cut for.
    pub harvest_window_days: f64,
    /// Bloom group 1 to 4, where the crop is bred in groups.
    pub group: Option<u8>,
    /// How reliably it keeps its time.
    pub pace: Pace,
}

impl BloomFigures {
    fn check(&self) -> Result<(), AgronomyError> {
        within("base", self.base.0, -10.0, 25.0)?;
        if let Some(ceiling) = self.ceiling {
            within("ceiling", ceiling.0, self.base.0 + 1.0, 50.0)?;
        }
        if let Some(need) = self.thermal_time {
            within("thermal_time", need.0, 1.0, 20_000.0)?;
        }
        for (field, (low, typical, high)) in
            [("days_cool", self.days_cool), ("days_warm", self.days_warm)]
        {
            within(field, low, 1.0, 1000.0)?;
            within(field, typical, low, 1000.0)?;
            within(field, high, typical, 1000.0)?;
        }
        if let Some(group) = self.group {
            within("group", f64::from(group), 1.0, 4.0)?;
        }
        Ok(())
    }

    /// Group 1 blooms on the least warmth and shortest days, group 4 on the most.
    /// That later groups are slower under the same planting is common practice;
    /// these factors have no source and yield to the grower's own dates.
    fn group_factor(&self) -> f64 {
        match self.group {
            Some(1) => 0.85,
            Some(2) => 0.95,
            Some(3) => 1.05,
            Some(4) => 1.15,
            _ => 1.0,
        }
    }

    /// Share of the way to bloom covered in a day with mean temperature `mean`,
    /// read off the cool and the warm days: the rate 1/days runs in a straight
    /// line through 12 and 20 degrees and is held between that of the slowest
    /// cool and the quickest warm figure.
    fn daily_share(&self, mean: f64) -> f64 {
        let cool = 1.0 / self.days_cool.1;
        let warm = 1.0 / self.days_warm.1;
        let straight = cool + (warm - cool) * (mean - COOL_MEAN) / (WARM_MEAN - COOL_MEAN);
        let slowest = (1.0 / self.days_cool.2).min(1.0 / self.days_warm.2);
        let quickest = (1.0 / self.days_warm.0).max(1.0 / self.days_cool.0);
        straight.clamp(slowest, quickest)
    }

    /// Half of the 10-to-90 band in days. The trade's 90 % bands (from memory,
    /// no source) are brought to 10-90 as a normal would have it (1.2816/1.6449).
    fn half_band_days(&self, known: StageKnown) -> f64 {
        let ninety_percent = match (known, self.pace) {
            (StageKnown::Sown, Pace::Warm) => 10.0,
            (StageKnown::Sown, Pace::Cool) => 16.0,
            (StageKnown::Sown, Pace::Slow) => 21.0,
            (StageKnown::Planted, Pace::Warm) => 8.0,
            (StageKnown::Planted, Pace::Cool) => 12.0,
            (StageKnown::Planted, Pace::Slow) => 14.0,
            (StageKnown::VisibleBud, Pace::Warm) => 4.0,
            (StageKnown::VisibleBud, Pace::Cool) => 5.0,
            (StageKnown::VisibleBud, Pace::Slow) => 7.0,
            (StageKnown::FirstColour, Pace::Warm | Pace::Cool) => 2.0,
            (StageKnown::FirstColour, Pace::Slow) => 3.0,
        };
        ninety_percent * (1.281_552 / 1.644_854)
    }
}

/// The date of a planting's first bloom, with its uncertainty by what is known.
///
/// Warmth above the crop's base is summed from planting (single sine) until its
/// thermal time is reached, scaled by bloom group. A crop without a thermal time
/// goes by its cool and warm days, interpolated by each day's mean temperature.
/// No bloom is forecast before the planting itself.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for figures that make no sense;
/// [`AgronomyError::NotReached`] if the warmth does not come within 500 days.
pub fn first_bloom(
    figures: &BloomFigures,
    planted: NaiveDate,
    climate: &Climate,
    cover: Cover,
    known: StageKnown,
) -> Result<Spread<NaiveDate>, AgronomyError> {
    figures.check()?;
    let middle = middle_bloom(figures, planted, climate, cover)?;
    let half = figures.half_band_days(known);
    Ok(Spread {
        p10: days::shifted_by(middle, -half).max(planted),
        p50: middle,
        p90: days::shifted_by(middle, half),
    })
}

fn middle_bloom(
    figures: &BloomFigures,
    planted: NaiveDate,
    climate: &Climate,
    cover: Cover,
) -> Result<NaiveDate, AgronomyError> {
    let factor = figures.group_factor();
    let found = match figures.thermal_time {
        Some(need) => sum_until(planted, need.0 * factor, |date| {
            of_day(climate, cover, date, figures.base, figures.ceiling)
        }),
        None => sum_until(planted, factor, |date| {
            let (min, max) = climate.day_under(date, cover);
            figures.daily_share(f64::midpoint(min.0, max.0))
        }),
    };
    found.ok_or(AgronomyError::NotReached {
        field: "first_bloom",
        limit: ARRIVAL_DAYS_MAX as f64,
    })
}

/// The latest date to plant so that first bloom is as likely as not by `bloom_by`.
///
/// # Errors
/// As [`first_bloom`]; [`AgronomyError::NotReached`] if even planting 500 days
/// ahead is too late.
pub fn planting_for_bloom(
    figures: &BloomFigures,
    bloom_by: NaiveDate,
    climate: &Climate,
    cover: Cover,
) -> Result<NaiveDate, AgronomyError> {
    figures.check()?;
    // Planting later never brings bloom forward, so halving finds the last date.
    let in_time = |lead: i64| {
        middle_bloom(figures, days::shifted(bloom_by, -lead), climate, cover)
            .is_ok_and(|bloom| bloom <= bloom_by)
    };
    let mut enough = ARRIVAL_DAYS_MAX;
    if !in_time(enough) {
        return Err(AgronomyError::NotReached {
            field: "planting",
            limit: ARRIVAL_DAYS_MAX as f64,
        });
    }
    let mut short = -1;
    while enough - short > 1 {
        let middle = i64::midpoint(short, enough);
        if in_time(middle) {
            enough = middle;
        } else {
            short = middle;
        }
    }
    Ok(days::shifted(bloom_by, -enough))
}

/// Share of cut stems good enough to sell where nothing better is known: 85 in
/// 100 from a tunnel, 70 in 100 from the open field (middle of the ranges in
/// common practice; culls of 10-20 % and 20-40 %).
pub fn marketable_default(cover: Cover) -> Chance {
    match cover {
        Cover::Tunnel => Chance::clamped(0.85),
        Cover::Open => Chance::clamped(0.70),
    }
}
