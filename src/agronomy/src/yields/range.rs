//! A yield told by its low, typical and high value.

use crate::quantity::{Spread, Z90};

/// How wide an end of a range may be, as a logarithm: a tenth, or ten times, of its middle.
const WIDEST: f64 = std::f64::consts::LN_10;
/// The ends of a range of which only the middle is known, as a logarithm: those of a yield that varies by 35 in 100 between
/// years.
const USUAL: f64 = 0.436;

/// A figure above zero whose low, typical and high values are taken as its 10, 50 and 90 in 100: its logarithm has half a normal
/// on each side of the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogRange {
    middle: f64,
    below: f64,
    above: f64,
}

impl LogRange {
    /// From a figure's values. An end that is not known is as far off as the other one, or as yields are between years; ends are
    /// held within a tenth and ten times the middle. A middle that is no number or negative counts as nothing.
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

    /// The middle value.
    pub fn middle(&self) -> f64 {
        self.middle
    }

    /// The range of this figure times another one that does not depend on it.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        Self {
            middle: self.middle * other.middle,
            below: self.below.hypot(other.below),
            above: self.above.hypot(other.above),
        }
    }

    /// So many times the figure.
    #[must_use]
    pub fn scaled(self, by: f64) -> Self {
        Self {
            middle: self.middle * by.max(0.0),
            ..self
        }
    }

    /// With its ends brought closer, or set further off, by a share of the way.
    #[must_use]
    pub fn widened(self, by: f64) -> Self {
        Self {
            below: self.below * by,
            above: self.above * by,
            ..self
        }
    }

    /// Its 10, 50 and 90 in 100.
    pub fn spread(&self) -> Spread<f64> {
        Spread {
            p10: self.middle * (-self.below).exp(),
            p50: self.middle,
            p90: self.middle * self.above.exp(),
        }
    }

    /// Standard deviations of the logarithm below and above the middle.
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
    fn low_typical_and_high_are_ten_fifty_and_ninety() {
        let spread = LogRange::new(Some(2.0), 4.0, Some(9.0)).spread();
        near(spread.p10, 2.0);
        near(spread.p50, 4.0);
        near(spread.p90, 9.0);
        // The other side stands in for an end that is not known.
        near(LogRange::new(None, 15.0, Some(45.0)).spread().p10, 5.0);
        assert!(LogRange::new(Some(0.0), 2.0, Some(5.0)).spread().p10 > 0.0);
        near(LogRange::new(Some(0.0), 0.0, Some(2.0)).spread().p90, 0.0);
    }

    /// Two independent factors of the same width are as wide as one by the square root of two, in logarithms.
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
