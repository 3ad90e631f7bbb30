//! Laws that the sun keeps at any place and date.

#![allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

use agronomy::AgronomyError;
use agronomy::daylength::{Horizon, SunDay, crossings, day_length, solar_position, sun_day};
use agronomy::quantity::{Hours, Latitude, Longitude};
use chrono::{DateTime, Datelike, Days, NaiveDate, Utc};
use proptest::prelude::*;

const HORIZONS: [Horizon; 3] = [Horizon::Centre, Horizon::UpperLimb, Horizon::CivilTwilight];

fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn hours(latitude: f64, day: NaiveDate, horizon: Horizon) -> f64 {
    day_length(Latitude::new(latitude).unwrap(), day, horizon).0
}

fn greenwich(latitude: f64, day: NaiveDate, horizon: Horizon) -> SunDay {
    let longitude = Longitude::new(0.0).unwrap();
    sun_day(Latitude::new(latitude).unwrap(), longitude, day, horizon)
}

#[test]
fn polar_days_are_whole_and_the_equator_hardly_varies() {
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

/// At the pole the sun rises once and sets once a year, in a day of its own each.
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

#[test]
fn what_no_day_can_have_is_refused() {
    let place = Latitude::new(44.0).unwrap();
    let of = |year, hours| crossings(place, year, Hours(hours), Horizon::UpperLimb);
    for bad in [-0.1, 24.1, f64::NAN, f64::INFINITY] {
        assert_eq!(
            of(2027, bad).map_err(|error| error.field()),
            Err("threshold")
        );
    }
    for year in [i32::MIN, i32::MAX] {
        assert!(matches!(
            of(year, 14.0),
            Err(AgronomyError::OutOfRange { field: "year", .. })
        ));
    }
    for bad in [-180.1, 200.0, f64::NAN] {
        assert_eq!(
            Longitude::new(bad).map_err(|error| error.field()),
            Err("longitude")
        );
    }
    for bad in [95.0, -95.0, f64::NAN, f64::NEG_INFINITY] {
        assert_eq!(
            Latitude::new(bad).map_err(|error| error.field()),
            Err("latitude")
        );
    }
    let equator = Latitude::new(0.0).unwrap();
    assert_eq!(
        crossings(equator, 2027, Hours(14.0), Horizon::UpperLimb),
        Ok(vec![])
    );
}

/// The ends of the calendar, far from where the equations hold, still have a sun.
#[test]
fn the_calendars_ends_have_days_like_others() {
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
                for longitude in [-180.0, 180.0] {
                    let (place, east) = (latitude, Longitude::new(longitude).unwrap());
                    let noon = sun_day(Latitude::new(place).unwrap(), east, day, horizon);
                    assert!(noon.solar_noon() <= DateTime::<Utc>::MAX_UTC);
                }
            }
        }
    }
    for moment in [DateTime::<Utc>::MIN_UTC, DateTime::<Utc>::MAX_UTC] {
        let sun = solar_position(moment);
        assert!(sun.declination_degrees.abs() < 23.6);
        assert!(sun.equation_of_time_minutes.abs() < 17.0);
    }
}

proptest! {
    /// The same day at the mirrored latitude: what one has of light, the other has of dark.
    #[test]
    fn a_day_and_its_opposite_share_the_light(latitude in 0.0f64..60.0, day in 0u64..73_000) {
        let when = date(1900, 1, 1) + Days::new(day);
        let sum = hours(latitude, when, Horizon::Centre) + hours(-latitude, when, Horizon::Centre);
        // The sun's drift between rise and set leaves a minute at most.
        prop_assert!((sum - 24.0).abs() < 0.03, "{}", sum);
        let lengths = HORIZONS.map(|horizon| hours(latitude, when, horizon));
        prop_assert!(lengths[0] < lengths[1] && lengths[1] < lengths[2]);
    }

    /// The mirrored latitude half a year on. The halves of the year differ by a
    /// week, for the earth goes faster in January; that puts the sun up to 1.8
    /// degrees off its mirrored place, which makes 8 minutes of day length at 30
    /// degrees, 14 at 45 and 25 at 60.
    #[test]
    fn the_other_hemisphere_follows_half_a_year_on(
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
    fn no_day_is_longer_than_a_day(latitude in -90.0f64..=90.0, day in -800_000i64..800_000, which in 0usize..3) {
        let when = date(2000, 1, 1) + chrono::TimeDelta::days(day);
        let length = hours(latitude, when, HORIZONS[which]);
        prop_assert!((0.0..=24.0).contains(&length), "{}", length);
        match greenwich(latitude, when, HORIZONS[which]) {
            SunDay::PolarNight { .. } => prop_assert_eq!(length, 0.0),
            SunDay::PolarDay { .. } => prop_assert_eq!(length, 24.0),
            SunDay::RisesAndSets { sunrise, solar_noon, sunset } => {
                prop_assert!(sunrise <= solar_noon && solar_noon <= sunset);
                let gap = (sunset - sunrise).num_milliseconds() as f64 / 3_600_000.0;
                prop_assert!((gap - length).abs() < 1e-3, "{} {}", gap, length);
            }
        }
    }

    /// From one day to the next the light changes by minutes, even where polar day
    /// begins: no jump but the last step into it.
    #[test]
    fn day_length_runs_smoothly_into_the_midnight_sun(latitude in -66.0f64..66.0, day in 0u64..365) {
        let when = date(2027, 1, 1) + Days::new(day);
        let step = hours(latitude, when + Days::new(1), Horizon::Centre) - hours(latitude, when, Horizon::Centre);
        prop_assert!(step.abs() < 0.35, "{} {} {}", latitude, when, step);
    }

    #[test]
    fn crossings_are_where_the_light_changes_sides(
        latitude in -65.0f64..65.0, threshold in 9.0f64..16.0, which in 0usize..3,
    ) {
        let horizon = HORIZONS[which];
        let found = crossings(Latitude::new(latitude).unwrap(), 2027, Hours(threshold), horizon).unwrap();
        prop_assert!(found.len() <= 2);
        for day in found {
            prop_assert_eq!(day.year(), 2027);
            let long = |day| hours(latitude, day, horizon) >= threshold;
            prop_assert_ne!(long(day), long(day.pred_opt().unwrap()));
        }
    }
}
