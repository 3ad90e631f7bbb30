//! What so many of so many say about a share: intervals for a proportion.
//!
//! Wilson's score interval covers with about the confidence asked for on average
//! and stays short; Clopper and Pearson's never covers with less, and is longer
//! for it. Both are compared by R. G. Newcombe 1998, *Statistics in Medicine*
//! 17:857-872 (methods 3 and 5), whose worked figures they are checked against.

use statrs::function::beta::inv_beta_reg;

use crate::error::{AgronomyError, within};
use crate::probit::probit;
use crate::quantity::Chance;

/// The most trials that are reckoned with.
pub const TRIALS_MAX: u32 = 1_000_000;

/// A share between two bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The smallest share that is not ruled out.
    pub low: Chance,
    /// The largest share that is not ruled out.
    pub high: Chance,
}

/// Wilson's score interval for the share behind `successes` of `trials`
/// (E. B. Wilson 1927, *J. Am. Stat. Assoc.* 22:209-212), without correction for
/// continuity. It reaches down to exactly 0 for no success, and up to exactly 1
/// for no failure.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] unless `trials` lies in 1..=[`TRIALS_MAX`] and
/// `confidence` in 0.001..=0.999999; [`AgronomyError::OutOfOrder`] for more
/// successes than trials.
pub fn wilson(successes: u32, trials: u32, confidence: Chance) -> Result<Interval, AgronomyError> {
    let tail = checked(successes, trials, confidence)?;
    let n = f64::from(trials);
    let share = f64::from(successes) / n;
    let z2 = probit(tail).powi(2);
    let middle = share + z2 / (2.0 * n);
    let half = (z2 * (share * (1.0 - share) / n + z2 / (4.0 * n * n))).sqrt();
    let scale = 1.0 + z2 / n;
    Ok(exact_at_the_ends(
        successes,
        trials,
        (middle - half) / scale,
        (middle + half) / scale,
    ))
}

/// Clopper and Pearson's interval for the share behind `successes` of `trials`
/// (C. J. Clopper & E. S. Pearson 1934, *Biometrika* 26:404-413): the shares
/// under which neither so many nor so few would be rarer than half of what the
/// confidence leaves. It reaches down to exactly 0 for no success, and up to
/// exactly 1 for no failure.
///
/// # Errors
/// As [`wilson`].
pub fn clopper_pearson(
    successes: u32,
    trials: u32,
    confidence: Chance,
) -> Result<Interval, AgronomyError> {
    let tail = checked(successes, trials, confidence)?;
    // The chance of so many or more is a beta's distribution function. By
    // symmetry, the upper bound is one less the lower bound of the failures.
    let least_share = |count: u32| {
        if count == 0 {
            0.0
        } else {
            inv_beta_reg(f64::from(count), f64::from(trials - count) + 1.0, tail)
        }
    };
    let (low, high) = (
        least_share(successes),
        1.0 - least_share(trials - successes),
    );
    Ok(exact_at_the_ends(successes, trials, low, high))
}

/// The share of rare events that the confidence leaves on either side.
fn checked(successes: u32, trials: u32, confidence: Chance) -> Result<f64, AgronomyError> {
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

/// Rounding leaves a residue where the bound is 0 or 1 by definition.
fn exact_at_the_ends(successes: u32, trials: u32, low: f64, high: f64) -> Interval {
    Interval {
        low: if successes == 0 {
            Chance::NEVER
        } else {
            Chance::clamped(low)
        },
        high: if successes == trials {
            Chance::CERTAIN
        } else {
            Chance::clamped(high)
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::counting::Counts;
    use proptest::prelude::*;

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let confidence = Chance::new(0.95).unwrap();
        for interval in [wilson, clopper_pearson] {
            let field = |x, n, c| interval(x, n, c).unwrap_err().field();
            assert_eq!(field(0, 0, confidence), "trials");
            assert_eq!(field(0, TRIALS_MAX + 1, confidence), "trials");
            assert_eq!(field(3, 2, confidence), "successes");
            assert_eq!(field(1, 2, Chance::CERTAIN), "confidence");
            assert_eq!(field(1, 2, Chance::NEVER), "confidence");
        }
    }

    proptest! {
        #[test]
        fn intervals_hold_the_share_seen_and_widen_with_confidence(
            trials in 1u32..5000, seen in 0.0f64..=1.0, confidence in 0.01f64..0.99,
        ) {
            let successes = (f64::from(trials) * seen) as u32;
            let share = f64::from(successes) / f64::from(trials);
            for interval in [wilson, clopper_pearson] {
                let at = |confidence| {
                    interval(successes, trials, Chance::new(confidence).unwrap()).unwrap()
                };
                let (narrow, wide) = (at(confidence), at(confidence + 0.005));
                prop_assert!(narrow.low.get() <= share + 1e-12);
                prop_assert!(narrow.high.get() >= share - 1e-12);
                prop_assert!(wide.low <= narrow.low && wide.high >= narrow.high);
            }
        }

        /// The definition: at the bounds, so many or more, and so few or fewer, are as rare as asked.
        #[test]
        fn clopper_and_pearsons_bounds_are_where_the_tails_are_so_rare(
            trials in 1u32..3000, seen in 0.0f64..=1.0, confidence in 0.5f64..0.999,
        ) {
            let successes = (f64::from(trials) * seen) as u32;
            let interval =
                clopper_pearson(successes, trials, Chance::new(confidence).unwrap()).unwrap();
            let tail = (1.0 - confidence) / 2.0;
            let at = |rate: Chance| Counts::binomial(trials, rate.get());
            if successes > 0 {
                let more = at(interval.low).at_least(successes);
                prop_assert!((more / tail - 1.0).abs() < 1e-7, "{more} {tail}");
            }
            if successes < trials {
                let fewer = at(interval.high).fewer_than(successes + 1);
                prop_assert!((fewer / tail - 1.0).abs() < 1e-7, "{fewer} {tail}");
            }
        }
    }
}
