//! Exact binomial and beta-binomial distributions of counts.
//!
//! Weights are built outwards from the most likely count by the ratio of neighbours and then normalised, so
//! there is neither factorial nor underflow, even for a hundred thousand seeds.

/// Weights below this share of the largest are dropped; the total loss stays far below 1e-12.
const NEGLIGIBLE: f64 = 1e-19;

/// Relative rounding error of a sum of weights.
pub(crate) const ROUNDING: f64 = 1e-12;

/// A distribution over counts: weights of `start`, `start + 1` and so on, which sum to 1.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Counts {
    pub(crate) start: u32,
    pub(crate) weights: Vec<f64>,
}

impl Counts {
    fn certain(count: u32) -> Self {
        Self {
            start: count,
            weights: vec![1.0],
        }
    }

    /// Zero, with certainty.
    pub(crate) fn none() -> Self {
        Self::certain(0)
    }

    /// From the weights of 0, 1, 2 and so on, without negligible ones.
    pub(crate) fn from_weights(weights: &[f64]) -> Self {
        let most = weights.iter().copied().fold(0.0, f64::max);
        let matters = |weight: &f64| *weight > most * 1e-15;
        let Some(start) = weights.iter().position(matters) else {
            return Self::none();
        };
        let end = weights.iter().rposition(matters).unwrap_or(start);
        Self {
            start: u32::try_from(start).unwrap_or(u32::MAX),
            weights: weights
                .iter()
                .skip(start)
                .take(end - start + 1)
                .copied()
                .collect(),
        }
    }

    /// From the mode outwards; `up(k)` is the weight of `k + 1` divided by that of `k`.
    fn around(mode: u32, most: u32, up: impl Fn(u32) -> f64) -> Self {
        let mut below = Vec::new();
        let mut weight = 1.0;
        let mut count = mode;
        while count > 0 {
            weight /= up(count - 1);
            if !(weight > NEGLIGIBLE && weight.is_finite()) {
                break;
            }
            below.push(weight);
            count -= 1;
        }
        let start = count;
        below.reverse();
        let mut weights = below;
        weights.push(1.0);
        weight = 1.0;
        let mut count = mode;
        while count < most {
            weight *= up(count);
            if !(weight > NEGLIGIBLE && weight.is_finite()) {
                break;
            }
            weights.push(weight);
            count += 1;
        }
        let total: f64 = weights.iter().sum();
        for weight in &mut weights {
            *weight /= total;
        }
        Self { start, weights }
    }

    /// Successes in `trials` independent trials of probability `rate`.
    pub(crate) fn binomial(trials: u32, rate: f64) -> Self {
        if trials == 0 || rate <= 0.0 || rate.is_nan() {
            return Self::certain(0);
        }
        if rate >= 1.0 {
            return Self::certain(trials);
        }
        let n = f64::from(trials);
        let mode = (((n + 1.0) * rate).floor() as u32).min(trials);
        let odds = rate / (1.0 - rate);
        Self::around(mode, trials, |k| {
            let k = f64::from(k);
            (n - k) / (k + 1.0) * odds
        })
    }

    /// Successes in `trials` with a shared rate distributed as Beta(`alpha`, `beta`), both positive.
    pub(crate) fn beta_binomial(trials: u32, alpha: f64, beta: f64) -> Self {
        if trials == 0 {
            return Self::certain(0);
        }
        let n = f64::from(trials);
        let up = |k: u32| {
            let k = f64::from(k);
            (n - k) / (k + 1.0) * (k + alpha) / (n - k - 1.0 + beta)
        };
        // With alpha or beta below one the weights may rise towards one end or both, so start from the
        // heavier end; else from the single mode.
        let mode = if alpha > 1.0 && beta > 1.0 {
            let peak = (n + 1.0) * (alpha - 1.0) / (alpha + beta - 2.0);
            (peak.floor() as u32).min(trials)
        } else if alpha >= beta {
            trials
        } else {
            0
        };
        Self::around(mode, trials, up)
    }

    /// Probability of at least `wanted`.
    pub(crate) fn at_least(&self, wanted: u32) -> f64 {
        let skipped = wanted.saturating_sub(self.start) as usize;
        self.weights.iter().skip(skipped).sum()
    }

    /// Probability of fewer than `wanted`, summed directly so that small values keep their precision.
    pub(crate) fn fewer_than(&self, wanted: u32) -> f64 {
        let taken = wanted.saturating_sub(self.start) as usize;
        self.weights.iter().take(taken).sum()
    }

    /// Adds `share` times this distribution to `total`, the weights of 0, 1, 2 and so on.
    pub(crate) fn add_to(&self, total: &mut [f64], share: f64) {
        for (slot, weight) in total
            .iter_mut()
            .skip(self.start as usize)
            .zip(&self.weights)
        {
            *slot += share * weight;
        }
    }

    /// The distribution of the sum of this count and an independent one.
    pub(crate) fn plus(&self, other: &Self) -> Self {
        let length = self.weights.len() + other.weights.len() - 1;
        let mut weights = vec![0.0; length];
        for (step, own) in self.weights.iter().enumerate() {
            for (slot, theirs) in weights.iter_mut().skip(step).zip(&other.weights) {
                *slot += own * theirs;
            }
        }
        Self {
            start: self.start + other.start,
            weights,
        }
    }
}
