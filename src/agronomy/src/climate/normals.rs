//! Monthly normals, and the daily normals derived from them.

use chrono::{Datelike, NaiveDate};

use crate::curve::{MONTH_DAYS, daily_from_monthly, daily_from_monthly_above_zero};
use crate::error::{AgronomyError, within};
use crate::quantity::Celsius;

/// Range of plausible daily minima and maxima.
const NORMAL_RANGE: (f64, f64) = (-60.0, 60.0);

/// Mean daily minimum and maximum of each month, January first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Normals {
    /// Mean daily minimum by month.
    pub tmin: [Celsius; 12],
    /// Mean daily maximum by month.
    pub tmax: [Celsius; 12],
}

impl Normals {
    /// Normals from monthly means in degrees Celsius (-60 to 60), January first.
    ///
    /// # Errors
    /// [`AgronomyError`] for a value out of range or a minimum above its maximum.
    pub fn new(tmin: [Celsius; 12], tmax: [Celsius; 12]) -> Result<Self, AgronomyError> {
        let normals = Self { tmin, tmax };
        normals.check()?;
        Ok(normals)
    }

    pub(super) fn check(&self) -> Result<(), AgronomyError> {
        self.tmin
            .iter()
            .zip(&self.tmax)
            .try_for_each(|(min, max)| check_day(*min, *max))
    }
}

/// Checks the minimum and maximum of a day or a month.
pub(super) fn check_day(min: Celsius, max: Celsius) -> Result<(), AgronomyError> {
    within("tmin", min.0, NORMAL_RANGE.0, NORMAL_RANGE.1)?;
    within("tmax", max.0, NORMAL_RANGE.0, NORMAL_RANGE.1)?;
    if min.0 <= max.0 {
        Ok(())
    } else {
        Err(AgronomyError::OutOfOrder {
            lower_field: "tmin",
            upper_field: "tmax",
            lower: min.0,
            upper: max.0,
        })
    }
}

/// Usual minimum and maximum for each day of a leap year.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DailyNormals(Vec<(f64, f64)>);

impl DailyNormals {
    /// Days whose means over each month of a common year are the normals. The daily mean and range are
    /// smoothed separately, with the range at zero or above, so that no minimum exceeds its maximum and every
    /// month keeps its mean.
    pub(super) fn of(normals: &Normals) -> Self {
        let of_month = |combine: fn(f64, f64) -> f64| -> [f64; 12] {
            std::array::from_fn(|month| combine(normals.tmin[month].0, normals.tmax[month].0))
        };
        let mean = daily_from_monthly(&of_month(f64::midpoint));
        let range = daily_from_monthly_above_zero(&of_month(|min, max| max - min));
        let mut days: Vec<(f64, f64)> = mean
            .into_iter()
            .zip(range)
            .map(|(mean, range)| (mean - range / 2.0, mean + range / 2.0))
            .collect();
        // 29 February is the mean of its neighbours.
        let leap_day = MONTH_DAYS[0] + MONTH_DAYS[1];
        if let (Some(before), Some(after)) = (days.get(leap_day - 1), days.get(leap_day)) {
            let between = (
                f64::midpoint(before.0, after.0),
                f64::midpoint(before.1, after.1),
            );
            days.insert(leap_day, between);
        }
        Self(days)
    }

    pub(super) fn on(&self, date: NaiveDate) -> (f64, f64) {
        let day = date.ordinal0() as usize;
        let after_february = day >= MONTH_DAYS[0] + MONTH_DAYS[1];
        let index = day + usize::from(after_february && !date.leap_year());
        self.0.get(index).copied().unwrap_or((0.0, 0.0))
    }
}
