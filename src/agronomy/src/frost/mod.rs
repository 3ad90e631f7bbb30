//! When the last and the first frost of a place may be expected.
//!
//! The dates of the last spring and the first autumn frost are taken as normal
//! in time to either side of their even-chance date, with a width of its own
//! for each side (a split normal). Given by three dates, the way climate
//! services publish them, all three are met; given by two, or by mean and
//! deviation, both sides are alike. Held against the published freeze dates of
//! NOAA stations, three dates give all nine deciles within 3 days (0.4 on
//! average); two dates miss those beyond the even one by up to 6 (0.8 on
//! average over all nine), because real dates are lopsided.
//!
//! The published dates, and so the chances here, are for years in which a
//! frost comes at all.

mod colder;

pub use colder::{ColdNights, Colder};

use chrono::{Datelike, NaiveDate};

use crate::days;
use crate::error::{AgronomyError, within};
use crate::probit::{probit, share_below};
use crate::quantity::{Chance, Z90};

/// A day of the year as month (1 to 12) and day of the month; 29 February is not one.
pub type MonthDay = (u32, u32);

/// The one-in-ten date may lie this many days from the even one at most.
const DECILE_DAYS_MAX: i64 = 75;
/// Widest standard deviation in days.
const DEVIATION_DAYS_MAX: f64 = 50.0;

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
    /// From even-chance dates and standard deviations in days (0 to 50). The
    /// one-in-ten dates are rounded to whole days: [`FrostTiming::normal`] keeps
    /// the fraction.
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

    /// The chances these dates stand for, the side without a one-in-ten date as
    /// wide as the other.
    ///
    /// # Errors
    /// [`AgronomyError`] for days that do not exist, and for one-in-ten dates on
    /// the wrong side of, or more than 75 days from, the even ones.
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

/// A common year in the middle of a long run, so that shifting never leaves it far.
fn in_common_year(field: &'static str, day: MonthDay) -> Result<NaiveDate, AgronomyError> {
    NaiveDate::from_ymd_opt(2001, day.0, day.1).ok_or_else(|| AgronomyError::Malformed {
        field,
        expected: "month and day of a common year",
        got: format!("{}-{}", day.0, day.1),
    })
}

/// Days from the even date to a one-in-ten date, the shorter way round the year;
/// `side` is +1 where that is the later one, -1 where it is the earlier.
fn decile_days(
    field: &'static str,
    even: NaiveDate,
    decile: MonthDay,
    side: i64,
) -> Result<f64, AgronomyError> {
    let days = days::between(even, in_common_year(field, decile)?);
    let nearer = (days + 182).rem_euclid(365) - 182;
    within(field, (nearer * side) as f64, 0.0, DECILE_DAYS_MAX as f64)
}

/// The chances of both frosts of a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostModel {
    /// The last frost of spring.
    pub last: FrostTiming,
    /// The first frost of autumn.
    pub first: FrostTiming,
}

/// When one of the two frosts comes: normal in time on either side of the day
/// by which it has come with even chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostTiming {
    /// The even-chance day, and by what share of a day it comes after that.
    even: MonthDay,
    fraction: f64,
    /// Standard deviations before and after it, in days.
    before_days: f64,
    after_days: f64,
}

impl FrostTiming {
    /// Through three dates: by `early` the frost has come in one year of ten, by
    /// `even` in half of them, by `late` in nine of ten. All three are met.
    ///
    /// Tables that print chances of a spring freeze "on or after" a date name
    /// these the other way round: their 10 % date of the last freeze is `late`,
    /// their 90 % date `early`. Of the first autumn freeze, "on or before", the
    /// 10 % date is `early`.
    ///
    /// # Errors
    /// [`AgronomyError`] for days that do not exist, that do not follow each
    /// other, or that lie more than 75 days from the even one.
    pub fn from_dates(
        early: MonthDay,
        even: MonthDay,
        late: MonthDay,
    ) -> Result<Self, AgronomyError> {
        let middle = in_common_year("even", even)?;
        let before = decile_days("early", middle, early, -1)?;
        let after = decile_days("late", middle, late, 1)?;
        Ok(Self::around(even, before, after))
    }

    /// From mean and standard deviation in days (0 to 50). The mean is a day of a
    /// common year with its fraction, from 1, the start of 1 January, to 366, the
    /// end of 31 December.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for either outside its range.
    pub fn normal(mean_day_of_year: f64, deviation_days: f64) -> Result<Self, AgronomyError> {
        let mean = within("mean_day_of_year", mean_day_of_year, 1.0, 366.0)?;
        let days = within("deviation_days", deviation_days, 0.0, DEVIATION_DAYS_MAX)?;
        let first = in_common_year("mean_day_of_year", (1, 1))?;
        let even = days::shifted(first, mean.floor() as i64 - 1);
        Ok(Self {
            fraction: mean.fract(),
            ..Self::around((even.month(), even.day()), days * Z90, days * Z90)
        })
    }

    fn around(even: MonthDay, decile_before_days: f64, decile_after_days: f64) -> Self {
        Self {
            even,
            fraction: 0.0,
            before_days: decile_before_days / Z90,
            after_days: decile_after_days / Z90,
        }
    }

    /// Chance that the frost of the season nearest in time to `date` comes on or
    /// before that day.
    pub fn chance_on_or_before(&self, date: NaiveDate) -> Chance {
        let days = self.days_after_even(date);
        if days == 0.0 && self.is_certain() {
            Chance::CERTAIN
        } else {
            self.share_before(days)
        }
    }

    /// Chance that the frost of the season nearest in time to `date` comes on or
    /// after that day.
    pub fn chance_on_or_after(&self, date: NaiveDate) -> Chance {
        let days = self.days_after_even(date);
        if days == 0.0 && self.is_certain() {
            Chance::CERTAIN
        } else {
            self.share_before(days).complement()
        }
    }

    /// The day of a common year, counted from 1 and with its fraction, by which
    /// the frost has come with `chance`: below 1 in the year before, above 366
    /// in the year after. Chances are held within 0.001 to 0.999, beyond which
    /// a normal says nothing any more.
    pub fn day_of_year_by(&self, chance: Chance) -> f64 {
        let even = NaiveDate::from_ymd_opt(2001, self.even.0, self.even.1)
            .map_or(1.0, |date| f64::from(date.ordinal()));
        even + self.fraction + self.quantile_days(chance)
    }

    /// The date in `year` nearest to the moment by which the frost has come with
    /// `chance`, held as in [`day_of_year_by`](Self::day_of_year_by).
    pub fn date_by(&self, year: i32, chance: Chance) -> NaiveDate {
        days::shifted_by(
            self.even_in(year),
            self.fraction + self.quantile_days(chance),
        )
    }

    fn is_certain(&self) -> bool {
        self.before_days <= 0.0 && self.after_days <= 0.0
    }

    fn even_in(&self, year: i32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, self.even.0, self.even.1).unwrap_or(if year < 0 {
            NaiveDate::MIN
        } else {
            NaiveDate::MAX
        })
    }

    /// Days from the nearest such frost's even-chance moment to `date`.
    fn days_after_even(&self, date: NaiveDate) -> f64 {
        let whole = [-1, 0, 1]
            .into_iter()
            .map(|step| days::between(self.even_in(date.year().saturating_add(step)), date))
            .min_by_key(|days| days.abs())
            .unwrap_or(0);
        whole as f64 - self.fraction
    }

    /// Chance that the frost has come so many days after the even-chance moment.
    fn share_before(&self, days: f64) -> Chance {
        let deviation = if days < 0.0 {
            self.before_days
        } else {
            self.after_days
        };
        if days == 0.0 {
            Chance::EVEN
        } else if deviation > 0.0 {
            Chance::clamped(share_below(days / deviation))
        } else if days < 0.0 {
            Chance::NEVER
        } else {
            Chance::CERTAIN
        }
    }

    /// Days from the even-chance moment to the one by which it has come with `chance`.
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
