//! The timing of the last and the first frost of a site.
//!
//! The dates of the last spring and the first autumn frost follow a split normal distribution: normal on
//! either side of the median date, with a standard deviation for each side. Three dates, as climate services
//! publish them, determine it exactly; two dates, or mean and standard deviation, give both sides the same
//! width. Compared with the published freeze dates of NOAA stations, three dates give all nine deciles within
//! 3 days (0.4 on average); two dates miss those beyond the median by up to 6 (0.8 on average over all nine),
//! because real dates are skewed.
//!
//! The published dates, and so the probabilities here, are for years in which a frost occurs.

mod colder;

pub use colder::{ColdNightDates, ColdNights};

use chrono::{Datelike, NaiveDate};

use crate::days;
use crate::error::{AgronomyError, within};
use crate::normal::{cdf, probit};
use crate::quantity::{Chance, Z90};

/// A day of the year as month (1 to 12) and day of the month, without 29 February.
pub type MonthDay = (u32, u32);

/// The largest distance of a one-in-ten date from the median, in days.
const DECILE_DAYS_MAX: i64 = 75;
/// The largest standard deviation, in days.
const DEVIATION_DAYS_MAX: f64 = 50.0;

/// When frost ends and begins: in the median year and in one year of ten.
///
/// `last_p10` is the late date: a 10 % chance of a frost on or after it. `first_p10` is the early date: a 10
/// % chance of a frost on or before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FrostDates {
    /// Last spring frost, median.
    pub last_p50: MonthDay,
    /// Last spring frost, as late as this in one year of ten.
    pub last_p10: MonthDay,
    /// First autumn frost, median.
    pub first_p50: MonthDay,
    /// First autumn frost, as early as this in one year of ten.
    pub first_p10: MonthDay,
}

impl FrostDates {
    /// From median dates and standard deviations in days (0 to 50). The one-in-ten dates are rounded to whole
    /// days.
    ///
    /// # Errors
    /// [`AgronomyError`] for a date that does not exist or a deviation out of range.
    pub fn from_deviation(
        last_p50: MonthDay,
        last_deviation_days: f64,
        first_p50: MonthDay,
        first_deviation_days: f64,
    ) -> Result<Self, AgronomyError> {
        let deviation = |field, days| within(field, days, 0.0, DEVIATION_DAYS_MAX);
        let last_days = deviation("last_deviation_days", last_deviation_days)? * Z90;
        let first_days = deviation("first_deviation_days", first_deviation_days)? * Z90;
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

    /// The timing of both frosts, the side without a one-in-ten date as wide as the other.
    ///
    /// # Errors
    /// [`AgronomyError`] for days that do not exist, and for one-in-ten dates on the wrong side of the median
    /// or more than 75 days away.
    pub fn model(&self) -> Result<FrostModel, AgronomyError> {
        let last = in_common_year("last_p50", self.last_p50)?;
        let late = decile_days("last_p10", last, self.last_p10, 1)?;
        let first = in_common_year("first_p50", self.first_p50)?;
        let early = decile_days("first_p10", first, self.first_p10, -1)?;
        Ok(FrostModel {
            last: FrostTiming::around(self.last_p50, late, late),
            first: FrostTiming::around(self.first_p50, early, early),
        })
    }
}

/// A common year far from the ends of the calendar, so that shifting never leaves it.
fn in_common_year(field: &'static str, day: MonthDay) -> Result<NaiveDate, AgronomyError> {
    NaiveDate::from_ymd_opt(2001, day.0, day.1).ok_or_else(|| AgronomyError::Malformed {
        field,
        expected: "month and day of a common year",
        got: format!("{}-{}", day.0, day.1),
    })
}

/// Days from the median to a one-in-ten date, the shorter way round the year; `side` is +1 for the later
/// date, -1 for the earlier.
fn decile_days(
    field: &'static str,
    median: NaiveDate,
    decile: MonthDay,
    side: i64,
) -> Result<f64, AgronomyError> {
    let days = days::between(median, in_common_year(field, decile)?);
    let nearer = (days + 182).rem_euclid(365) - 182;
    within(field, (nearer * side) as f64, 0.0, DECILE_DAYS_MAX as f64)
}

/// The timing of both frosts of a site.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostModel {
    /// The last frost of spring.
    pub last: FrostTiming,
    /// The first frost of autumn.
    pub first: FrostTiming,
}

/// The distribution of the date of one of the two frosts: a split normal around its median.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostTiming {
    /// The median day, and the fraction of a day after its start.
    median: MonthDay,
    fraction: f64,
    /// Standard deviations before and after the median, in days.
    before_days: f64,
    after_days: f64,
}

impl FrostTiming {
    /// Through three dates: the frost has come by `early` in one year of ten, by `median` in half of them, by
    /// `late` in nine of ten.
    ///
    /// Tables of the probability of a spring freeze "on or after" a date name these in reverse: their 10 %
    /// date is `late`, their 90 % date `early`. For the first autumn freeze, "on or before", the 10 % date is
    /// `early`.
    ///
    /// # Errors
    /// [`AgronomyError`] for days that do not exist, that are out of order, or that are more than 75 days
    /// from the median.
    pub fn from_dates(
        early: MonthDay,
        median: MonthDay,
        late: MonthDay,
    ) -> Result<Self, AgronomyError> {
        let middle = in_common_year("median", median)?;
        let before = decile_days("early", middle, early, -1)?;
        let after = decile_days("late", middle, late, 1)?;
        Ok(Self::around(median, before, after))
    }

    /// From mean and standard deviation in days (0 to 50). The mean is a day of a common year with a
    /// fraction, from 1, the start of 1 January, to 366, the end of 31 December.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for either out of range.
    pub fn normal(mean_day_of_year: f64, deviation_days: f64) -> Result<Self, AgronomyError> {
        let mean = within("mean_day_of_year", mean_day_of_year, 1.0, 366.0)?;
        let days = within("deviation_days", deviation_days, 0.0, DEVIATION_DAYS_MAX)?;
        let first = in_common_year("mean_day_of_year", (1, 1))?;
        let median = days::shifted(first, mean.floor() as i64 - 1);
        Ok(Self {
            fraction: mean.fract(),
            ..Self::around((median.month(), median.day()), days * Z90, days * Z90)
        })
    }

    fn around(median: MonthDay, decile_before_days: f64, decile_after_days: f64) -> Self {
        Self {
            median,
            fraction: 0.0,
            before_days: decile_before_days / Z90,
            after_days: decile_after_days / Z90,
        }
    }

    /// Probability that the frost of the season nearest to `date` comes on or before that day.
    pub fn chance_on_or_before(&self, date: NaiveDate) -> Chance {
        let days = self.days_after_median(date);
        if days == 0.0 && self.is_certain() {
            Chance::CERTAIN
        } else {
            self.share_before(days)
        }
    }

    /// Probability that the frost of the season nearest to `date` comes on or after that day.
    pub fn chance_on_or_after(&self, date: NaiveDate) -> Chance {
        let days = self.days_after_median(date);
        if days == 0.0 && self.is_certain() {
            Chance::CERTAIN
        } else {
            self.share_before(days).complement()
        }
    }

    /// The day of a common year, counted from 1 and with a fraction, by which the frost has come with
    /// probability `chance`: below 1 in the year before, above 366 in the year after. `chance` is clamped to
    /// 0.001 to 0.999, beyond which a normal distribution is meaningless.
    pub fn day_of_year_by(&self, chance: Chance) -> f64 {
        let median = NaiveDate::from_ymd_opt(2001, self.median.0, self.median.1)
            .map_or(1.0, |date| f64::from(date.ordinal()));
        median + self.fraction + self.quantile_days(chance)
    }

    /// The date in `year` nearest to [`day_of_year_by`](Self::day_of_year_by) `chance`.
    pub fn date_by(&self, year: i32, chance: Chance) -> NaiveDate {
        days::shifted_by(
            self.median_in(year),
            self.fraction + self.quantile_days(chance),
        )
    }

    fn is_certain(&self) -> bool {
        self.before_days <= 0.0 && self.after_days <= 0.0
    }

    fn median_in(&self, year: i32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, self.median.0, self.median.1).unwrap_or(if year < 0 {
            NaiveDate::MIN
        } else {
            NaiveDate::MAX
        })
    }

    /// Days from the nearest such frost's median to `date`.
    fn days_after_median(&self, date: NaiveDate) -> f64 {
        let whole = [-1, 0, 1]
            .into_iter()
            .map(|step| days::between(self.median_in(date.year().saturating_add(step)), date))
            .min_by_key(|days| days.abs())
            .unwrap_or(0);
        whole as f64 - self.fraction
    }

    /// Probability that the frost has come `days` after the median.
    fn share_before(&self, days: f64) -> Chance {
        let deviation = if days < 0.0 {
            self.before_days
        } else {
            self.after_days
        };
        if days == 0.0 {
            Chance::EVEN
        } else if deviation > 0.0 {
            Chance::clamped(cdf(days / deviation))
        } else if days < 0.0 {
            Chance::NEVER
        } else {
            Chance::CERTAIN
        }
    }

    /// Days from the median to the time by which the frost has come with probability `chance`.
    fn quantile_days(&self, chance: Chance) -> f64 {
        let share = chance.get().clamp(0.001, 0.999);
        let z = probit(share);
        z * if z < 0.0 {
            self.before_days
        } else {
            self.after_days
        }
    }
}
