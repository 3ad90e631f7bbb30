//! What many seasons came to.

use serde::{Deserialize, Serialize};

use super::spread::Spread;

/// A figure out of seasons played, with its standard error.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// Its standard error: it would come out about this much otherwise with another seed.
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

    /// A chance, from how often it was so. One more of each kind goes into the error, which would else be nothing where all seasons
    /// went one way.
    pub(super) fn chance(times: u32, n: f64) -> Self {
        let times = f64::from(times);
        let near = (times + 1.0) / (n + 2.0);
        Self {
            value: times / n,
            error: (near * (1.0 - near) / n).sqrt(),
        }
    }
}

/// How a part of a demand fared.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PartOutcome {
    /// The chance (0 to 1) that there are fewer stems than wanted.
    pub short: Estimate,
    /// Stems that there are for it, by their 10, 50 and 90 in 100; within 1 in 100 of the exact quantiles of the seasons played.
    pub stems: Spread,
    /// Their mean.
    pub mean: Estimate,
    /// Mean number of stems missing, seasons without a shortage included.
    pub missing: Estimate,
}

/// How a demand fared.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DemandOutcome {
    /// The chance (0 to 1) that every part has all its stems.
    pub filled: Estimate,
    /// Part by part.
    pub parts: Vec<PartOutcome>,
}

/// What the seasons played so far came to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outcome {
    /// The seed they were played with.
    pub seed: u64,
    /// How many were played.
    pub seasons: u32,
    /// Mean stems that come, before anybody takes any: class `c` in week `w` stands at `c * weeks + w`.
    pub supply: Vec<Estimate>,
    /// Demand by demand, in the order given.
    pub demands: Vec<DemandOutcome>,
}
