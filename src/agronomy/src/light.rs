//! How much light plants get in a day, under lamps and under the sky.
//!
//! The daily light integral (DLI) is the photosynthetic photon flux density
//! (PPFD) summed over a day. Sunlight follows FAO-56: R. G. Allen, L. S. Pereira,
//! D. Raes & M. Smith 1998, *Crop evapotranspiration*, FAO Irrigation and
//! Drainage Paper 56, chapter 3.

use std::f64::consts::PI;

use chrono::{Datelike, NaiveDate};

use crate::error::{AgronomyError, within};
use crate::quantity::{DailyLight, Hours, Latitude, Ppfd, Radiation};

const SECONDS_PER_HOUR: f64 = 3600.0;
const MICROMOLES_PER_MOLE: f64 = 1e6;
const HOURS_PER_DAY: f64 = 24.0;
/// Brightest light taken for possible: full sun is about 2000, strong lamps less.
const PPFD_MAX: f64 = 5000.0;
/// Most light in a day taken for possible: the brightest days outdoors give 60 to 70.
const DAILY_LIGHT_MAX: f64 = 150.0;
/// Most sunlight in a day: above the air it stays below 50.
const RADIATION_MAX: f64 = 60.0;

/// Radiation at the sun's mean distance, MJ per square metre and minute (FAO-56).
const SOLAR_CONSTANT: f64 = 0.0820;
const MINUTES_PER_DAY: f64 = 1440.0;
/// Share of the radiation above the air that comes through on a dark day, and
/// what a day of full sunshine adds to it (FAO-56, where nothing better is known).
const ANGSTROM: (f64, f64) = (0.25, 0.50);
/// Photons plants can use in a megajoule of sunlight, in mol: 45 in 100 of it is
/// such light (400-700 nm), at 4.57 micromoles a joule (K. J. McCree 1972;
/// recalled, not read). Others take 2.0 to 2.1 for the product.
const MOLES_PER_MEGAJOULE: f64 = 0.45 * 4.57;

/// Light of a day with `ppfd` (0 to 5000) for a number of hours (0 to 24).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for either outside its range.
pub fn daily_light(ppfd: Ppfd, lit: Hours) -> Result<DailyLight, AgronomyError> {
    let flux = within("ppfd", ppfd.0, 0.0, PPFD_MAX)?;
    let hours = within("hours", lit.0, 0.0, HOURS_PER_DAY)?;
    Ok(DailyLight(flux * moles_per_flux(hours)))
}

/// Hours a lamp of `ppfd` (0 to 5000) must burn to give `wanted` (0 to 150) a day.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for either outside its range;
/// [`AgronomyError::NotReached`] where the whole day of 24 hours is too short.
pub fn hours_to_reach(wanted: DailyLight, ppfd: Ppfd) -> Result<Hours, AgronomyError> {
    let wanted = check_daily_light(wanted)?;
    let flux = within("ppfd", ppfd.0, 0.0, PPFD_MAX)?;
    if wanted == 0.0 {
        return Ok(Hours(0.0));
    }
    // No light at all makes the quotient infinite, which no day reaches either.
    let hours = wanted / (flux * moles_per_flux(1.0));
    at_most(HOURS_PER_DAY, hours).map(Hours)
}

/// How bright lamps that burn a number of hours (0 to 24) must be to give
/// `wanted` (0 to 150) a day.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for either outside its range;
/// [`AgronomyError::NotReached`] where even a PPFD of 5000 is too weak.
pub fn ppfd_to_reach(wanted: DailyLight, lit: Hours) -> Result<Ppfd, AgronomyError> {
    let wanted = check_daily_light(wanted)?;
    let hours = within("hours", lit.0, 0.0, HOURS_PER_DAY)?;
    if wanted == 0.0 {
        return Ok(Ppfd(0.0));
    }
    at_most(PPFD_MAX, wanted / moles_per_flux(hours)).map(Ppfd)
}

/// What is needed, unless it is more than there can be by more than rounding.
fn at_most(limit: f64, needed: f64) -> Result<f64, AgronomyError> {
    if needed <= limit * (1.0 + 1e-12) {
        Ok(needed.min(limit))
    } else {
        Err(AgronomyError::NotReached {
            field: "daily_light",
            limit,
        })
    }
}

/// Moles per square metre that one micromole a second makes in so many hours.
fn moles_per_flux(hours: f64) -> f64 {
    hours * SECONDS_PER_HOUR / MICROMOLES_PER_MOLE
}

fn check_daily_light(wanted: DailyLight) -> Result<f64, AgronomyError> {
    within("daily_light", wanted.0, 0.0, DAILY_LIGHT_MAX)
}

/// The sun's day by FAO-56, coarser than [`crate::daylength`] and made for sums
/// of radiation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolarGeometry {
    /// Inverse relative distance to the sun, about 1 (equation 23).
    pub inverse_relative_distance: f64,
    /// Declination in radians, north positive (equation 24).
    pub declination_radians: f64,
    /// Hour angle of sunset in radians: 0 in polar night to pi in polar day
    /// (equation 25, its cosine held within -1 to 1).
    pub sunset_hour_angle_radians: f64,
}

/// The sun's day at a latitude on the date's day of the year (FAO-56, equations
/// 23 to 25). The same for every year; within 1.7 degrees of the sun's place
/// from 1900 to 2100.
pub fn solar_geometry(latitude: Latitude, date: NaiveDate) -> SolarGeometry {
    let turn = 2.0 * PI * f64::from(date.ordinal()) / 365.0;
    let declination = 0.409 * (turn - 1.39).sin();
    let cosine = -latitude.get().to_radians().tan() * declination.tan();
    SolarGeometry {
        inverse_relative_distance: 1.0 + 0.033 * turn.cos(),
        declination_radians: declination,
        sunset_hour_angle_radians: cosine.clamp(-1.0, 1.0).acos(),
    }
}

/// Radiation on a level square metre above the air (FAO-56, equation 21): what a
/// day could bring at most, 0 in polar night.
pub fn extraterrestrial_radiation(latitude: Latitude, date: NaiveDate) -> Radiation {
    let sun = solar_geometry(latitude, date);
    let (phi, delta) = (latitude.get().to_radians(), sun.declination_radians);
    let sunset = sun.sunset_hour_angle_radians;
    let course = sunset * phi.sin() * delta.sin() + phi.cos() * delta.cos() * sunset.sin();
    let day = MINUTES_PER_DAY / PI * SOLAR_CONSTANT * sun.inverse_relative_distance * course;
    Radiation(day.max(0.0))
}

/// Hours the sun's centre stands above the horizon, 0 to 24 (FAO-56, equation
/// 34): the measure that hours of sunshine are set against. For the hours
/// plants see, take [`crate::daylength::day_length`].
pub fn daylight_hours(latitude: Latitude, date: NaiveDate) -> Hours {
    let sunset = solar_geometry(latitude, date).sunset_hour_angle_radians;
    Hours(HOURS_PER_DAY / PI * sunset)
}

/// Sunlight on a level square metre at the ground, from the hours of sunshine
/// (0 to the day's length by [`daylight_hours`]): a quarter of what arrives above
/// the air on a dark day, three quarters on a bright one (FAO-56, equation 35,
/// after A. Angstrom, with the coefficients for places without their own). In
/// polar night there is none.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for hours of sunshine the day does not have.
pub fn solar_radiation(
    latitude: Latitude,
    date: NaiveDate,
    sunshine: Hours,
) -> Result<Radiation, AgronomyError> {
    let daylight = daylight_hours(latitude, date).0;
    let sunny = within("sunshine", sunshine.0, 0.0, daylight)?;
    let share = if daylight > 0.0 {
        sunny / daylight
    } else {
        0.0
    };
    let (dark, bright) = ANGSTROM;
    let above = extraterrestrial_radiation(latitude, date).0;
    Ok(Radiation((dark + bright * share) * above))
}

/// Light for plants in a day's sunlight (0 to 60), outdoors: 2.06 mol a megajoule
/// (45 in 100 of sunlight, 4.57 micromoles a joule; from memory).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for radiation outside its range.
pub fn daily_light_of_sunlight(sunlight: Radiation) -> Result<DailyLight, AgronomyError> {
    let megajoules = within("sunlight", sunlight.0, 0.0, RADIATION_MAX)?;
    Ok(DailyLight(megajoules * MOLES_PER_MEGAJOULE))
}
