//! When the last and the first frost of a place may be expected.
//!
//! The dates of the last spring and the first autumn frost are taken as normal
//! in time, each given by its even-chance date and its one-in-ten date (the
//! way climate services publish them). Held against the published freeze dates
//! of NOAA stations, the other deciles between those two come out within 3
//! days, those beyond the even date, where real dates are lopsided, within 8.

use chrono::{Datelike, NaiveDate};
use statrs::function::erf::{erfc, erfc_inv};

use crate::days;
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// A day of the year as month (1 to 12) and day of the month; 29 February is not one.
pub type MonthDay = (u32, u32);

/// Standard normal quantile of 0.9.
const Z90: f64 = 1.281_551_565_544_6;

/// The one-in-ten date may lie this many days from the even one at most.
const DECILE_DAYS_MAX: i64 = 75;

/// When frost ends and begins, in half and in one of ten years.
///
/// `last_p10` is the late date: one chance in ten of a frost on or after it.
/// `first_p10` is the early date: one chance in ten of a frost on or before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FrostDates {
    /// Last spring frost, even chance.
    pub last_p50: MonthDay,
    /// Last spring frost, one in ten is as late as this.
    pub last_p10: MonthDay,
    /// First autumn frost, even chance.
    pub first_p50: MonthDay,
    /// First autumn frost, one in ten is as early as this.
    pub first_p10: MonthDay,
}

impl FrostDates {
    /// From even-chance dates and standard deviations in days (0 to 50).
    ///
    /// # Errors
    /// [`AgronomyError`] for a date that does not exist or a deviation out of range.
    pub fn from_deviation(
        last_p50: MonthDay,
        last_deviation_days: f64,
        first_p50: MonthDay,
        first_deviation_days: f64,
    ) -> Result<Self, AgronomyError> {
        let last_days = within("last_deviation_days", last_deviation_days, 0.0, 50.0)? * Z90;
        let first_days = within("first_deviation_days", first_deviation_days, 0.0, 50.0)? * Z90;
        let moved = |field, from, days: f64| {
            let date = days::shifted_by(in_common_year(field, from)?, days);
            Ok((date.month(), date.day()))
        };
        Ok(Self {
            last_p50,
            last_p10: moved("last_p50", last_p50, last_days)?,
            first_p50,
            first_p10: moved("first_p50", first_p50, -first_days)?,
        })
    }

    pub(crate) fn fitted(&self) -> Result<FrostModel, AgronomyError> {
        Ok(FrostModel {
            last: Bell::new("last_p10", "last_p50", self.last_p50, self.last_p10, 1)?,
            first: Bell::new("first_p10", "first_p50", self.first_p50, self.first_p10, -1)?,
        })
    }
}

/// A common year in the middle of a long run, so that shifting never leaves it far.
fn in_common_year(field: &'static str, day: MonthDay) -> Result<NaiveDate, AgronomyError> {
    NaiveDate::from_ymd_opt(2001, day.0, day.1).ok_or_else(|| AgronomyError::Malformed {
        field,
        expected: "month and day of a common year",
        got: format!("{}-{}", day.0, day.1),
    })
}

/// The fitted dates of both frosts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FrostModel {
    last: Bell,
    first: Bell,
}

impl FrostModel {
    /// Chance that the spring frost nearest in time to `date` comes on or after it.
    pub(crate) fn chance_after(&self, date: NaiveDate) -> Chance {
        self.last
            .share_before(self.last.nearest_offset(date))
            .complement()
    }

    /// Chance that the autumn frost nearest in time to `date` comes on or before it.
    pub(crate) fn chance_before(&self, date: NaiveDate) -> Chance {
        self.first.share_before(self.first.nearest_offset(date))
    }

    pub(crate) fn last_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.last.quantile(year, chance.complement())
    }

    pub(crate) fn first_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.first.quantile(year, chance)
    }
}

/// A normal distribution around a day of the year.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Bell {
    middle: MonthDay,
    deviation_days: f64,
}

impl Bell {
    /// `side` is +1 where the one-in-ten date is the later one, -1 where it is the earlier.
    fn new(
        decile_field: &'static str,
        middle_field: &'static str,
        middle: MonthDay,
        decile: MonthDay,
        side: i64,
    ) -> Result<Self, AgronomyError> {
        let from = in_common_year(middle_field, middle)?;
        let to = in_common_year(decile_field, decile)?;
        let apart = ring(days::between(from, to)) * side;
        let apart = within(decile_field, apart as f64, 0.0, DECILE_DAYS_MAX as f64)?;
        Ok(Self {
            middle,
            deviation_days: apart / Z90,
        })
    }

    fn middle_in(&self, year: i32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, self.middle.0, self.middle.1).unwrap_or(if year < 0 {
            NaiveDate::MIN
        } else {
            NaiveDate::MAX
        })
    }

    /// Days from the nearest such frost's even date to `date`.
    fn nearest_offset(&self, date: NaiveDate) -> i64 {
        [-1, 0, 1]
            .into_iter()
            .map(|step| days::between(self.middle_in(date.year().saturating_add(step)), date))
            .min_by_key(|offset| offset.abs())
            .unwrap_or(0)
    }

    /// Chance that the date falls on or before `offset` days from the middle.
    fn share_before(&self, offset: i64) -> Chance {
        if self.deviation_days > 0.0 {
            let z = offset as f64 / self.deviation_days;
            Chance::clamped(0.5 * erfc(-z / std::f64::consts::SQRT_2))
        } else if offset < 0 {
            Chance::NEVER
        } else {
            Chance::CERTAIN
        }
    }

    /// The nearest date with `share` of the chance on or before it. Shares are
    /// held within 1 in 1000 of the ends, where a normal says nothing any more.
    fn quantile(&self, year: i32, share: Chance) -> NaiveDate {
        let share = share.get().clamp(0.001, 0.999);
        let z = -std::f64::consts::SQRT_2 * erfc_inv(2.0 * share);
        days::shifted_by(self.middle_in(year), z * self.deviation_days)
    }
}

/// A difference in days of the year, brought to the nearer way round (-182 to 182).
fn ring(days: i64) -> i64 {
    (days + 182).rem_euclid(365) - 182
}
