//! The development of one planting towards its first bloom, day by day.

use chrono::NaiveDate;

use super::figures::BloomFigures;
use crate::climate::anomaly::{DAY_DEVIATION, SEASON_DEVIATION, VARIANCE_INFLATION};
use crate::climate::{Climate, Cover};
use crate::days;
use crate::degree_days::{SUM_DAYS_MAX, TOLERANCE, sum_until, with_slope};
use crate::error::AgronomyError;
use crate::quantity::{Spread, Z90};

/// The development of one planting.
pub(super) struct Development<'a> {
    pub(super) figures: &'a BloomFigures,
    pub(super) planted: NaiveDate,
    pub(super) climate: &'a Climate,
    pub(super) cover: Cover,
}

/// One day of development.
struct DailyProgress {
    /// Degree-days, or a share of the days needed, at the rate of the day's length.
    progress: f64,
    /// What one degree more would add to it.
    per_degree: f64,
    /// Share of the season's variance that is still uncertain; 0 for a measured day.
    uncertain: f64,
}

impl Development<'_> {
    /// The development needed by this line: degree-days, or 1 if days are counted.
    fn required(&self) -> f64 {
        let need = self.figures.thermal_time.map_or(1.0, |need| need.0);
        need * self.figures.line_factor
    }

    fn daily_progress(&self, date: NaiveDate) -> DailyProgress {
        let day = self.climate.expected_under(date, self.cover);
        let (progress, per_degree) = if self.figures.thermal_time.is_some() {
            with_slope((day.min, day.max), self.figures.base, self.figures.ceiling)
        } else {
            let mean = f64::midpoint(day.min.0, day.max.0);
            (
                self.figures.daily_share(mean),
                self.figures.share_per_degree(),
            )
        };
        let rate = self.figures.day_length.map_or(1.0, |response| {
            response.rate(self.climate.photoperiod(date))
        });
        DailyProgress {
            progress: rate * progress,
            per_degree: rate * per_degree,
            uncertain: day.uncertain,
        }
    }

    /// The median date of first bloom.
    pub(super) fn median(&self) -> Result<NaiveDate, AgronomyError> {
        sum_until(self.planted, self.required(), |date| {
            self.daily_progress(date).progress
        })
        .ok_or(NOT_REACHED)
    }

    /// First bloom with the uncertainty of the crop's own range and of the weather to come.
    ///
    /// By a given day, the development so far is uncertain by the weather of the unmeasured days: the anomaly
    /// of the season shifts them all together, while the deviations of single days partly cancel. The
    /// development needed varies by the crop's range. The 10th percentile is the day by which the logarithm
    /// of the first falls short of that of the second by 1.28 of their combined standard deviations. Since a
    /// date is a whole day, both ends are read half a day further in.
    pub(super) fn band(&self) -> Result<Spread<NaiveDate>, AgronomyError> {
        let required = self.required();
        let (below, above) = self.figures.range_logs();
        let (mut covered, mut together, mut apart) = (0.0_f64, 0.0_f64, 0.0_f64);
        let mut day_before = 0.0;
        let (mut early, mut middle) = (None, None);
        let mut date = self.planted;
        for offset in 0..=SUM_DAYS_MAX {
            date = days::shifted(self.planted, offset);
            let step = self.daily_progress(date);
            if covered > 0.0 {
                let weather = (SEASON_DEVIATION * SEASON_DEVIATION * together * together
                    + DAY_DEVIATION * DAY_DEVIATION * VARIANCE_INFLATION * apart)
                    .sqrt()
                    * (Z90 / covered);
                let required = required - TOLERANCE;
                let short = |covered: f64| (required / covered).ln();
                if early.is_none() && short(covered - day_before / 2.0) <= below.hypot(weather) {
                    early = Some(date);
                }
                if middle.is_none() && required <= covered {
                    middle = Some(date);
                }
                if middle.is_some() && short(covered + step.progress / 2.0) <= -above.hypot(weather)
                {
                    break;
                }
            }
            covered += step.progress;
            day_before = step.progress;
            together += step.per_degree * step.uncertain.sqrt();
            apart += if step.uncertain > 0.0 {
                step.per_degree * step.per_degree
            } else {
                0.0
            };
        }
        // If the late end is beyond the limit, it is the last day considered.
        let p50 = middle.ok_or(NOT_REACHED)?;
        Ok(Spread {
            p10: early.map_or(p50, |early| early.min(p50)),
            p50,
            p90: date,
        })
    }
}

const NOT_REACHED: AgronomyError = AgronomyError::NotReached {
    field: "first_bloom",
    limit: SUM_DAYS_MAX as f64,
};
