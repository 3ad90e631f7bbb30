//! Properties of day length at any latitude and date.

#![allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

use agronomy::daylength::{Horizon, day_length};
use agronomy::quantity::Latitude;
use chrono::{Days, NaiveDate};
use proptest::prelude::*;

const HORIZONS: [Horizon; 3] = [Horizon::Centre, Horizon::UpperLimb, Horizon::CivilTwilight];

fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn hours(latitude: f64, day: NaiveDate, horizon: Horizon) -> f64 {
    day_length(Latitude::new(latitude).unwrap(), day, horizon).0
}

#[test]
fn polar_days_last_24_hours_and_the_equator_hardly_varies() {
    let length = |latitude, day| hours(latitude, day, Horizon::UpperLimb);
    let (june, december) = (date(2027, 6, 21), date(2027, 12, 21));
    for (latitude, light, dark) in [(80.0, june, december), (-80.0, december, june)] {
        assert_eq!(length(latitude, light), 24.0);
        assert_eq!(length(latitude, dark), 0.0);
    }
    for day in june.iter_days().take(366) {
        assert!((length(0.0, day) - 12.12).abs() < 0.02, "{day}");
    }
}

/// At the pole the sun rises and sets once a year.
#[test]
fn the_poles_have_one_long_day_a_year() {
    for latitude in [90.0, -90.0] {
        let days: Vec<f64> = date(2027, 1, 1)
            .iter_days()
            .take(365)
            .map(|day| hours(latitude, day, Horizon::UpperLimb))
            .collect();
        let whole = days.iter().filter(|length| **length == 24.0).count();
        let none = days.iter().filter(|length| **length == 0.0).count();
        assert!(whole + none >= 363, "{latitude}: {whole} and {none}");
        let wanted = if latitude > 0.0 { 185..=191 } else { 178..=184 };
        assert!(wanted.contains(&whole), "{latitude}: {whole}");
    }
}

/// Day lengths stay valid up to the ends of the calendar, far outside the range of the equations.
#[test]
fn day_lengths_are_valid_up_to_the_ends_of_the_calendar() {
    for day in [
        NaiveDate::MIN,
        NaiveDate::MAX,
        date(-4000, 6, 21),
        date(9999, 12, 21),
    ] {
        for latitude in [-90.0, -66.0, -45.0, 0.0, 45.0, 66.0, 90.0] {
            for horizon in HORIZONS {
                let length = hours(latitude, day, horizon);
                assert!((0.0..=24.0).contains(&length), "{day} {latitude}");
            }
        }
    }
}

proptest! {
    /// At the mirrored latitude the night is as long as the day here.
    #[test]
    fn a_day_and_its_mirrored_day_add_up_to_24_hours(latitude in 0.0f64..60.0, day in 0u64..73_000) {
        let when = date(1900, 1, 1) + Days::new(day);
        let sum = hours(latitude, when, Horizon::Centre) + hours(-latitude, when, Horizon::Centre);
        // The change of declination during the day leaves at most a minute.
        prop_assert!((sum - 24.0).abs() < 0.03, "{}", sum);
        let lengths = HORIZONS.map(|horizon| hours(latitude, when, horizon));
        prop_assert!(lengths[0] < lengths[1] && lengths[1] < lengths[2]);
    }

    /// The mirrored latitude half a year later. The halves of the year differ by a week, because the earth is
    /// faster in January; so the sun is up to 1.8 degrees from its mirrored position, which changes the day
    /// length by 8 minutes at 30 degrees, 14 at 45 and 25 at 60.
    #[test]
    fn the_other_hemisphere_has_the_same_day_length_half_a_year_later(
        latitude in -60.0f64..60.0, day in 0u64..73_000, shift in 182u64..=183,
    ) {
        let when = date(1900, 1, 1) + Days::new(day);
        let here = hours(latitude, when, Horizon::UpperLimb);
        let there = hours(-latitude, when + Days::new(shift), Horizon::UpperLimb);
        let minutes = (here - there).abs() * 60.0;
        let tolerance = 14.3 * latitude.to_radians().tan().abs() + 0.2;
        prop_assert!(minutes <= tolerance, "{} {} {}", latitude, when, minutes);
    }

    #[test]
    fn day_length_is_between_0_and_24_hours(latitude in -90.0f64..=90.0, day in -800_000i64..800_000, which in 0usize..3) {
        let when = date(2000, 1, 1) + chrono::TimeDelta::days(day);
        let length = hours(latitude, when, HORIZONS[which]);
        prop_assert!((0.0..=24.0).contains(&length), "{}", length);
    }

    /// From one day to the next it changes by minutes, with no jump before polar day begins.
    #[test]
    fn day_length_changes_smoothly_towards_the_midnight_sun(latitude in -66.0f64..66.0, day in 0u64..365) {
        let when = date(2027, 1, 1) + Days::new(day);
        let step = hours(latitude, when + Days::new(1), Horizon::Centre) - hours(latitude, when, Horizon::Centre);
        prop_assert!(step.abs() < 0.35, "{} {} {}", latitude, when, step);
    }
}
