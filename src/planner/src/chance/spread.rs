//! A figure with its uncertainty: two halves of a normal distribution that meet at the median.

use libm::{erfc, exp};
use serde::{Deserialize, Serialize};

/// Standard normal quantile of 0.9.
const Z90: f64 = 1.281_551_565_544_600_4;

/// A figure with its uncertainty. The part below the median is half a normal fitted to `p10`, the part above
/// one fitted to `p90`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// 10th percentile.
    pub p10: f64,
    /// Median.
    pub p50: f64,
    /// 90th percentile.
    pub p90: f64,
}

impl Spread {
    /// A spread of zero width.
    pub fn exact(value: f64) -> Self {
        Self {
            p10: value,
            p50: value,
            p90: value,
        }
    }

    /// Whether the three values are finite and in order.
    pub(super) fn in_order(self) -> bool {
        let finite = self.p10.is_finite() && self.p90.is_finite();
        finite && self.p10 <= self.p50 && self.p50 <= self.p90
    }

    /// Standard deviations below and above the median.
    fn deviations(self) -> (f64, f64) {
        ((self.p50 - self.p10) / Z90, (self.p90 - self.p50) / Z90)
    }

    /// The value at `z` standard deviations.
    pub(super) fn at(self, z: f64) -> f64 {
        let (below, above) = self.deviations();
        self.p50 + z * if z < 0.0 { below } else { above }
    }

    /// E max(0, X - from).
    pub(super) fn mean_above(self, from: f64) -> f64 {
        let (below, above) = self.deviations();
        let middle = self.p50 - from;
        if middle <= 0.0 {
            return half_above(-middle, above);
        }
        // X - from = max(0, X - from) - max(0, from - X), and the latter is entirely in the lower half.
        let mean = middle + (above - below) * density(0.0);
        mean + half_above(middle, below)
    }
}

/// E max(0, sZ - k) for a standard normal Z and non-negative `k`.
fn half_above(k: f64, s: f64) -> f64 {
    if s <= 0.0 {
        return 0.0;
    }
    let z = k / s;
    s * density(z) - k * upper(z)
}

/// Density of the standard normal.
fn density(z: f64) -> f64 {
    const ROOT: f64 = 0.398_942_280_401_432_7;
    ROOT * exp(-0.5 * z * z)
}

/// Probability that a standard normal exceeds `z`.
fn upper(z: f64) -> f64 {
    0.5 * erfc(z * core::f64::consts::FRAC_1_SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As printed in every table: 0.3989 is the mean of the positive half, 1.0833 of the excess over -1,
    /// 0.0833 of the excess over 1.
    #[test]
    fn the_mean_above_a_value_is_that_of_the_normal() {
        let normal = Spread {
            p10: -Z90,
            p50: 0.0,
            p90: Z90,
        };
        for (from, mean) in [
            (0.0, 0.398_942_28),
            (1.0, 0.083_315_47),
            (-1.0, 1.083_315_47),
        ] {
            assert!((normal.mean_above(from) - mean).abs() < 1e-8, "{from}");
        }
        let exact = Spread::exact(5.0);
        assert!((exact.mean_above(3.0) - 2.0).abs() < 1e-12 && exact.mean_above(6.0) == 0.0);
    }

    #[test]
    fn a_skewed_spread_meets_its_values_and_its_mean_is_the_integral_over_its_quantiles() {
        let spread = Spread {
            p10: 90.0,
            p50: 100.0,
            p90: 130.0,
        };
        assert!((spread.at(-Z90) - 90.0).abs() < 1e-9 && (spread.at(Z90) - 130.0).abs() < 1e-9);
        for from in [70.0, 95.0, 100.0, 120.0] {
            // Riemann sum over the density.
            let step = 1e-3;
            let sum: f64 = (-8000..8000)
                .map(|n| (f64::from(n) + 0.5) * step)
                .map(|z| density(z) * step * (spread.at(z) - from).max(0.0))
                .sum();
            assert!(
                (spread.mean_above(from) - sum).abs() < 1e-4,
                "{from}: {sum}"
            );
        }
    }
}
