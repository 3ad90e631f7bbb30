//! Day length and chance of frost above the season drawing, as lines on a ground of 100 by 100.

use std::fmt::Write as _;

use agronomy::climate::Climate;
use agronomy::daylength::{Horizon, day_length};
use agronomy::quantity::Chance;
use chrono::{Datelike, NaiveDate};

use super::axis::Axis;

/// How high frost reaches when it is certain, of 100.
const FROST_HEIGHT: f64 = 62.0;
/// Lowest and highest place of the day's length.
const DAY_LOW: f64 = 93.0;
const DAY_HIGH: f64 = 24.0;
/// The difference in day length below which a place has no seasons of light, hours.
const HOURS_FLAT: f64 = 0.2;

/// The sky of a span of weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct Sky {
    /// Outline of the chance of frost, an SVG path.
    pub frost: String,
    /// The day's length, points of an SVG polyline.
    pub daylight: String,
    /// The longest day: where, percent, its date and hours.
    pub longest: (f64, NaiveDate, f64),
    /// The shortest day and its hours.
    pub shortest: (NaiveDate, f64),
    /// Whether frost is likely where the drawing begins and ends.
    pub frost_at: (bool, bool),
    /// Last spring frost and first autumn frost in half of the years, those of the year that fills the drawing.
    pub frosts: (NaiveDate, NaiveDate),
}

/// The chance that frost is still to come in spring, or has come in autumn.
fn frost(climate: &Climate, date: NaiveDate) -> f64 {
    let spring = climate.frost_chance_after(date).get();
    let autumn = climate.frost_chance_before(date).get();
    spring.max(autumn)
}

/// The sky over a place.
pub fn sky(axis: Axis, climate: &Climate, today: NaiveDate) -> Sky {
    let hours = |date| day_length(climate.latitude(), date, Horizon::UpperLimb).0;
    let days: Vec<NaiveDate> = axis
        .weeks()
        .map(|week| week.monday())
        .chain([axis.end()])
        .collect();
    let first = (axis.begin(), hours(axis.begin()));
    let (mut longest, mut shortest) = (first, first);
    for date in &days {
        let length = hours(*date);
        if length > longest.1 {
            longest = (*date, length);
        }
        if length < shortest.1 {
            shortest = (*date, length);
        }
    }
    let reach = (longest.1 - shortest.1).max(HOURS_FLAT);
    let mut outline = String::from("M0 100");
    let mut daylight = String::new();
    for date in &days {
        let x = axis.x(*date);
        let y = 100.0 - frost(climate, *date) * FROST_HEIGHT;
        let up = (hours(*date) - shortest.1) / reach;
        // Writing into a text does not fail.
        let _ = write!(outline, " L{x:.2} {y:.1}");
        let _ = write!(
            daylight,
            "{x:.2},{:.1} ",
            DAY_LOW - up * (DAY_LOW - DAY_HIGH)
        );
    }
    outline.push_str(" L100 100Z");
    let year = today.year();
    Sky {
        frost: outline,
        daylight,
        longest: (axis.x(longest.0), longest.0, longest.1),
        shortest,
        frost_at: (
            frost(climate, axis.begin()) > 0.5,
            frost(climate, axis.end()) > 0.5,
        ),
        frosts: (
            climate.last_frost_with_chance(year, Chance::EVEN),
            climate.first_frost_with_chance(year, Chance::EVEN),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use agronomy::climate::Normals;
    use agronomy::frost::FrostDates;
    use agronomy::quantity::{Celsius, Latitude};

    /// Day lengths at 44 N around the solstices: 15 h 26 min and 8 h 56 min (sunrise and sunset tables for 44 N of the U.S. Naval
    /// Observatory, from memory, to a few minutes).
    #[test]
    fn the_sky_at_44_n_has_its_long_days_in_june_and_frost_at_both_ends() {
        let normals = Normals::new([Celsius(0.0); 12], [Celsius(10.0); 12]).unwrap();
        let frost = FrostDates::from_deviation((5, 15), 11.0, (10, 1), 11.0).unwrap();
        let climate = Climate::new(Latitude::new(44.0).unwrap(), normals, frost).unwrap();
        let today: NaiveDate = "2027-06-14".parse().unwrap();
        let axis = Axis::around(today, core::iter::empty());
        let sky = sky(axis, &climate, today);
        assert_eq!(sky.longest.1.month(), 6);
        assert!((sky.longest.2 - 15.43).abs() < 0.1, "{:?}", sky.longest);
        assert!((sky.shortest.1 - 8.93).abs() < 0.1, "{:?}", sky.shortest);
        assert_eq!(sky.frost_at, (true, true));
        assert_eq!(sky.frosts.0, "2027-05-15".parse().unwrap());
        assert_eq!(sky.daylight.split_whitespace().count(), 53);
        // At the last frost the chance is even: half the height.
        let near = |week: &str| {
            let week: agronomy::iso_week::IsoWeek = week.parse().unwrap();
            super::frost(&climate, week.monday())
        };
        assert!(near("2027-W10") > 0.95 && near("2027-W28") < 0.02);
    }
}
