//! The search for the smallest sufficient number.

use super::SEEDS_MAX;
use crate::counting::{Counts, ROUNDING};
use crate::error::{AgronomyError, within};
use crate::normal::probit;
use crate::quantity::Chance;

/// The probabilities of enough successes and of too few, each summed directly so that the smaller one keeps
/// its precision.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tails {
    pub(super) enough: f64,
    pub(super) short: f64,
}

impl Tails {
    pub(super) fn of(counts: &Counts, wanted: u32) -> Self {
        Self {
            enough: counts.at_least(wanted),
            short: counts.fewer_than(wanted),
        }
    }

    /// Whether enough succeed with probability `chance` or more. The smaller tail is compared, so that almost
    /// certain is not mistaken for certain, with an allowance for rounding.
    fn reach(self, chance: Chance) -> bool {
        if chance.get() <= 0.5 {
            self.enough >= chance.get() * (1.0 - ROUNDING)
        } else {
            self.short <= (1.0 - chance.get()) * (1.0 + ROUNDING)
        }
    }
}

/// A starting value for the search and its likely error.
#[derive(Debug, Clone, Copy)]
pub(super) struct Guess {
    count: f64,
    step: f64,
}

impl Guess {
    /// From the normal approximation, for a rate with mean r and the weight of w trials of evidence; an
    /// infinite weight means a known rate.
    ///
    /// Successes in n trials have mean n r and variance n r (1 - r) (1 + (n - 1) / (w + 1)). Solving the
    /// quadratic in n gives the n at which that normal exceeds `wanted` less a half with probability
    /// `chance`, corrected for the skewness of the binomial (the first term of the Cornish-Fisher expansion).
    /// For a known rate it is seldom off by one.
    pub(super) fn normal(wanted: u32, chance: Chance, rate: f64, weight: f64) -> Self {
        let z = probit(chance.get());
        let shared = 1.0 / (weight + 1.0);
        let variance = rate * (1.0 - rate);
        let skew = (z * z - 1.0) * (1.0 - 2.0 * rate) / 6.0;
        let edge = f64::from(wanted) - 0.5 - skew;
        let square = rate * rate - z * z * variance * shared;
        let linear = 2.0 * rate * edge + z * z * variance * (1.0 - shared);
        let root = (linear * linear - 4.0 * square * edge * edge)
            .max(0.0)
            .sqrt();
        let count = if square > 0.0 {
            (linear + root.copysign(z)) / (2.0 * square)
        } else {
            edge / rate
        };
        let count = count.ceil();
        Self {
            count,
            step: (count * (variance * shared).sqrt() / 16.0).ceil(),
        }
    }
}

/// The smallest count up to [`SEEDS_MAX`] of which `wanted` succeed with probability `chance` or more, where
/// `tails` gives the probabilities for a count. From the guess, doubling steps find a count that is too few
/// and one that is enough; bisection between them is valid because one more never lowers the probability.
pub(super) fn least(
    wanted: u32,
    chance: Chance,
    guess: Guess,
    tails: impl Fn(u32) -> Tails,
) -> Result<u32, AgronomyError> {
    within("wanted", f64::from(wanted), 0.0, f64::from(SEEDS_MAX))?;
    if wanted == 0 || chance.get() <= 0.0 {
        return Ok(0);
    }
    let not_reached = AgronomyError::NotReached {
        field: "sown",
        limit: f64::from(SEEDS_MAX),
    };
    if chance.get() >= 1.0 {
        // More seed never makes it certain: only a rate that never fails does.
        return if tails(wanted).short <= 0.0 {
            Ok(wanted)
        } else {
            Err(not_reached)
        };
    }
    let enough = |count| tails(count).reach(chance);
    let mut step = (guess.step as u32).max(1);
    let mut high = (guess.count as u32).clamp(wanted, SEEDS_MAX);
    let mut too_few = wanted - 1;
    if enough(high) {
        while high > wanted {
            let probe = high.saturating_sub(step).max(wanted);
            if !enough(probe) {
                too_few = probe;
                break;
            }
            high = probe;
            step = step.saturating_mul(2);
        }
    } else {
        loop {
            if high >= SEEDS_MAX {
                return Err(not_reached);
            }
            too_few = high;
            high = high.saturating_add(step).min(SEEDS_MAX);
            step = step.saturating_mul(2);
            if enough(high) {
                break;
            }
        }
    }
    while high - too_few > 1 {
        let middle = u32::midpoint(too_few, high);
        if enough(middle) {
            high = middle;
        } else {
            too_few = middle;
        }
    }
    Ok(high)
}
