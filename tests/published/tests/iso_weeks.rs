//! Week numbers against published examples of ISO 8601 week dates.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::iso_week::IsoWeek;
use chrono::{Datelike, NaiveDate};

/// The table of dates around New Year that accompanies descriptions of ISO 8601 week dates: calendar date, ISO
/// week, weekday.
const AROUND_NEW_YEAR: [(&str, &str, u32); 20] = [
    ("2005-01-01", "2004-W53", 6),
    ("2005-01-02", "2004-W53", 7),
    ("2005-12-31", "2005-W52", 6),
    ("2006-01-01", "2005-W52", 7),
    ("2006-01-02", "2006-W01", 1),
    ("2006-12-31", "2006-W52", 7),
    ("2007-01-01", "2007-W01", 1),
    ("2007-12-30", "2007-W52", 7),
    ("2007-12-31", "2008-W01", 1),
    ("2008-01-01", "2008-W01", 2),
    ("2008-12-28", "2008-W52", 7),
    ("2008-12-29", "2009-W01", 1),
    ("2008-12-30", "2009-W01", 2),
    ("2008-12-31", "2009-W01", 3),
    ("2009-01-01", "2009-W01", 4),
    ("2009-12-31", "2009-W53", 4),
    ("2010-01-01", "2009-W53", 5),
    ("2010-01-02", "2009-W53", 6),
    ("2010-01-03", "2009-W53", 7),
    ("2010-01-04", "2010-W01", 1),
];

/// Source: the published table of ISO 8601 week date examples.
#[test]
fn dates_around_new_year_fall_into_the_published_weeks() {
    for (date, week, weekday) in AROUND_NEW_YEAR {
        let day: NaiveDate = date.parse().unwrap();
        let found = IsoWeek::of(day);
        assert_eq!(found.to_string(), week, "{date}");
        assert_eq!(week.parse(), Ok(found), "{date}");
        assert_eq!(day.weekday().number_from_monday(), weekday, "{date}");
        let place = (day - found.monday()).num_days() + 1;
        assert_eq!(place, i64::from(weekday), "{date}");
        assert_eq!((found.sunday() - found.monday()).num_days(), 6);
    }
}

/// Source: the published cycle of the standard: 400 years have 146,097 days, 20,871 weeks, and 71 years with 53
/// weeks.
#[test]
fn four_hundred_years_have_the_published_number_of_weeks_and_long_years() {
    let first = IsoWeek::new(2000, 1).unwrap();
    let after = IsoWeek::new(2400, 1).unwrap();
    assert_eq!(first.weeks_until(after), 20_871);
    assert_eq!(first.plus(20_871), after);
    assert_eq!((after.monday() - first.monday()).num_days(), 146_097);
    let long = (2000..2400).filter(|year| IsoWeek::new(*year, 53).is_ok());
    assert_eq!(long.count(), 71);
}

/// Years with 53 weeks from 2004 to 2037, as listed in published calendars (from memory; those in which 1
/// January or 31 December is a Thursday).
#[test]
fn long_years_are_those_listed() {
    let long: Vec<i32> = (2004..=2037)
        .filter(|year| IsoWeek::new(*year, 53).is_ok())
        .collect();
    assert_eq!(long, [2004, 2009, 2015, 2020, 2026, 2032, 2037]);
}
