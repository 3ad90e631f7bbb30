//! The standard normal distribution: its distribution function and quantiles.

use std::f64::consts::SQRT_2;

use statrs::function::erf::{erfc, erfc_inv};

/// The quantile (probit) of `probability`; infinite at 0 and 1.
pub(crate) fn probit(probability: f64) -> f64 {
    -SQRT_2 * erfc_inv(2.0 * probability)
}

/// The distribution function: the probability of a value below `z`.
pub(crate) fn cdf(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}
