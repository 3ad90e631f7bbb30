//! A species' constants of the viability equation.

use super::Storage;
use crate::error::{AgronomyError, within};

/// The constants of a species in the viability equation, as published: KE and CW of the species, CH and CQ
/// per degree Celsius and its square.
///
/// They were fitted to seed aged in damp heat within days to months; for cool, dry storage they extrapolate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constants {
    ke: f64,
    cw: f64,
    ch: f64,
    cq: f64,
}

impl Constants {
    /// From the four constants, for moisture in per cent of fresh weight, degrees Celsius, days and
    /// logarithms to base 10.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] unless KE is in 0..=50, CW in 0..=10, CH in -0.1..=0.5 and CQ in
    /// 0..=0.01. The ranges include the published constants, except those of seed that lasts longer when
    /// damp.
    pub fn new(ke: f64, cw: f64, ch: f64, cq: f64) -> Result<Self, AgronomyError> {
        Ok(Self {
            ke: within("ke", ke, 0.0, 50.0)?,
            cw: within("cw", cw, 0.0, 10.0)?,
            ch: within("ch", ch, -0.1, 0.5)?,
            cq: within("cq", cq, 0.0, 0.01)?,
        })
    }

    /// Standard deviation of the seeds' lifespans in days: the time in which viability falls by one probit.
    pub fn sigma_days(&self, storage: Storage) -> f64 {
        let t = storage.temperature().0;
        let log =
            self.ke - self.ch * t - self.cq * t * t - self.cw * storage.moisture_percent().log10();
        10.0_f64.powf(log)
    }
}
