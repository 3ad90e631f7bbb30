//! Confidence intervals for a binomial proportion.

use crate::error::{AgronomyError, within};
use crate::normal::probit;
use crate::quantity::Chance;

/// The largest number of trials accepted.
const TRIALS_MAX: u32 = 1_000_000;

/// A confidence interval for a proportion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower bound.
    pub low: Chance,
    /// Upper bound.
    pub high: Chance,
}

/// Wilson's score interval for `successes` in `trials` (E. B. Wilson 1927, *J. Am. Stat. Assoc.* 22:209-212),
/// without continuity correction.
///
/// The lower bound is exactly 0 without successes, the upper bound exactly 1 without failures. R. G. Newcombe
/// 1998, *Statistics in Medicine* 17:857-872 (method 3) compares it with others.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] unless `trials` is in 1..=1,000,000 and `confidence` in 0.001..=0.999999;
/// [`AgronomyError::OutOfOrder`] for more successes than trials.
pub fn wilson(successes: u32, trials: u32, confidence: Chance) -> Result<Interval, AgronomyError> {
    let tail = tail_probability(successes, trials, confidence)?;
    let n = f64::from(trials);
    let share = f64::from(successes) / n;
    let z2 = probit(tail).powi(2);
    let middle = share + z2 / (2.0 * n);
    let half = (z2 * (share * (1.0 - share) / n + z2 / (4.0 * n * n))).sqrt();
    let scale = 1.0 + z2 / n;
    // Rounding would leave a residue where a bound is 0 or 1 by definition.
    Ok(Interval {
        low: if successes == 0 {
            Chance::NEVER
        } else {
            Chance::clamped((middle - half) / scale)
        },
        high: if successes == trials {
            Chance::CERTAIN
        } else {
            Chance::clamped((middle + half) / scale)
        },
    })
}

/// The probability left outside the interval on either side.
fn tail_probability(successes: u32, trials: u32, confidence: Chance) -> Result<f64, AgronomyError> {
    let (x, n) = (f64::from(successes), f64::from(trials));
    within("trials", n, 1.0, f64::from(TRIALS_MAX))?;
    if successes > trials {
        return Err(AgronomyError::OutOfOrder {
            lower_field: "successes",
            upper_field: "trials",
            lower: x,
            upper: n,
        });
    }
    within("confidence", confidence.get(), 0.001, 0.999_999)?;
    Ok(confidence.complement().get() / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn invalid_arguments_are_refused_by_name() {
        let confidence = Chance::new(0.95).unwrap();
        let field = |x, n, c| wilson(x, n, c).unwrap_err().field();
        assert_eq!(field(0, 0, confidence), "trials");
        assert_eq!(field(0, TRIALS_MAX + 1, confidence), "trials");
        assert_eq!(field(3, 2, confidence), "successes");
        assert_eq!(field(1, 2, Chance::CERTAIN), "confidence");
        assert_eq!(field(1, 2, Chance::NEVER), "confidence");
    }

    proptest! {
        #[test]
        fn intervals_contain_the_observed_share_and_widen_with_confidence(
            trials in 1u32..5000, seen in 0.0f64..=1.0, confidence in 0.01f64..0.99,
        ) {
            let successes = (f64::from(trials) * seen) as u32;
            let share = f64::from(successes) / f64::from(trials);
            let at = |confidence| {
                wilson(successes, trials, Chance::new(confidence).unwrap()).unwrap()
            };
            let (narrow, wide) = (at(confidence), at(confidence + 0.005));
            prop_assert!(narrow.low.get() <= share + 1e-12);
            prop_assert!(narrow.high.get() >= share - 1e-12);
            prop_assert!(wide.low <= narrow.low && wide.high >= narrow.high);
        }
    }
}
