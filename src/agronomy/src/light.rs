//! Light from grow lamps.
//!
//! The daily light integral (DLI) is the photosynthetic photon flux density (PPFD) summed over a day.

use crate::error::{AgronomyError, within};
use crate::quantity::{DailyLight, Hours, Ppfd};

const SECONDS_PER_HOUR: f64 = 3600.0;
const MICROMOLES_PER_MOLE: f64 = 1e6;
const HOURS_PER_DAY: f64 = 24.0;
/// Upper limit of a plausible PPFD: full sun is about 2000, strong lamps less.
const PPFD_MAX: f64 = 5000.0;
/// Upper limit of a plausible DLI: the brightest days outdoors reach 60 to 70.
const DAILY_LIGHT_MAX: f64 = 150.0;

/// Daily light integral of `ppfd` (0 to 5000) over `lit` hours (0 to 24).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] if either is out of range.
pub fn daily_light(ppfd: Ppfd, lit: Hours) -> Result<DailyLight, AgronomyError> {
    let flux = within("ppfd", ppfd.0, 0.0, PPFD_MAX)?;
    let hours = within("hours", lit.0, 0.0, HOURS_PER_DAY)?;
    Ok(DailyLight(flux * moles_per_flux(hours)))
}

/// Hours a lamp of `ppfd` (0 to 5000) must be on to give a daily light integral of `wanted` (0 to 150).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] if either is out of range; [`AgronomyError::NotReached`] if 24 hours are too
/// short.
pub fn hours_to_reach(wanted: DailyLight, ppfd: Ppfd) -> Result<Hours, AgronomyError> {
    let wanted = within("daily_light", wanted.0, 0.0, DAILY_LIGHT_MAX)?;
    let flux = within("ppfd", ppfd.0, 0.0, PPFD_MAX)?;
    if wanted == 0.0 {
        return Ok(Hours(0.0));
    }
    // A PPFD of zero makes this infinite, which is refused below.
    let hours = wanted / (flux * moles_per_flux(1.0));
    if hours <= HOURS_PER_DAY * (1.0 + 1e-12) {
        Ok(Hours(hours.min(HOURS_PER_DAY)))
    } else {
        Err(AgronomyError::NotReached {
            field: "daily_light",
            limit: HOURS_PER_DAY,
        })
    }
}

/// Moles per square metre from one micromole per second over `hours`.
fn moles_per_flux(hours: f64) -> f64 {
    hours * SECONDS_PER_HOUR / MICROMOLES_PER_MOLE
}
