//! Weeks along the bottom of the season drawing: which dates it spans and where each lies.

use agronomy::iso_week::IsoWeek;
use chrono::{Datelike, NaiveDate};

/// Weeks that are drawn at most: two years.
const WEEKS_MAX: i32 = 104;

/// A span of whole weeks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Axis {
    first: IsoWeek,
    weeks: i32,
}

/// A month on the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Month {
    /// 1 to 12.
    pub number: u32,
    /// Where it begins, percent; below 0 for the first one.
    pub begins: f64,
    /// Its middle, percent.
    pub middle: f64,
}

impl Axis {
    /// The weeks of `today`'s year, and before and after it those that the dates need.
    pub fn around(today: NaiveDate, dates: impl Iterator<Item = NaiveDate>) -> Self {
        let year = IsoWeek::of(today).year();
        let begin = IsoWeek::new(year, 1).unwrap_or(IsoWeek::of(today));
        let end = IsoWeek::new(year + 1, 1).map_or(begin.plus(51), |week| week.plus(-1));
        let (mut from, mut to) = (begin, end);
        for week in dates.map(IsoWeek::of) {
            from = from.min(week);
            to = to.max(week);
        }
        // A date that is far off leaves the year in sight.
        let from = from.max(begin.plus(-26));
        let weeks = (from.weeks_until(to) + 1).clamp(1, WEEKS_MAX);
        Self { first: from, weeks }
    }

    /// The first day.
    pub fn begin(self) -> NaiveDate {
        self.first.monday()
    }

    /// The last day.
    pub fn end(self) -> NaiveDate {
        self.first.plus(self.weeks - 1).sunday()
    }

    /// All weeks, first to last.
    pub fn weeks(self) -> impl Iterator<Item = IsoWeek> {
        (0..self.weeks).map(move |n| self.first.plus(n))
    }

    /// Where the beginning of a day lies, percent; at an end for a day outside.
    pub fn x(self, date: NaiveDate) -> f64 {
        let days = (date - self.begin()).num_days() as f64;
        (days / f64::from(self.weeks * 7) * 100.0).clamp(0.0, 100.0)
    }

    /// The months it crosses.
    pub fn months(self) -> Vec<Month> {
        let mut months = Vec::new();
        let (mut year, mut month) = (self.begin().year(), self.begin().month());
        let first_of = |year, month| NaiveDate::from_ymd_opt(year, month, 1);
        while let Some(begin) = first_of(year, month).filter(|begin| *begin <= self.end()) {
            (year, month) = if month == 12 {
                (year + 1, 1)
            } else {
                (year, month + 1)
            };
            let Some(next) = first_of(year, month) else {
                break;
            };
            let (begins, ends) = (self.x(begin), self.x(next));
            months.push(Month {
                number: begin.month(),
                begins: if begin < self.begin() { -1.0 } else { begins },
                middle: (begins + ends) / 2.0,
            });
        }
        months
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn holds(axis: Axis, date: NaiveDate) -> bool {
        (axis.begin()..=axis.end()).contains(&date)
    }

    #[test]
    fn a_quiet_year_spans_its_own_weeks() {
        let axis = Axis::around(day("2027-06-14"), core::iter::empty());
        assert_eq!(axis.begin(), day("2027-01-04"));
        assert_eq!(axis.end(), day("2028-01-02"));
        assert_eq!(axis.weeks().count(), 52);
        assert!((axis.x(day("2027-01-04"))).abs() < 1e-9);
        assert!((axis.x(day("2027-07-05")) - 50.0).abs() < 1e-9);
        // A long year has 53 weeks: 2026 by ISO 8601.
        let long = Axis::around(day("2026-06-14"), core::iter::empty());
        assert_eq!(long.weeks().count(), 53);
    }

    #[test]
    fn autumn_sowings_and_next_spring_widen_it_but_a_slip_of_the_year_does_not() {
        let dates = ["2026-10-01", "2028-03-01"].map(day);
        let axis = Axis::around(day("2027-06-14"), dates.into_iter());
        assert!(holds(axis, dates[0]) && holds(axis, dates[1]));
        let far = ["1995-01-01", "2150-01-01"].map(day);
        let axis = Axis::around(day("2027-06-14"), far.into_iter());
        assert!(axis.weeks().count() <= 104);
        assert!(holds(axis, day("2027-06-14")));
        assert!((axis.x(far[1]) - 100.0).abs() < 1e-9 && axis.x(far[0]).abs() < 1e-9);
    }

    #[test]
    fn months_follow_each_other_to_the_end() {
        let months = Axis::around(day("2027-06-14"), core::iter::empty()).months();
        let numbers: Vec<u32> = months.iter().map(|m| m.number).collect();
        assert_eq!(numbers, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 1]);
        assert!(
            months
                .windows(2)
                .all(|pair| pair[0].begins < pair[1].begins)
        );
    }
}
