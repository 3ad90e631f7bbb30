//! The standard normal distribution and its inverse, the probit.

use std::f64::consts::SQRT_2;

use statrs::function::erf::{erfc, erfc_inv};

/// The value that a standard normal stays below with probability `share`,
/// infinite at 0 and 1.
pub(crate) fn probit(share: f64) -> f64 {
    -SQRT_2 * erfc_inv(2.0 * share)
}

/// The probability that a standard normal stays below `value`.
pub(crate) fn share_below(value: f64) -> f64 {
    0.5 * erfc(-value / SQRT_2)
}
