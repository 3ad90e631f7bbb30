//! Ageing of seed in storage.
//!
//! If the constants of a species are known, the viability equation of R. H. Ellis & E. H. Roberts 1980,
//! *Annals of Botany* 45:13-30, gives the share of seed still alive after a time at a moisture and a
//! temperature:
//!
//! ```text
//! v = Ki - p / sigma
//! log10 sigma = KE - CW log10 m - CH t - CQ t^2
//! ```
//!
//! with viability `v` and its initial value `Ki` as probits, the time `p` and the standard deviation of
//! lifespans `sigma` in days, the moisture `m` in per cent of fresh weight and the temperature `t` in degrees
//! Celsius. It applies to dry, orthodox seed in closed storage, and counts all seed that can germinate, which
//! is more than emerges in a tray.
//!
//! Otherwise use [`rule_of_thumb_after`] and [`harrington_factor`].

mod constants;
mod rules;

pub use constants::Constants;
pub use rules::{Longevity, harrington_factor, rule_of_thumb_after};

use crate::error::{AgronomyError, within};
use crate::normal::{cdf, probit};
use crate::quantity::{Celsius, Chance};

/// Shares closer than this to 0 or 1 have no probit that a test could show.
const SHARE_EDGE: f64 = 1e-6;
/// Range of moisture for which the equation is taken to hold, in per cent of fresh weight.
const MOISTURE: (f64, f64) = (5.0, 25.0);
/// Range of temperature for which the equation is taken to hold, in degrees Celsius.
const TEMPERATURE: (f64, f64) = (-20.0, 90.0);
/// The longest storage accepted, in days: 1000 years of 365.
const DAYS_MAX: f64 = 365_000.0;

/// Constant storage conditions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Storage {
    moisture_percent: f64,
    temperature: Celsius,
}

impl Storage {
    /// Seed at `moisture_percent` of its fresh weight and at `temperature`.
    ///
    /// The ranges are those in which the equation holds with most species' constants: below 5 % further
    /// drying gains little or nothing, above 25 % seed repairs itself.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] unless the moisture is in 5..=25 % and the temperature in -20..=90 °C.
    pub fn new(moisture_percent: f64, temperature: Celsius) -> Result<Self, AgronomyError> {
        let (dry, damp) = MOISTURE;
        let (cold, hot) = TEMPERATURE;
        within("temperature", temperature.0, cold, hot)?;
        Ok(Self {
            moisture_percent: within("moisture_percent", moisture_percent, dry, damp)?,
            temperature,
        })
    }

    /// Water content of the seed, in per cent of its fresh weight.
    pub const fn moisture_percent(self) -> f64 {
        self.moisture_percent
    }

    /// Temperature of the store.
    pub const fn temperature(self) -> Celsius {
        self.temperature
    }
}

/// Initial viability from a germination test. If all seeds germinated, the probit would be infinite; the
/// share is then taken as 1 - 1/(4 n), as is common with this equation.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for a test of no seeds;
/// [`AgronomyError::OutOfOrder`] for more germinated than tested.
pub fn initial_viability(germinated: u32, tested: u32) -> Result<Chance, AgronomyError> {
    let (up, of) = (f64::from(germinated), f64::from(tested));
    within("tested", of, 1.0, f64::from(u32::MAX))?;
    if germinated > tested {
        return Err(AgronomyError::OutOfOrder {
            lower_field: "germinated",
            upper_field: "tested",
            lower: up,
            upper: of,
        });
    }
    Ok(Chance::clamped(if germinated == tested {
        1.0 - 1.0 / (4.0 * of)
    } else {
        up / of
    }))
}

/// The share of seed alive after `days` of storage, of which `initial` was alive at the start.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] unless `days` is in 0..=365,000 and `initial` is at least 1e-6 from 0 and 1;
/// see [`initial_viability`] for a test that all seeds passed.
pub fn viability_after(
    initial: Chance,
    constants: &Constants,
    storage: Storage,
    days: f64,
) -> Result<Chance, AgronomyError> {
    let field = "initial";
    let start = probit(within(field, initial.get(), SHARE_EDGE, 1.0 - SHARE_EDGE)?);
    let days = within("days", days, 0.0, DAYS_MAX)?;
    let left = cdf(start - days / constants.sigma_days(storage));
    // Rounding must not raise the viability.
    Ok(Chance::clamped(left.min(initial.get())))
}
