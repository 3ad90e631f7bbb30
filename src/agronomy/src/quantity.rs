//! Typed quantities, so that a length cannot be taken for a temperature.

use crate::error::{AgronomyError, within};

/// A temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

/// Warmth summed above a base temperature, in degree-days Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct DegreeDays(pub f64);

/// A length in metres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Metres(pub f64);

/// An area in square metres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SquareMetres(pub f64);

/// A duration in hours.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Hours(pub f64);

/// A probability, or a share of a whole, between 0 and 1 inclusive.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Chance(f64);

impl Chance {
    /// It does not happen.
    pub const NEVER: Self = Self(0.0);
    /// One in ten.
    pub const ONE_IN_TEN: Self = Self(0.1);
    /// As likely as not.
    pub const EVEN: Self = Self(0.5);
    /// Nine in ten.
    pub const NINE_IN_TEN: Self = Self(0.9);
    /// It happens.
    pub const CERTAIN: Self = Self(1.0);

    /// A chance of `share`, from 0 (never) to 1 (certain).
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] outside 0 to 1 or for a value that is no number.
    pub fn new(share: f64) -> Result<Self, AgronomyError> {
        within("chance", share, 0.0, 1.0).map(Self)
    }

    /// For results that are a probability up to rounding; no number becomes 0.
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

    /// The chance of the opposite.
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
    /// [`AgronomyError::OutOfRange`] beyond the poles or for a value that is no number.
    pub fn new(degrees: f64) -> Result<Self, AgronomyError> {
        within("latitude", degrees, -90.0, 90.0).map(Self)
    }

    /// Degrees, north positive.
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// A forecast with its uncertainty: the values that are not exceeded with 10,
/// 50 and 90 chances in 100.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Spread<T> {
    /// One in ten comes out at or below this.
    pub p10: T,
    /// As many come out below as above.
    pub p50: T,
    /// Nine in ten come out at or below this.
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

    /// A spread of no width: all three values are `value`.
    pub fn exact(value: T) -> Self {
        Self {
            p10: value,
            p50: value,
            p90: value,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_and_latitudes_refuse_what_cannot_be() {
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
