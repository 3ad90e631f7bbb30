//! A species' constants in the viability equation.

use super::Storage;
use crate::error::{AgronomyError, within};
use crate::quantity::Celsius;

/// CH of many species alike, where only one temperature was studied.
const UNIVERSAL_CH: f64 = 0.0329;
/// CQ of many species alike.
const UNIVERSAL_CQ: f64 = 0.000_478;

/// The constants of a species in the viability equation, as published: KE and CW
/// of the species, CH and CQ per degree Celsius and its square.
///
/// They were fitted to seed aged under damp and heat within days to months; for
/// cool, dry stores they extrapolate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constants {
    ke: f64,
    cw: f64,
    ch: f64,
    cq: f64,
}

impl Constants {
    /// From the four constants, for moisture in per cent of fresh weight, degrees
    /// Celsius, days and the logarithm to base 10.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] unless KE lies in 0..=50, CW in 0..=10, CH
    /// in -0.1..=0.5 and CQ in 0..=0.01. The ranges hold the published constants
    /// but those of seed that would keep longer when damp.
    pub fn new(ke: f64, cw: f64, ch: f64, cq: f64) -> Result<Self, AgronomyError> {
        Ok(Self {
            ke: within("ke", ke, 0.0, 50.0)?,
            cw: within("cw", cw, 0.0, 10.0)?,
            ch: within("ch", ch, -0.1, 0.5)?,
            cq: within("cq", cq, 0.0, 0.01)?,
        })
    }

    /// From KE and CW alone, with the temperature constants that many species
    /// share, 0.0329 and 0.000478 (J. B. Dickie et al. 1990, *Annals of Botany*
    /// 65:197-204, from memory).
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn with_universal_temperature(ke: f64, cw: f64) -> Result<Self, AgronomyError> {
        Self::new(ke, cw, UNIVERSAL_CH, UNIVERSAL_CQ)
    }

    /// From the K of seed aged at one `temperature` alone (log10 sigma = K - CW
    /// log10 m), with the temperature constants that many species share:
    /// KE = K + CH t + CQ t^2.
    ///
    /// # Errors
    /// As [`Self::new`], and unless the temperature lies in -20..=90 °C.
    pub fn from_one_temperature(
        k: f64,
        cw: f64,
        temperature: Celsius,
    ) -> Result<Self, AgronomyError> {
        let (cold, hot) = super::TEMPERATURE;
        let t = within("temperature", temperature.0, cold, hot)?;
        Self::with_universal_temperature(k + UNIVERSAL_CH * t + UNIVERSAL_CQ * t * t, cw)
    }

    /// The species' constant KE.
    pub const fn ke(&self) -> f64 {
        self.ke
    }

    /// Standard deviation of the seeds' lives, in days: the time in which
    /// viability falls by one probit.
    pub fn sigma_days(&self, storage: Storage) -> f64 {
        let log = self.log_sigma_less_moisture(storage.temperature())
            - self.cw * storage.moisture_percent().log10();
        10.0_f64.powf(log)
    }

    /// The moisture in per cent at which the standard deviation is `sigma_days`.
    pub(super) fn moisture_for_sigma(&self, sigma_days: f64, temperature: Celsius) -> f64 {
        let log = self.log_sigma_less_moisture(temperature) - sigma_days.log10();
        10.0_f64.powf(log / self.cw)
    }

    fn log_sigma_less_moisture(&self, temperature: Celsius) -> f64 {
        let t = temperature.0;
        self.ke - self.ch * t - self.cq * t * t
    }
}
