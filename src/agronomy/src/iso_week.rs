//! ISO 8601 weeks, as used by the plug trade: Monday to Sunday, week 1 contains the year's first Thursday.

use std::fmt;
use std::str::FromStr;

use chrono::{Datelike, Days, NaiveDate, Weekday};

use crate::error::{AgronomyError, within};

/// Range of ISO years: wide enough for any season, narrow enough that week arithmetic never leaves the
/// calendar.
const YEARS: (i32, i32) = (1600, 2999);

/// One ISO 8601 week, such as 2027-W14. Ordered by time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct IsoWeek {
    year: i32,
    week: u32,
}

impl IsoWeek {
    /// Week `week` (1 to 52, or 53 in long years) of ISO year `year` (1600 to 2999).
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] if the year has no such week.
    pub fn new(year: i32, week: u32) -> Result<Self, AgronomyError> {
        within(
            "iso_year",
            f64::from(year),
            f64::from(YEARS.0),
            f64::from(YEARS.1),
        )?;
        let last = weeks_in(year);
        within("iso_week", f64::from(week), 1.0, f64::from(last))?;
        Ok(Self { year, week })
    }

    /// The week that contains `date`. Dates outside ISO years 1600 to 2999 give the nearest week inside.
    pub fn of(date: NaiveDate) -> Self {
        let found = date.iso_week();
        Self::clamped(found.year(), found.week())
    }

    fn clamped(year: i32, week: u32) -> Self {
        if year < YEARS.0 {
            Self {
                year: YEARS.0,
                week: 1,
            }
        } else if year > YEARS.1 {
            Self {
                year: YEARS.1,
                week: weeks_in(YEARS.1),
            }
        } else {
            Self { year, week }
        }
    }

    /// The ISO year, which can differ from the calendar year around New Year.
    pub const fn year(self) -> i32 {
        self.year
    }

    /// The week's number, 1 to 53.
    pub const fn week(self) -> u32 {
        self.week
    }

    /// The week's first day.
    pub fn monday(self) -> NaiveDate {
        // The value was validated, so the fallback is unreachable.
        NaiveDate::from_isoywd_opt(self.year, self.week, Weekday::Mon).unwrap_or_default()
    }

    /// The week's last day.
    pub fn sunday(self) -> NaiveDate {
        self.monday()
            .checked_add_days(Days::new(6))
            .unwrap_or_else(|| self.monday())
    }

    /// The week `weeks` later, or earlier if negative, saturating at the first and last week (years 1600 to
    /// 2999).
    #[must_use]
    pub fn plus(self, weeks: i32) -> Self {
        let moved = crate::days::shifted(self.monday(), i64::from(weeks) * 7);
        Self::of(moved)
    }

    /// Whole weeks from this week to `other`; negative if `other` is earlier.
    pub fn weeks_until(self, other: Self) -> i32 {
        let days = other
            .monday()
            .signed_duration_since(self.monday())
            .num_days();
        i32::try_from(days / 7).unwrap_or(i32::MAX)
    }
}

/// The week of 28 December is always the last: 52 or 53.
fn weeks_in(year: i32) -> u32 {
    NaiveDate::from_ymd_opt(year, 12, 28).map_or(52, |date| date.iso_week().week())
}

impl fmt::Display for IsoWeek {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-W{:02}", self.year, self.week)
    }
}

impl FromStr for IsoWeek {
    type Err = AgronomyError;

    /// Reads `2027-W14` or `2027W14`, in either case, ignoring surrounding whitespace.
    fn from_str(text: &str) -> Result<Self, AgronomyError> {
        let malformed = || AgronomyError::Malformed {
            field: "iso_week",
            expected: "2027-W14",
            got: text.chars().take(40).collect(),
        };
        let (year, week) = text.trim().split_once(['W', 'w']).ok_or_else(malformed)?;
        let year = year.strip_suffix('-').unwrap_or(year);
        let number = |digits: &str, length: usize| {
            (digits.len() == length && digits.bytes().all(|byte| byte.is_ascii_digit()))
                .then(|| digits.parse::<u32>().ok())
                .flatten()
        };
        let year = number(year, 4).ok_or_else(malformed)?;
        let week = number(week, 2).ok_or_else(malformed)?;
        Self::new(i32::try_from(year).map_err(|_| malformed())?, week)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_both_forms_and_refuses_others() {
        let week = IsoWeek::new(2027, 14).unwrap();
        for text in ["2027-W14", "2027W14", "2027-w14", " 2027w14 "] {
            assert_eq!(text.parse(), Ok(week), "{text}");
        }
        for text in [
            "",
            "2027",
            "2027-14",
            "2027-W1",
            "2027-W141",
            "27-W14",
            "2027--W14",
            "2027-W00",
            "2027-W53",
            "+027-W14",
            "2027-W1é",
        ] {
            assert!(text.parse::<IsoWeek>().is_err(), "{text}");
        }
        assert_eq!(week.to_string(), "2027-W14");
    }

    #[test]
    fn counts_across_a_long_year() {
        let last = IsoWeek::new(2026, 53).unwrap();
        let next = IsoWeek::new(2027, 1).unwrap();
        assert_eq!(last.plus(1), next);
        assert_eq!(next.plus(-1), last);
        assert_eq!(IsoWeek::new(2026, 1).unwrap().weeks_until(next), 53);
        assert_eq!(next.weeks_until(last), -1);
    }

    #[test]
    fn stops_at_the_ends_of_the_calendar() {
        let week = IsoWeek::new(2027, 14).unwrap();
        assert_eq!(week.plus(i32::MAX).year(), 2999);
        assert_eq!(week.plus(i32::MIN), IsoWeek::new(1600, 1).unwrap());
        assert_eq!(IsoWeek::of(NaiveDate::MAX).year(), 2999);
    }
}
