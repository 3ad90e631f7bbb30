//! Light of lamps and of the sky against published examples.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::light::{
    daily_light, daily_light_of_sunlight, daylight_hours, extraterrestrial_radiation,
    hours_to_reach, ppfd_to_reach, solar_geometry, solar_radiation,
};
use agronomy::quantity::{DailyLight, Hours, Latitude, Ppfd, Radiation};
use chrono::NaiveDate;
use published::{close, table};

fn place(latitude: f64) -> Latitude {
    Latitude::new(latitude).unwrap()
}

/// A day of the year in a common year.
fn day(of_year: u32) -> NaiveDate {
    NaiveDate::from_yo_opt(2025, of_year).unwrap()
}

/// Sources: FAO-56 (Allen, Pereira, Raes & Smith 1998), equations 21 to 25 and
/// 34, worked separately for 16 latitudes and 8 days.
#[test]
fn the_grid_of_latitudes_and_days_agrees_with_fao_56() {
    let rows = table("fao56_radiation_grid.csv");
    for row in &rows {
        let (place, day) = (place(row.number("lat_deg")), day(row.count("J")));
        let sun = solar_geometry(place, day);
        for (column, got) in [
            ("dr", sun.inverse_relative_distance),
            ("decl_rad", sun.declination_radians),
            ("omega_s_rad", sun.sunset_hour_angle_radians),
        ] {
            close(got, row.number(column), 1e-5, &(column, row));
        }
        let radiation = extraterrestrial_radiation(place, day);
        close(radiation.0, row.number("Ra_MJ_m2_day"), 1e-4, row);
        close(
            daylight_hours(place, day).0,
            row.number("N_hours"),
            1e-4,
            row,
        );
    }
    assert_eq!(rows.len(), 128);
}

/// Sources: FAO-56, examples 8 and 9 (20 S, 3 September, day 246), as printed and
/// worked without rounding between; and example 10 (Rio de Janeiro, May), which
/// is recalled, not read: 220 hours of sunshine in 31 days.
#[test]
fn the_worked_examples_of_fao_56_come_out() {
    let (south, september) = (place(-20.0), day(246));
    let sun = solar_geometry(south, september);
    close(south.get().to_radians(), -0.35, 0.005, &"example 8");
    close(sun.inverse_relative_distance, 0.985, 0.0005, &"example 8");
    close(sun.declination_radians, 0.120, 0.0005, &"example 8");
    close(sun.sunset_hour_angle_radians, 1.527, 0.0005, &"example 8");
    let radiation = extraterrestrial_radiation(south, september).0;
    close(radiation, 32.2, 0.05, &"example 8");
    close(radiation, 32.193_996, 1e-5, &"example 8, unrounded");
    let hours = daylight_hours(south, september).0;
    close(hours, 11.7, 0.05, &"example 9");
    close(hours, 11.665_592, 1e-5, &"example 9, unrounded");

    let (rio, may) = (place(-22.9), day(135));
    close(
        extraterrestrial_radiation(rio, may).0,
        25.1,
        0.05,
        &"example 10",
    );
    close(daylight_hours(rio, may).0, 10.9, 0.05, &"example 10");
    let ground = solar_radiation(rio, may, Hours(220.0 / 31.0)).unwrap();
    close(ground.0, 14.5, 0.1, &"example 10");
}

/// By definition: within the polar circle one solstice is dark, the other light.
#[test]
fn polar_nights_are_dark_and_polar_days_whole() {
    close(
        extraterrestrial_radiation(place(70.0), day(349)).0,
        0.0,
        1e-9,
        &"night",
    );
    close(daylight_hours(place(70.0), day(349)).0, 0.0, 1e-9, &"night");
    close(daylight_hours(place(70.0), day(172)).0, 24.0, 1e-9, &"day");
}

/// Sources: the definition (0.0036 mol an hour for every micromole), worked
/// separately, and printed examples of two pages named in the table. Each is
/// read all three ways round.
#[test]
fn daily_light_follows_from_brightness_and_hours_and_back() {
    for row in table("daily_light_examples.csv") {
        let (ppfd, hours) = (Ppfd(row.number("ppfd")), Hours(row.number("hours")));
        let light = daily_light(ppfd, hours).unwrap();
        close(light.0, row.number("dli"), row.number("tolerance"), &row);
        close(ppfd_to_reach(light, hours).unwrap().0, ppfd.0, 1e-9, &row);
        if ppfd.0 > 0.0 {
            close(hours_to_reach(light, ppfd).unwrap().0, hours.0, 1e-9, &row);
        }
    }
    let hours = hours_to_reach(DailyLight(12.0), Ppfd(150.0)).unwrap();
    close(hours.0, 22.222_222, 1e-6, &"12 mol from a lamp of 150");
    let ppfd = ppfd_to_reach(DailyLight(10.0), Hours(16.0)).unwrap();
    close(ppfd.0, 173.611_111, 1e-6, &"10 mol in 16 hours");
}

/// Source: from memory (McCree 1972: 4.57 micromoles a joule; 45 in 100 of
/// sunlight is of use to plants), which others round to 2.0 to 2.1 mol/MJ.
#[test]
fn sunlight_becomes_light_for_plants_at_the_usual_rate() {
    let light = daily_light_of_sunlight(Radiation(10.0)).unwrap().0;
    close(light, 20.5650, 1e-9, &"10 MJ");
    assert!((20.0..=21.0).contains(&light));
}
