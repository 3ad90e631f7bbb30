//! A day of any year, as frost dates are told: `"05-15"`.

use core::fmt;
use core::str::FromStr;

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};

/// Month and day. 29 February is taken as a day of leap years and as 28 February in others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct MonthDay {
    month: u32,
    day: u32,
}

/// Why a text is no month and day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadMonthDay(pub String);

impl fmt::Display for BadMonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "not a month and day like 05-15: {:?}", self.0)
    }
}

impl core::error::Error for BadMonthDay {}

impl MonthDay {
    /// A month (1 to 12) and a day that it can have.
    pub fn new(month: u32, day: u32) -> Option<Self> {
        NaiveDate::from_ymd_opt(2000, month, day).map(|_| Self { month, day })
    }

    /// Of a date.
    pub fn of(date: NaiveDate) -> Self {
        Self {
            month: date.month(),
            day: date.day(),
        }
    }

    /// Month, 1 to 12.
    pub fn month(self) -> u32 {
        self.month
    }

    /// Day of the month.
    pub fn day(self) -> u32 {
        self.day
    }

    /// Whether it is the very next day of the year after another, New Year's Day after 31 December included.
    pub fn follows(self, other: Self) -> bool {
        // A leap year, so that 29 February stands between its neighbours.
        let (this, other) = (self.in_year(2000), other.in_year(2000));
        this == other.and_then(|day| day.succ_opt())
            || (this == NaiveDate::from_ymd_opt(2000, 1, 1)
                && other == NaiveDate::from_ymd_opt(2000, 12, 31))
    }

    /// The date in a year.
    pub fn in_year(self, year: i32) -> Option<NaiveDate> {
        NaiveDate::from_ymd_opt(year, self.month, self.day)
            .or_else(|| NaiveDate::from_ymd_opt(year, self.month, self.day.saturating_sub(1)))
    }
}

impl fmt::Display for MonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

impl FromStr for MonthDay {
    type Err = BadMonthDay;
    fn from_str(text: &str) -> Result<Self, BadMonthDay> {
        let bad = || BadMonthDay(text.chars().take(16).collect());
        let (month, day) = text.split_once('-').ok_or_else(bad)?;
        let (Ok(month), Ok(day)) = (month.parse(), day.parse()) else {
            return Err(bad());
        };
        // One spelling only, as the schema says.
        Self::new(month, day)
            .filter(|md| md.to_string() == text)
            .ok_or_else(bad)
    }
}

impl TryFrom<String> for MonthDay {
    type Error = BadMonthDay;
    fn try_from(text: String) -> Result<Self, BadMonthDay> {
        text.parse()
    }
}

impl From<MonthDay> for String {
    fn from(md: MonthDay) -> String {
        md.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_it_writes_and_nothing_odd() {
        let md: MonthDay = "05-15".parse().expect("reads");
        assert_eq!(md.to_string(), "05-15");
        for text in ["13-01", "02-30", "", "5", "05/15", "-5-1", "5-15", "+5-15"] {
            assert!(text.parse::<MonthDay>().is_err(), "{text}");
        }
    }

    #[test]
    fn leap_day_falls_back_in_common_years() {
        let md = MonthDay::new(2, 29).expect("leap day");
        assert_eq!(md.in_year(2027), NaiveDate::from_ymd_opt(2027, 2, 28));
        assert_eq!(md.in_year(2028), NaiveDate::from_ymd_opt(2028, 2, 29));
    }
}
