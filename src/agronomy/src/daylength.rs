//! Hours of daylight by latitude and date.
//!
//! The equations are those of NOAA's solar calculator (after J. Meeus,
//! *Astronomical Algorithms*): a low-precision solar position that stays within
//! a minute of the almanac up to 65 degrees of latitude. Refraction is the
//! conventional 34 minutes of arc, the solar radius 16, so sunrise is the
//! moment the centre stands 0.833 degrees below the horizon.

use chrono::{Datelike, NaiveDate};

use crate::days;
use crate::quantity::{Hours, Latitude};

/// What counts as sunrise and sunset.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Horizon {
    /// The sun's centre crosses the geometric horizon, without refraction.
    Centre,
    /// The sun's upper edge becomes visible, with refraction: what almanacs print.
    UpperLimb,
}

impl Horizon {
    fn altitude_degrees(self) -> f64 {
        match self {
            Self::Centre => 0.0,
            Self::UpperLimb => -0.833,
        }
    }
}

/// Day length at `latitude` on `date`, from 0 (polar night) to 24 hours (midnight sun).
pub fn day_length(latitude: Latitude, date: NaiveDate, horizon: Horizon) -> Hours {
    let noon = julian_day_at_midnight(date) + 0.5;
    let hours = match half_day_degrees(latitude, sun_at(noon).declination_degrees, horizon) {
        HalfDay::Night => 0.0,
        HalfDay::Light => 24.0,
        HalfDay::Degrees(half) => {
            let rise = crossing_minutes(latitude, noon, half, -1.0, horizon);
            let set = crossing_minutes(latitude, noon, half, 1.0, horizon);
            ((set - rise) / 60.0).clamp(0.0, 24.0)
        }
    };
    Hours(hours)
}

/// The dates in `year` on which day length (upper edge of the sun) comes to lie
/// on the other side of `threshold` than on the day before, in order. Empty
/// where it never does. A day that reaches the threshold counts as above.
pub fn crossings(latitude: Latitude, year: i32, threshold: Hours) -> Vec<NaiveDate> {
    let Some(first) = NaiveDate::from_ymd_opt(year, 1, 1) else {
        return Vec::new();
    };
    let long = |date| day_length(latitude, date, Horizon::UpperLimb) >= threshold;
    let mut was_long = long(days::shifted(first, -1));
    first
        .iter_days()
        .take_while(|date| date.year() == year)
        .filter(|date| {
            let is_long = long(*date);
            let crossed = is_long != was_long;
            was_long = is_long;
            crossed
        })
        .collect()
}

enum HalfDay {
    Night,
    Light,
    Degrees(f64),
}

/// The hour angle of sunrise, in degrees from noon.
fn half_day_degrees(latitude: Latitude, declination_degrees: f64, horizon: Horizon) -> HalfDay {
    let phi = latitude.get().to_radians();
    let delta = declination_degrees.to_radians();
    let cosine = (horizon.altitude_degrees().to_radians().sin() - phi.sin() * delta.sin())
        / (phi.cos() * delta.cos());
    if cosine.is_nan() || cosine >= 1.0 {
        HalfDay::Night
    } else if cosine <= -1.0 {
        HalfDay::Light
    } else {
        HalfDay::Degrees(cosine.acos().to_degrees())
    }
}

/// Minutes from mean noon to sunrise (`side` -1) or sunset (+1), with the sun's
/// place taken at that moment rather than at noon.
fn crossing_minutes(
    latitude: Latitude,
    noon: f64,
    half_degrees: f64,
    side: f64,
    horizon: Horizon,
) -> f64 {
    let mut minutes = side * half_degrees * 4.0;
    for _ in 0..3 {
        let sun = sun_at(noon + minutes / 1440.0);
        minutes = match half_day_degrees(latitude, sun.declination_degrees, horizon) {
            HalfDay::Degrees(half) => side * half * 4.0 - sun.equation_of_time_minutes,
            HalfDay::Night => -sun.equation_of_time_minutes,
            HalfDay::Light => side * 720.0 - sun.equation_of_time_minutes,
        };
    }
    minutes
}

struct Sun {
    declination_degrees: f64,
    equation_of_time_minutes: f64,
}

/// Julian day number of 00:00 at longitude 0.
fn julian_day_at_midnight(date: NaiveDate) -> f64 {
    // chrono counts from 1 January of year 1, which is Julian day 1721425.5.
    f64::from(date.num_days_from_ce()) + 1_721_424.5
}

/// Apparent solar declination and the equation of time, by NOAA's equations.
fn sun_at(julian_day: f64) -> Sun {
    let t = (julian_day - 2_451_545.0) / 36_525.0;
    let mean_longitude = (280.46646 + t * (36_000.769_83 + t * 0.000_303_2)).rem_euclid(360.0);
    let mean_anomaly = (357.529_11 + t * (35_999.050_29 - 0.000_153_7 * t)).to_radians();
    let eccentricity = 0.016_708_634 - t * (0.000_042_037 + 0.000_000_126_7 * t);
    let centre = mean_anomaly.sin() * (1.914_602 - t * (0.004_817 + 0.000_014 * t))
        + (2.0 * mean_anomaly).sin() * (0.019_993 - 0.000_101 * t)
        + (3.0 * mean_anomaly).sin() * 0.000_289;
    let node = (125.04 - 1_934.136 * t).to_radians();
    let apparent_longitude =
        (mean_longitude + centre - 0.005_69 - 0.004_78 * node.sin()).to_radians();
    let mean_obliquity =
        23.0 + (26.0 + (21.448 - t * (46.815 + t * (0.000_59 - t * 0.001_813))) / 60.0) / 60.0;
    let obliquity = (mean_obliquity + 0.002_56 * node.cos()).to_radians();
    let declination = (obliquity.sin() * apparent_longitude.sin()).asin();

    let longitude = mean_longitude.to_radians();
    let y = (obliquity / 2.0).tan().powi(2);
    let equation = y * (2.0 * longitude).sin() - 2.0 * eccentricity * mean_anomaly.sin()
        + 4.0 * eccentricity * y * mean_anomaly.sin() * (2.0 * longitude).cos()
        - 0.5 * y * y * (4.0 * longitude).sin()
        - 1.25 * eccentricity * eccentricity * (2.0 * mean_anomaly).sin();
    Sun {
        declination_degrees: declination.to_degrees(),
        equation_of_time_minutes: 4.0 * equation.to_degrees(),
    }
}
