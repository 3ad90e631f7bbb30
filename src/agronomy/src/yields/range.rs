//! A positive figure with its low, typical and high value.

use crate::quantity::{Spread, Z90};

/// The widest end of a range, as a logarithm: a tenth of the median, or ten times it.
const WIDEST: f64 = std::f64::consts::LN_10;
/// Width of an end if only the median is known, as a logarithm: that of a yield with a coefficient of
/// variation of 35 % between years.
const USUAL: f64 = 0.436;

/// A positive figure whose low, typical and high values are its p10, p50 and p90: its logarithm has half a
/// normal distribution on each side of the median.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogRange {
    middle: f64,
    below: f64,
    above: f64,
}

impl LogRange {
    /// From a figure's values. An unknown end is as far from the median as the other one, or as for yields
    /// between years; ends are limited to a tenth of the median and ten times it. A median that is negative
    /// or NaN counts as zero.
    pub fn new(low: Option<f64>, typical: f64, high: Option<f64>) -> Self {
        let middle = if typical > 0.0 { typical } else { 0.0 };
        let away = |end: Option<f64>| {
            let ratio = end.filter(|end| end.is_finite())? / middle;
            Some(ratio.max(1e-9).ln().abs().min(WIDEST)).filter(|_| middle > 0.0)
        };
        let (low, high) = (away(low), away(high));
        Self {
            middle,
            below: low.or(high).unwrap_or(USUAL),
            above: high.or(low).unwrap_or(USUAL),
        }
    }

    /// The median.
    pub fn middle(&self) -> f64 {
        self.middle
    }

    /// The range of this figure times another, independent one.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        Self {
            middle: self.middle * other.middle,
            below: self.below.hypot(other.below),
            above: self.above.hypot(other.above),
        }
    }

    /// The figure times `by`.
    #[must_use]
    pub fn scaled(self, by: f64) -> Self {
        Self {
            middle: self.middle * by.max(0.0),
            ..self
        }
    }

    /// The range with the logarithm of both ends scaled by `by`.
    #[must_use]
    pub fn widened(self, by: f64) -> Self {
        Self {
            below: self.below * by,
            above: self.above * by,
            ..self
        }
    }

    /// Its p10, p50 and p90.
    pub fn spread(&self) -> Spread<f64> {
        Spread {
            p10: self.middle * (-self.below).exp(),
            p50: self.middle,
            p90: self.middle * self.above.exp(),
        }
    }

    /// Standard deviations of the logarithm below and above the median.
    pub fn deviations(&self) -> (f64, f64) {
        (self.below / Z90, self.above / Z90)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, wanted: f64) {
        assert!(
            (found - wanted).abs() < 1e-9 * (1.0 + wanted),
            "{found} {wanted}"
        );
    }

    #[test]
    fn low_typical_and_high_are_p10_p50_and_p90() {
        let spread = LogRange::new(Some(2.0), 4.0, Some(9.0)).spread();
        near(spread.p10, 2.0);
        near(spread.p50, 4.0);
        near(spread.p90, 9.0);
        // An unknown end is taken from the other side.
        near(LogRange::new(None, 15.0, Some(45.0)).spread().p10, 5.0);
        assert!(LogRange::new(Some(0.0), 2.0, Some(5.0)).spread().p10 > 0.0);
        near(LogRange::new(Some(0.0), 0.0, Some(2.0)).spread().p90, 0.0);
    }

    /// The logarithm of the product of two independent factors of equal width is wider by the square root of
    /// two.
    #[test]
    fn a_product_is_wider_than_its_factors() {
        let one = LogRange::new(Some(5.0), 10.0, Some(20.0));
        let both = one.times(one);
        near(both.spread().p50, 100.0);
        near(
            both.spread().p90,
            100.0 * (2.0_f64.ln() * 2.0_f64.sqrt()).exp(),
        );
        near(both.widened(0.0).spread().p10, 100.0);
    }
}
