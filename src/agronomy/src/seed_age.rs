//! What age does to seed in store.
//!
//! Where the constants of a species are known, the viability equation of
//! R. H. Ellis & E. H. Roberts 1980, *Annals of Botany* 45:13-30, says how many
//! seeds are still alive after a time at a moisture and a temperature:
//!
//! ```text
//! v = Ki - p / sigma
//! log10 sigma = KE - CW log10 m - CH t - CQ t^2
//! ```
//!
//! with viability `v` and its start `Ki` as probits, the time `p` and the spread
//! of lives `sigma` in days, the moisture `m` in per cent of fresh weight and the
//! temperature `t` in degrees Celsius. It speaks of dry, living (orthodox) seed
//! in a closed store, and of seed that can germinate, which is more than what
//! comes up in a tray.
//!
//! Elsewhere there are [`rule_of_thumb_after`] and [`harrington_factor`], which
//! are rules of thumb and say so.

mod constants;
mod rules;

pub use constants::Constants;
pub use rules::{Longevity, harrington_factor, hundred_rule, rule_of_thumb_after};

use crate::error::{AgronomyError, within};
use crate::probit::{probit, share_below};
use crate::quantity::{Celsius, Chance};

/// Shares nearer than this to none or all have no probit that a test could show.
const SHARE_EDGE: f64 = 1e-6;
/// The moistures for which the equation is taken to hold, in per cent of fresh weight.
const MOISTURE: (f64, f64) = (5.0, 25.0);
/// The temperatures for which the equation is taken to hold, in degrees Celsius.
const TEMPERATURE: (f64, f64) = (-20.0, 90.0);
/// The longest time in store that is reckoned with, in days: a thousand years of 365.
const DAYS_MAX: f64 = 365_000.0;

/// How seed is kept, for the whole of a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Storage {
    moisture_percent: f64,
    temperature: Celsius,
}

impl Storage {
    /// Seed of `moisture_percent` of its fresh weight at `temperature`.
    ///
    /// The ranges are those that the equation is taken to hold for with most
    /// species' constants: below 5 % further drying gains little or nothing,
    /// above 25 % seed repairs itself.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] unless the moisture lies in 5..=25 % and the
    /// temperature in -20..=90 °C.
    pub fn new(moisture_percent: f64, temperature: Celsius) -> Result<Self, AgronomyError> {
        let (dry, damp) = MOISTURE;
        let (cold, hot) = TEMPERATURE;
        within("temperature", temperature.0, cold, hot)?;
        Ok(Self {
            moisture_percent: within("moisture_percent", moisture_percent, dry, damp)?,
            temperature,
        })
    }

    /// Water in the seed, in per cent of its fresh weight.
    pub const fn moisture_percent(self) -> f64 {
        self.moisture_percent
    }

    /// Temperature of the store.
    pub const fn temperature(self) -> Celsius {
        self.temperature
    }
}

/// The share of seed alive at the start, from a test in which `germinated` of
/// `tested` did. If all did, the probit of the share would be infinite: then it
/// is taken to be 1 - 1/(4 n), as is common with this equation.
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

/// The normal equivalent deviate (probit) of a share, as the equation counts viability.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for shares nearer than 1e-6 to 0 or 1.
pub fn normal_equivalent_deviate(share: Chance) -> Result<f64, AgronomyError> {
    deviate("share", share)
}

/// The share of seed alive after `days` in store, `initial` of it being alive at
/// the start. No seed is alive later that was dead before.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] unless `days` lies in 0..=365,000 and `initial`
/// within 1e-6 of neither 0 nor 1: a test that all seeds passed goes through
/// [`initial_viability`].
pub fn viability_after(
    initial: Chance,
    constants: &Constants,
    storage: Storage,
    days: f64,
) -> Result<Chance, AgronomyError> {
    let start = deviate("initial", initial)?;
    let days = within("days", days, 0.0, DAYS_MAX)?;
    let left = share_below(start - days / constants.sigma_days(storage));
    // Rounding must not wake the dead.
    Ok(Chance::clamped(left.min(initial.get())))
}

/// Days in store until only `wanted` of the seed is alive, `initial` of it being
/// alive at the start; with [`Chance::EVEN`], the half-viability period P50.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for shares within 1e-6 of 0 or 1;
/// [`AgronomyError::OutOfOrder`] if more is wanted than there was.
pub fn days_until(
    wanted: Chance,
    initial: Chance,
    constants: &Constants,
    storage: Storage,
) -> Result<f64, AgronomyError> {
    Ok(fall(wanted, initial)? * constants.sigma_days(storage))
}

/// The moisture, in per cent of fresh weight, to which seed must be dried so that
/// `wanted` of it is alive after `days` at `temperature`, `initial` of it being
/// alive at the start.
///
/// # Errors
/// As [`days_until`] and [`Storage::new`];
/// [`AgronomyError::OutOfRange`] of `moisture_percent` if it would have to lie
/// outside 5..=25 %.
pub fn moisture_for(
    wanted: Chance,
    initial: Chance,
    days: f64,
    constants: &Constants,
    temperature: Celsius,
) -> Result<f64, AgronomyError> {
    let (dry, damp) = MOISTURE;
    // The temperature is checked with any moisture that is allowed.
    Storage::new(dry, temperature)?;
    let days = within("days", days, 0.0, DAYS_MAX)?;
    let sigma = days / fall(wanted, initial)?;
    let moisture = constants.moisture_for_sigma(sigma, temperature);
    within("moisture_percent", moisture, dry, damp)
}

/// Probits from the first share down to the second.
fn fall(wanted: Chance, initial: Chance) -> Result<f64, AgronomyError> {
    let (start, end) = (deviate("initial", initial)?, deviate("wanted", wanted)?);
    if wanted > initial {
        return Err(AgronomyError::OutOfOrder {
            lower_field: "wanted",
            upper_field: "initial",
            lower: wanted.get(),
            upper: initial.get(),
        });
    }
    Ok(start - end)
}

fn deviate(field: &'static str, share: Chance) -> Result<f64, AgronomyError> {
    within(field, share.get(), SHARE_EDGE, 1.0 - SHARE_EDGE).map(probit)
}
