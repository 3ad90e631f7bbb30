//! Degree-days over days that were measured.

use chrono::NaiveDate;

use super::{DayRange, HAIR, Method, Thresholds, check_need};
use crate::days;
use crate::error::AgronomyError;
use crate::quantity::{Celsius, DegreeDays};

/// Measured days that follow each other without a gap.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    first: NaiveDate,
    days: Vec<DayRange>,
}

impl Series {
    /// Minima and maxima of consecutive days, the first of them on `first`.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for a series without a day, and as
    /// [`DayRange::new`] for the first day that cannot be.
    pub fn new(first: NaiveDate, days: &[(Celsius, Celsius)]) -> Result<Self, AgronomyError> {
        if days.is_empty() {
            return Err(AgronomyError::OutOfRange {
                field: "series.days",
                low: 1.0,
                high: f64::INFINITY,
                got: 0.0,
            });
        }
        let days = days
            .iter()
            .map(|(min, max)| DayRange::new(*min, *max))
            .collect::<Result<_, _>>()?;
        Ok(Self { first, days })
    }

    /// The date of the first day.
    pub fn first(&self) -> NaiveDate {
        self.first
    }

    /// How many days it has, at least one.
    pub fn days(&self) -> usize {
        self.days.len()
    }

    /// Degree-days of all its days.
    pub fn degree_days(&self, method: Method, thresholds: Thresholds) -> DegreeDays {
        let each = self.days.iter();
        DegreeDays(each.map(|day| method.of_day(*day, thresholds).0).sum())
    }

    /// The first date by whose start `need` degree-days (0 to 100,000) have
    /// passed since the start of the first day: the day after the last one at
    /// the latest.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for a need that is none;
    /// [`AgronomyError::NotReached`] if its days give less, with their number.
    pub fn arrival(
        &self,
        method: Method,
        thresholds: Thresholds,
        need: DegreeDays,
    ) -> Result<NaiveDate, AgronomyError> {
        let need = check_need(need)?;
        let mut sum = 0.0;
        let mut date = self.first;
        for day in &self.days {
            if sum >= need - HAIR {
                return Ok(date);
            }
            sum += method.of_day(*day, thresholds).0;
            date = days::shifted(date, 1);
        }
        if sum >= need - HAIR {
            return Ok(date);
        }
        Err(AgronomyError::NotReached {
            field: "degree_days",
            limit: self.days.len() as f64,
        })
    }
}
