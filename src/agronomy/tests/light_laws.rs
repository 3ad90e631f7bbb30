//! Laws that light keeps under any lamp and any sky.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::AgronomyError;
use agronomy::daylength::{Horizon, day_length, solar_position};
use agronomy::light::{
    daily_light, daily_light_of_sunlight, daylight_hours, extraterrestrial_radiation,
    hours_to_reach, ppfd_to_reach, solar_geometry, solar_radiation,
};
use agronomy::quantity::{DailyLight, Hours, Latitude, Ppfd, Radiation};
use chrono::{Days, NaiveDate};
use proptest::prelude::*;

fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn field<T>(result: Result<T, AgronomyError>) -> Option<&'static str> {
    result.err().map(|error| error.field())
}

#[test]
fn what_no_lamp_and_no_day_can_give_is_refused() {
    for bad in [f64::NAN, f64::INFINITY, -1.0] {
        assert_eq!(field(daily_light(Ppfd(bad), Hours(16.0))), Some("ppfd"));
        assert_eq!(field(daily_light(Ppfd(100.0), Hours(bad))), Some("hours"));
        let light = DailyLight(bad);
        assert_eq!(
            field(hours_to_reach(light, Ppfd(100.0))),
            Some("daily_light")
        );
        assert_eq!(
            field(ppfd_to_reach(light, Hours(16.0))),
            Some("daily_light")
        );
        assert_eq!(
            field(hours_to_reach(DailyLight(10.0), Ppfd(bad))),
            Some("ppfd")
        );
        assert_eq!(
            field(ppfd_to_reach(DailyLight(10.0), Hours(bad))),
            Some("hours")
        );
        assert_eq!(
            field(daily_light_of_sunlight(Radiation(bad))),
            Some("sunlight")
        );
        let place = Latitude::new(44.0).unwrap();
        let sunny = solar_radiation(place, date(2027, 6, 21), Hours(bad));
        assert_eq!(field(sunny), Some("sunshine"));
    }
    assert_eq!(field(daily_light(Ppfd(100.0), Hours(24.1))), Some("hours"));
    // 100 micromoles all day and night give 8.64 mol, no more.
    assert_eq!(
        hours_to_reach(DailyLight(8.65), Ppfd(100.0)),
        Err(AgronomyError::NotReached {
            field: "daily_light",
            limit: 24.0,
        })
    );
    assert_eq!(
        hours_to_reach(DailyLight(8.64), Ppfd(100.0)),
        Ok(Hours(24.0))
    );
    assert_eq!(
        field(hours_to_reach(DailyLight(1.0), Ppfd(0.0))),
        Some("daily_light")
    );
    assert_eq!(
        field(ppfd_to_reach(DailyLight(1.0), Hours(0.0))),
        Some("daily_light")
    );
    assert_eq!(hours_to_reach(DailyLight(0.0), Ppfd(0.0)), Ok(Hours(0.0)));
    assert_eq!(ppfd_to_reach(DailyLight(0.0), Hours(0.0)), Ok(Ppfd(0.0)));
}

#[test]
fn no_sunshine_is_claimed_for_the_polar_night() {
    let (north, midwinter) = (Latitude::new(80.0).unwrap(), date(2027, 12, 21));
    let dark = solar_radiation(north, midwinter, Hours(0.0));
    assert_eq!(dark, Ok(Radiation(0.0)));
    let sunny = solar_radiation(north, midwinter, Hours(1.0));
    assert_eq!(field(sunny), Some("sunshine"));
}

/// The coarse sun of FAO-56 stays within 1.7 degrees of the sun's place,
/// 1900 to 2100.
#[test]
fn the_coarse_sun_keeps_near_the_true_one() {
    for day in date(1900, 1, 1).iter_days().take(201 * 365) {
        let noon = day.and_hms_opt(12, 0, 0).unwrap().and_utc();
        let coarse = solar_geometry(Latitude::new(0.0).unwrap(), day);
        let off =
            coarse.declination_radians.to_degrees() - solar_position(noon).declination_degrees;
        assert!(off.abs() < 1.7, "{day} {off}");
    }
}

proptest! {
    #[test]
    fn brightness_and_hours_can_be_had_back(ppfd in 0.1f64..1700.0, hours in 0.1f64..=24.0) {
        let light = daily_light(Ppfd(ppfd), Hours(hours)).unwrap();
        prop_assert!((ppfd_to_reach(light, Hours(hours)).unwrap().0 - ppfd).abs() < 1e-6);
        if hours < 23.999 {
            prop_assert!((hours_to_reach(light, Ppfd(ppfd)).unwrap().0 - hours).abs() < 1e-9);
        }
    }

    #[test]
    fn the_sky_gives_no_less_than_nothing_and_no_more_than_there_is(
        latitude in -90.0f64..=90.0, day in 0u64..73_000, share in 0.0f64..=1.0,
    ) {
        let place = Latitude::new(latitude).unwrap();
        let when = date(1900, 1, 1) + Days::new(day);
        let above = extraterrestrial_radiation(place, when).0;
        prop_assert!((0.0..50.0).contains(&above), "{}", above);
        let hours = daylight_hours(place, when).0;
        prop_assert!((0.0..=24.0).contains(&hours));
        let ground = solar_radiation(place, when, Hours(hours * share)).unwrap();
        prop_assert!(ground.0 <= 0.75 * above + 1e-9 && ground.0 >= 0.25 * above - 1e-9);
        prop_assert!(daily_light_of_sunlight(ground).unwrap().0 < 80.0);
        if latitude.abs() <= 60.0 {
            let exact = day_length(place, when, Horizon::Centre).0;
            prop_assert!((hours - exact).abs() < 0.45, "{} {}", hours, exact);
        }
    }
}
