//! The position of the sun: its declination and the equation of time.

use chrono::{Datelike, NaiveDate};

/// Julian day number of 2000-01-01 12:00, from which the equations count.
const J2000: f64 = 2_451_545.0;
/// Days of a Julian century.
const CENTURY_DAYS: f64 = 36_525.0;
/// Days after which the Gregorian calendar, and with it the sun, repeats.
const CALENDAR_DAYS: f64 = 146_097.0;
/// Julian day of 1800-01-01 00:00. Dates are mapped into the calendar cycle that begins here.
const EPOCH: f64 = 2_378_496.5;

/// The parts of the sun's position that decide the length and the middle of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SolarPosition {
    /// Apparent declination in degrees, north positive, -23.5 to 23.5.
    pub(super) declination_degrees: f64,
    /// Apparent minus mean solar time in minutes, -14.5 to 16.5: how far a sundial is ahead of local mean time.
    pub(super) equation_of_time_minutes: f64,
}

/// Julian day number of 00:00 UTC.
pub(super) fn julian_day_at_midnight(date: NaiveDate) -> f64 {
    // chrono counts from 1 January of year 1, which is Julian day 1721425.5.
    f64::from(date.num_days_from_ce()) + 1_721_424.5
}

/// The sun's position at a Julian day, by the equations of NOAA's solar calculator (after J. Meeus,
/// *Astronomical Algorithms*, from memory): declination within 0.01 degrees and equation of time within 0.05
/// minutes between 1800 and 2200. Other dates are moved by a multiple of 400 years, after which the calendar
/// repeats; changes of the orbit over that time are ignored.
fn sun_at(julian_day: f64) -> SolarPosition {
    let near = (julian_day - EPOCH).rem_euclid(CALENDAR_DAYS) + EPOCH;
    let t = (near - J2000) / CENTURY_DAYS;
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
    SolarPosition {
        declination_degrees: declination.to_degrees(),
        equation_of_time_minutes: 4.0 * equation.to_degrees(),
    }
}

/// The sun's position through one day, interpolated by a parabola through three positions. The error is below
/// 0.00001 degrees, and a search needs three positions instead of one a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct SunThroughDay {
    declination: Parabola,
    equation_of_time: Parabola,
}

impl SunThroughDay {
    /// Around the Julian day of local mean noon, half a day either way.
    pub(super) fn around(noon: f64) -> Self {
        let [before, middle, after] = [-0.5, 0.0, 0.5].map(|step| sun_at(noon + step));
        let through =
            |of: fn(&SolarPosition) -> f64| Parabola::through(of(&before), of(&middle), of(&after));
        Self {
            declination: through(|sun| sun.declination_degrees),
            equation_of_time: through(|sun| sun.equation_of_time_minutes),
        }
    }

    /// The sun's position `minutes` after local mean noon.
    pub(super) fn at(&self, minutes: f64) -> SolarPosition {
        SolarPosition {
            declination_degrees: self.declination.at(minutes / 720.0),
            equation_of_time_minutes: self.equation_of_time.at(minutes / 720.0),
        }
    }
}

#[derive(Debug, Clone, Copy)]
struct Parabola {
    middle: f64,
    slope: f64,
    bend: f64,
}

impl Parabola {
    /// Through values at -1, 0 and 1.
    fn through(before: f64, middle: f64, after: f64) -> Self {
        Self {
            middle,
            slope: (after - before) / 2.0,
            bend: f64::midpoint(before, after) - middle,
        }
    }

    fn at(&self, x: f64) -> f64 {
        self.middle + x * (self.slope + x * self.bend)
    }
}
