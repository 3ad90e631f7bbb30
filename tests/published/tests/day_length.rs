//! Day length against independent ephemerides and published tables.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::daylength::{Horizon, day_length};
use agronomy::quantity::Latitude;
use chrono::{Datelike, NaiveDate};
use published::{close, table};

const MINUTE: f64 = 1.0 / 60.0;

fn hours(latitude: f64, date: NaiveDate, horizon: Horizon) -> f64 {
    day_length(Latitude::new(latitude).unwrap(), date, horizon).0
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Sources: pvlib 0.16.1 (solar position algorithm of Reda & Andreas, NREL) and astropy 8.0.2, both
/// independent of the equations used here; and the NOAA equations computed separately with the sun's position
/// at noon, where we use that at sunrise and sunset. The target is a minute up to 60 degrees and four up to
/// 66. We are within 0.002 h (7 s) of pvlib and 0.01 h (36 s) of the others up to 65. At 70, near the midnight
/// sun, the three differ from each other by up to 0.1 h; there we are within 0.02 h of astropy and 0.12 h of
/// the others.
#[test]
fn the_grid_of_latitudes_and_dates_agrees_with_two_ephemerides() {
    for row in table("day_length_grid_2025.csv") {
        let latitude = row.number("lat_deg");
        let day = date(row.text("date"));
        let (noaa, pvlib, astropy) = if latitude.abs() > 65.0 {
            (0.12, 0.12, 0.02)
        } else {
            (0.01, 0.002, 0.01)
        };
        let upper = hours(latitude, day, Horizon::UpperLimb);
        for (column, tolerance) in [
            ("noaa_alt-0.833_h", noaa),
            ("pvlib0.16.1_SPA_h", pvlib),
            ("astropy8.0.2_alt-0.8333_h", astropy),
        ] {
            if let Some(wanted) = row.maybe(column) {
                close(upper, wanted, tolerance, &(column, &row));
            }
        }
        let centre = hours(latitude, day, Horizon::Centre);
        close(centre, row.number("noaa_alt0_h"), noaa, &row);
    }
}

/// Source: pvlib 0.16.1 (solar position algorithm of Reda & Andreas, NREL), from 1900 to 2100. The target is a
/// minute up to 60 degrees and four up to 66; we are within 12 seconds and a minute and a half. Empty rows are
/// days of midnight sun.
#[test]
fn two_centuries_of_day_lengths_agree_with_an_ephemeris() {
    for row in table("sun_1900_to_2100.csv") {
        let latitude = row.number("lat_deg");
        let tolerance = if latitude.abs() > 60.0 { 1.5 } else { 0.2 } * MINUTE;
        let length = hours(latitude, date(row.text("date")), Horizon::UpperLimb);
        let wanted = row
            .maybe("sunrise_h")
            .map_or(24.0, |sunrise| row.number("sunset_h") - sunrise);
        close(length, wanted, tolerance, &row);
    }
}

/// Source: the NOAA equations computed separately for leap and common years.
#[test]
fn day_length_follows_through_leap_years() {
    for row in table("declination_and_equation_of_time.csv") {
        let length = hours(50.0, date(row.text("date")), Horizon::UpperLimb);
        close(length, row.number("noaa_daylength_lat50_h"), 0.01, &row);
    }
}

/// The dates on which day length crosses a threshold.
fn crossings(latitude: f64, threshold: f64, horizon: Horizon) -> Vec<NaiveDate> {
    let long = |day| hours(latitude, day, horizon) >= threshold;
    date("2025-01-01")
        .iter_days()
        .take(365)
        .filter(|day| long(*day) != long(day.pred_opt().unwrap()))
        .collect()
}

/// Source: the NOAA equations computed separately for 2025, for the sun's edge, its centre and civil twilight:
/// within a day up to 60 degrees, two beyond. The shortest and longest day are within a minute up to 60
/// degrees, four beyond.
#[test]
fn day_length_crosses_thresholds_on_the_published_dates() {
    for row in table("day_length_crossings_2025.csv") {
        let horizon = match row.text("definition") {
            "centre" => Horizon::Centre,
            "civil twilight" => Horizon::CivilTwilight,
            _ => Horizon::UpperLimb,
        };
        let latitude = row.number("lat_deg");
        let found = crossings(latitude, row.number("threshold_h"), horizon);
        let (slack, minutes) = if latitude.abs() > 60.0 {
            (2, 4.0)
        } else {
            (1, 1.0)
        };
        let wanted: Vec<NaiveDate> = [
            "first_date_at_or_above_after_rise",
            "first_date_below_after_fall",
        ]
        .into_iter()
        .filter(|column| !row.text(column).is_empty())
        .map(|column| date(row.text(column)))
        .collect();
        assert_eq!(found.len(), wanted.len(), "{row:?} {found:?}");
        for day in wanted {
            let nearest = found.iter().map(|at| (*at - day).num_days().abs()).min();
            assert!(
                nearest.is_some_and(|days| days <= slack),
                "{row:?} {found:?}"
            );
        }
        let year = date("2025-01-01").iter_days().take(365);
        let lengths: Vec<f64> = year.map(|day| hours(latitude, day, horizon)).collect();
        let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        close(shortest, row.number("min_h"), minutes * MINUTE, &row);
        close(longest, row.number("max_h"), minutes * MINUTE, &row);
    }
}

/// By definition of the polar circles: within the circle the sun stays up through the night of one solstice
/// and down through the day of the other.
#[test]
fn polar_days_and_nights_last_24_hours() {
    for year in [1900, 2000, 2024, 2100] {
        let june = NaiveDate::from_ymd_opt(year, 6, 21).unwrap();
        let december = NaiveDate::from_ymd_opt(year, 12, 21).unwrap();
        for latitude in [90.0, 80.0, 70.0] {
            for (side, light, dark) in [(1.0, june, december), (-1.0, december, june)] {
                for horizon in [Horizon::Centre, Horizon::UpperLimb] {
                    close(hours(side * latitude, light, horizon), 24.0, 0.0, &latitude);
                    close(hours(side * latitude, dark, horizon), 0.0, 0.0, &latitude);
                }
            }
        }
    }
}

/// Source: the rule of the calendar: 1900 and 2100 have no 29 February, 2000 has. With it the sun returns to
/// within a day each year, and day length at 50 N on 1 March stays within six minutes.
#[test]
fn leap_years_keep_day_length_in_step_with_the_calendar() {
    for (year, days) in [(1900, 365), (2000, 366), (2100, 365)] {
        let first = NaiveDate::from_ymd_opt(year, 1, 1).unwrap();
        assert_eq!(
            first
                .iter_days()
                .take_while(|day| day.year() == year)
                .count(),
            days
        );
    }
    let march = |year| NaiveDate::from_ymd_opt(year, 3, 1).unwrap();
    let lengths: Vec<f64> = (1900..=2100)
        .map(|year| hours(50.0, march(year), Horizon::UpperLimb))
        .collect();
    let usual = hours(50.0, march(2000), Horizon::UpperLimb);
    for length in &lengths {
        close(*length, usual, 6.0 * MINUTE, &"1 March");
    }
    // From one year to the next it falls by a quarter of a day's gain, or rises by three quarters of it across
    // a 29 February, as in 2000 but not in 1900 and 2100.
    for (index, pair) in lengths.windows(2).enumerate() {
        let year = 1901 + index as i32;
        let leap = NaiveDate::from_ymd_opt(year, 2, 29).is_some();
        let step = (pair[1] - pair[0]) / MINUTE;
        assert!(
            if leap {
                (2.0..4.0).contains(&step)
            } else {
                (-1.5..0.0).contains(&step)
            },
            "{year} {step}"
        );
    }
}

/// Source: September day lengths for Decorah, Iowa (43.30 N), printed by Luther College (R. Bernatz) after the
/// US Naval Observatory; the year is not stated, hence the tolerance of two minutes.
#[test]
fn september_in_decorah_is_as_long_as_printed() {
    for (day, printed) in [
        (1, (13, 9)),
        (10, (12, 43)),
        (15, (12, 29)),
        (25, (12, 0)),
        (30, (11, 45)),
    ] {
        let when = NaiveDate::from_ymd_opt(2025, 9, day).unwrap();
        let wanted = f64::from(printed.0) + f64::from(printed.1) / 60.0;
        let got = hours(43.30, when, Horizon::UpperLimb);
        close(got, wanted, 2.0 / 60.0, &when);
    }
}

/// Source: US Naval Observatory table for San Francisco (37.77 N) as quoted in print on 2007-03-06: shortest
/// day of 2007 9:33, 5 March 2007 11:31.
#[test]
fn san_francisco_2007_is_as_long_as_printed() {
    let shortest = (1..=31)
        .map(|day| NaiveDate::from_ymd_opt(2007, 12, day).unwrap())
        .map(|day| hours(37.77, day, Horizon::UpperLimb))
        .fold(f64::INFINITY, f64::min);
    close(shortest, 9.0 + 33.0 / 60.0, 1.0 / 60.0, &"December 2007");
    let march = hours(37.77, date("2007-03-05"), Horizon::UpperLimb);
    close(march, 11.0 + 31.0 / 60.0, 2.0 / 60.0, &"5 March 2007");
}
