//! The result of many simulated seasons.

use serde::{Deserialize, Serialize};

use super::spread::Spread;

/// An estimate from simulated seasons.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The estimate.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
}

impl Estimate {
    /// A mean, from a sum and a sum of squares.
    pub(super) fn mean(sum: f64, squares: f64, n: f64) -> Self {
        let value = sum / n;
        let variance = ((squares - sum * value) / (n - 1.0).max(1.0)).max(0.0);
        Self {
            value,
            error: (variance / n).sqrt(),
        }
    }

    /// A probability, from a number of successes. The error adds one success and one failure, so that it is
    /// not zero if all seasons agree.
    pub(super) fn chance(times: u32, n: f64) -> Self {
        let times = f64::from(times);
        let near = (times + 1.0) / (n + 2.0);
        Self {
            value: times / n,
            error: (near * (1.0 - near) / n).sqrt(),
        }
    }
}

/// The result of one part of a demand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PartOutcome {
    /// Probability of fewer stems than wanted.
    pub short: Estimate,
    /// Stems available for it; within 1 % of the exact quantiles of the simulated seasons.
    pub stems: Spread,
    /// Their mean.
    pub mean: Estimate,
    /// Mean number of missing stems, over all seasons.
    pub missing: Estimate,
}

/// The result of one demand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DemandOutcome {
    /// Probability that all its parts are filled.
    pub filled: Estimate,
    /// By part.
    pub parts: Vec<PartOutcome>,
}

/// The result of the seasons simulated so far.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outcome {
    /// Seed of the random numbers.
    pub seed: u64,
    /// Number of seasons.
    pub seasons: u32,
    /// Mean stems before any allocation; class `c` in week `w` is at index `c * weeks + w`.
    pub supply: Vec<Estimate>,
    /// By demand, in the given order.
    pub demands: Vec<DemandOutcome>,
}
