//! The way of one planting to its first bloom, day by day.

use chrono::NaiveDate;

use super::figures::BloomFigures;
use crate::climate::lately::{DAY_DEVIATION, DAYS_ALIKE, SEASON_DEVIATION};
use crate::climate::{Climate, Cover};
use crate::days;
use crate::degree_days::{ARRIVAL_DAYS_MAX, HAIR, of_expected_day, sum_until};
use crate::error::AgronomyError;
use crate::quantity::{Spread, Z90};

/// One planting's way.
pub(super) struct Way<'a> {
    pub(super) figures: &'a BloomFigures,
    pub(super) planted: NaiveDate,
    pub(super) climate: &'a Climate,
    pub(super) cover: Cover,
}

/// What a day adds.
struct Step {
    /// Of the way.
    by: f64,
    /// What a degree more would add to that.
    per_degree: f64,
    /// Share of the season's straying that is left open on the day; 0 once it is measured.
    open: f64,
}

impl Way<'_> {
    /// How far it is: degree-days, or 1 where days are counted, for the line.
    fn length(&self) -> f64 {
        let need = self.figures.thermal_time.map_or(1.0, |need| need.0);
        need * self.figures.line_factor
    }

    fn step(&self, date: NaiveDate) -> Step {
        let day = self.climate.expected_under(date, self.cover);
        let (by, per_degree) = if self.figures.thermal_time.is_some() {
            of_expected_day((day.min, day.max), self.figures.base, self.figures.ceiling)
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
        Step {
            by: rate * by,
            per_degree: rate * per_degree,
            open: day.open,
        }
    }

    /// The date that comes as likely before as after first bloom.
    pub(super) fn middle(&self) -> Result<NaiveDate, AgronomyError> {
        sum_until(self.planted, self.length(), |date| self.step(date).by).ok_or(NOT_REACHED)
    }

    /// First bloom by the crop's own range and the weather that is left open.
    ///
    /// By a day the way covered is known to within the weather of the open days: the season's straying moves them all alike, the
    /// days' own straying partly evens out. The way needed strays by the crop's range. Bloom has come by that day with 10
    /// chances in 100 when the logarithm of the one falls short of that of the other by 1.28 of their deviations together. A
    /// date is a whole day, so both ends are read half a day within.
    pub(super) fn band(&self) -> Result<Spread<NaiveDate>, AgronomyError> {
        let length = self.length();
        let (below, above) = self.figures.way_ends();
        let (mut covered, mut alike, mut apart) = (0.0_f64, 0.0_f64, 0.0_f64);
        let mut day_before = 0.0;
        let (mut early, mut middle) = (None, None);
        let mut date = self.planted;
        for offset in 0..=ARRIVAL_DAYS_MAX {
            date = days::shifted(self.planted, offset);
            let step = self.step(date);
            if covered > 0.0 {
                let weather = (SEASON_DEVIATION * SEASON_DEVIATION * alike * alike
                    + DAY_DEVIATION * DAY_DEVIATION * DAYS_ALIKE * apart)
                    .sqrt()
                    * (Z90 / covered);
                let length = length - HAIR;
                let short = |covered: f64| (length / covered).ln();
                if early.is_none() && short(covered - day_before / 2.0) <= below.hypot(weather) {
                    early = Some(date);
                }
                if middle.is_none() && length <= covered {
                    middle = Some(date);
                }
                if middle.is_some() && short(covered + step.by / 2.0) <= -above.hypot(weather) {
                    break;
                }
            }
            covered += step.by;
            day_before = step.by;
            alike += step.per_degree * step.open.sqrt();
            apart += if step.open > 0.0 {
                step.per_degree * step.per_degree
            } else {
                0.0
            };
        }
        // Where the late end lies beyond all reckoning, it is put at the last day that was looked at.
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
    limit: ARRIVAL_DAYS_MAX as f64,
};
