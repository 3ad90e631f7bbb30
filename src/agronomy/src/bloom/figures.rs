//! A crop's figures for the time to first bloom.

use chrono::NaiveDate;

use super::photoperiod::DayLengthResponse;
use crate::days;
use crate::error::{AgronomyError, within};
use crate::quantity::{Celsius, DegreeDays, Spread, Z90};

/// A number of days: low, typical and high.
pub type DaysRange = (f64, f64, f64);

/// Standard normal quantile of 0.95, the upper end of a 90 % band.
const Z95: f64 = 1.644_853_626_951_5;
/// Mean temperature at which "cool" days to bloom are defined.
const COOL_MEAN: f64 = 12.0;
/// Mean temperature at which "warm" days to bloom are defined.
const WARM_MEAN: f64 = 20.0;

/// How reliably a crop blooms on time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Pace {
    /// Warm-season annual: quick and even.
    Warm,
    /// Cool-season crop, mostly under cover in spring.
    Cool,
    /// Slow crops and perennials, lisianthus among them.
    Slow,
}

/// The latest known stage of a planting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StageKnown {
    /// Planned or sown; the planting date is still a plan.
    Sown,
    /// Planted out on the date given.
    Planted,
    /// Pinched, or with a first visible bud.
    VisibleBud,
    /// Showing colour.
    FirstColour,
}

/// A crop's figures for the time to first bloom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BloomFigures {
    /// Base temperature of its development, -10 to 25 degrees.
    pub base: Celsius,
    /// Temperature above which more warmth no longer speeds it up, up to 50 degrees and at least one above
    /// the base.
    pub ceiling: Option<Celsius>,
    /// Degree-days above `base` from planting to first bloom for an average line, 1 to 20,000.
    pub thermal_time: Option<DegreeDays>,
    /// Days from planting to first bloom at a mean near 12 degrees, 1 to 1000.
    pub days_cool: DaysRange,
    /// Days from planting to first bloom at a mean near 20 degrees, 1 to 1000.
    pub days_warm: DaysRange,
    /// Days over which one flush is cut.
    pub harvest_window_days: f64,
    /// Share of the usual development that this line needs, 0.2 to 5: 1 for an average line, less for an
    /// early bloom group, more for a late one.
    pub line_factor: f64,
    /// How day length speeds it up or delays it; `None` for a day-neutral crop.
    pub day_length: Option<DayLengthResponse>,
    /// How reliably it blooms on time.
    pub pace: Pace,
}

impl BloomFigures {
    pub(super) fn check(&self) -> Result<(), AgronomyError> {
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
        within("line_factor", self.line_factor, 0.2, 5.0)?;
        Ok(())
    }

    /// Share of the development to first bloom on a day with mean temperature `mean`, from the cool and warm
    /// days: the rate 1/days is linear through 12 and 20 degrees, and limited to the rates of the slowest
    /// cool and the quickest warm figure.
    pub(super) fn daily_share(&self, mean: f64) -> f64 {
        let cool = 1.0 / self.days_cool.1;
        let straight = cool + self.share_per_degree() * (mean - COOL_MEAN);
        let slowest = (1.0 / self.days_cool.2).min(1.0 / self.days_warm.2);
        let quickest = (1.0 / self.days_warm.0).max(1.0 / self.days_cool.0);
        straight.clamp(slowest, quickest)
    }

    /// The increase of the daily share per degree, where it is not limited.
    pub(super) fn share_per_degree(&self) -> f64 {
        (1.0 / self.days_warm.1 - 1.0 / self.days_cool.1) / (WARM_MEAN - COOL_MEAN)
    }

    /// The log of the ratio between typical and low, and between high and typical days. Low and high days are
    /// taken as the p10 and p90 over lines, sites and growers. A thermal time is derived from the warm days
    /// and varies with them; without one, cool and warm days count equally.
    pub(super) fn range_logs(&self) -> (f64, f64) {
        let ends = |(low, typical, high): DaysRange| ((typical / low).ln(), (high / typical).ln());
        let warm = ends(self.days_warm);
        if self.thermal_time.is_some() {
            return warm;
        }
        let cool = ends(self.days_cool);
        (f64::midpoint(warm.0, cool.0), f64::midpoint(warm.1, cool.1))
    }

    /// Half of the p10 to p90 band in days: the customary 90 % bands (from memory, no source), scaled as for
    /// a normal distribution (1.2816/1.6449).
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
        ninety_percent * (Z90 / Z95)
    }

    /// First bloom around a date inferred from the plants' stage, by the customary band for that stage. A
    /// date is a whole day, so each end is half a day further in.
    pub fn around(&self, middle: NaiveDate, seen: StageKnown) -> Spread<NaiveDate> {
        let half = (self.half_band_days(seen) - 0.5).max(0.0);
        Spread {
            p10: days::shifted_by(middle, -half),
            p50: middle,
            p90: days::shifted_by(middle, half),
        }
    }

    /// Days that a planned instead of an actual planting date adds to the uncertainty: the root of the
    /// difference of the squared bands.
    pub(super) fn plan_days(&self) -> f64 {
        let [sown, planted] =
            [StageKnown::Sown, StageKnown::Planted].map(|known| self.half_band_days(known));
        (sown * sown - planted * planted).max(0.0).sqrt()
    }
}
