//! Typed quantities, so that a length cannot be mistaken for a temperature.

use core::ops::{Add, Sub};

use crate::error::{AgronomyError, within};
use crate::normal::{cdf, probit};

/// Standard normal quantile of 0.9: the distance of p10 and p90 from p50 in standard deviations.
pub const Z90: f64 = 1.281_551_565_544_6;

/// A temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

/// A difference between two temperatures in kelvins, each the size of a degree Celsius. It converts to degrees
/// Fahrenheit by the factor alone: 2 K are 3.6 of them, while 2 °C are 35.6 °F.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TemperatureDifference(pub f64);

impl Sub for Celsius {
    type Output = TemperatureDifference;

    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}

impl Add<TemperatureDifference> for Celsius {
    type Output = Self;

    fn add(self, by: TemperatureDifference) -> Self {
        Self(self.0 + by.0)
    }
}

impl Sub<TemperatureDifference> for Celsius {
    type Output = Self;

    fn sub(self, by: TemperatureDifference) -> Self {
        Self(self.0 - by.0)
    }
}

/// A sum of temperatures above a base, in degree-days Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct DegreeDays(pub f64);

/// A length in metres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Metres(pub f64);

/// A duration in hours.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Hours(pub f64);

/// Photosynthetic photon flux density, in micromoles per square metre and second.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Ppfd(pub f64);

/// Daily light integral, in moles per square metre and day.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct DailyLight(pub f64);

/// A probability, or a share of a whole, from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Chance(f64);

impl Chance {
    /// Probability 0.
    pub const NEVER: Self = Self(0.0);
    /// Probability 0.1.
    pub const ONE_IN_TEN: Self = Self(0.1);
    /// Probability 0.5.
    pub const EVEN: Self = Self(0.5);
    /// Probability 0.9.
    pub const NINE_IN_TEN: Self = Self(0.9);
    /// Probability 1.
    pub const CERTAIN: Self = Self(1.0);

    /// A probability of `share`, from 0 to 1.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] outside 0 to 1 or for NaN.
    pub fn new(share: f64) -> Result<Self, AgronomyError> {
        within("chance", share, 0.0, 1.0).map(Self)
    }

    /// For results that are a probability up to rounding; NaN becomes 0.
    pub(crate) fn clamped(share: f64) -> Self {
        if share.is_nan() {
            Self(0.0)
        } else {
            Self(share.clamp(0.0, 1.0))
        }
    }

    /// The share, from 0 to 1.
    pub const fn get(self) -> f64 {
        self.0
    }

    /// The probability of the opposite.
    #[must_use]
    pub fn complement(self) -> Self {
        Self(1.0 - self.0)
    }
}

/// A latitude in degrees, north positive.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Latitude(f64);

impl Latitude {
    /// A latitude of `degrees`, from -90 (south) to 90 (north).
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] outside -90 to 90 or for NaN.
    pub fn new(degrees: f64) -> Result<Self, AgronomyError> {
        within("latitude", degrees, -90.0, 90.0).map(Self)
    }

    /// Degrees, north positive.
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// A forecast with its uncertainty, as percentiles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Spread<T> {
    /// 10th percentile.
    pub p10: T,
    /// Median.
    pub p50: T,
    /// 90th percentile.
    pub p90: T,
}

impl<T: Copy> Spread<T> {
    /// The same spread in another unit or form.
    pub fn map<U>(self, mut convert: impl FnMut(T) -> U) -> Spread<U> {
        Spread {
            p10: convert(self.p10),
            p50: convert(self.p50),
            p90: convert(self.p90),
        }
    }

    /// A spread of zero width.
    pub fn exact(value: T) -> Self {
        Self {
            p10: value,
            p50: value,
            p90: value,
        }
    }
}

impl Spread<f64> {
    /// The value that is not exceeded with probability `chance` (clamped to 0.001 to 0.999), with half a
    /// normal distribution on each side of the median as in [`chance_below`](Self::chance_below).
    pub fn quantile(self, chance: Chance) -> f64 {
        let z = probit(chance.get().clamp(0.001, 0.999)) / Z90;
        let side = if z < 0.0 {
            self.p50 - self.p10
        } else {
            self.p90 - self.p50
        };
        self.p50 + z * side
    }

    /// The probability of a value below `value`, with half a normal distribution fitted to each side of the
    /// median. A spread of zero width is certain.
    pub fn chance_below(self, value: f64) -> Chance {
        let away = value - self.p50;
        let side = if away < 0.0 {
            self.p50 - self.p10
        } else {
            self.p90 - self.p50
        };
        if side > 0.0 {
            let z = away / side * Z90;
            Chance::clamped(cdf(z))
        } else if away > 0.0 {
            Chance::CERTAIN
        } else {
            Chance::NEVER
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By definition: p10, p50 and p90, and 0.8413 at one standard deviation above the median, as in every
    /// table.
    #[test]
    fn a_spread_gives_the_probability_of_a_shortfall() {
        let stems = Spread {
            p10: 20.0,
            p50: 40.0,
            p90: 50.0,
        };
        let below = |value: f64| stems.chance_below(value).get();
        for (value, chance) in [
            (20.0, 0.1),
            (40.0, 0.5),
            (50.0, 0.9),
            (40.0 + 10.0 / 1.281_551_565_5, 0.841_345),
        ] {
            assert!(
                (below(value) - chance).abs() < 1e-5,
                "{value}: {}",
                below(value)
            );
        }
        for value in [13.0, 40.0, 58.0] {
            assert!((stems.quantile(stems.chance_below(value)) - value).abs() < 1e-6);
        }
        let exact = Spread::exact(7.0);
        assert_eq!(exact.chance_below(7.0), Chance::NEVER);
        assert_eq!(exact.chance_below(7.5), Chance::CERTAIN);
    }

    #[test]
    fn temperatures_differ_and_move_by_a_difference() {
        let by = Celsius(-1.5) - Celsius(2.0);
        assert_eq!(by, TemperatureDifference(-3.5));
        assert_eq!(Celsius(2.0) + by, Celsius(-1.5));
        assert_eq!(Celsius(-1.5) - by, Celsius(2.0));
    }

    #[test]
    fn chances_and_latitudes_out_of_range_are_refused() {
        for bad in [-0.001, 1.001, f64::NAN, f64::INFINITY] {
            assert!(Chance::new(bad).is_err(), "{bad}");
        }
        for bad in [-90.5, 91.0, f64::NAN] {
            assert!(Latitude::new(bad).is_err(), "{bad}");
        }
        assert_eq!(Chance::new(0.25).map(Chance::get), Ok(0.25));
        assert_eq!(Latitude::new(-44.0).map(Latitude::get), Ok(-44.0));
    }
}
