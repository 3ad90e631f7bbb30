//! What a grower's own records make of a figure: the crop's usual range as the prior, moved by what was seen.
//!
//! Yields, and the way to bloom, are taken as log-normal with a known variance
//! between plantings, so that their prior and posterior are normal on the scale
//! of logarithms; shares are taken as beta. Both are the conjugate models of
//! Gelman et al., *Bayesian Data Analysis*, 3rd ed.: sections 2.5 (equations 2.9
//! to 2.12) and 2.4, from memory. Plants of one planting fare alike, which makes
//! their number worth less: the design effect 1 + (n - 1) r (Kish 1965, from
//! memory).

use statrs::function::beta::inv_beta_reg;

use crate::error::{AgronomyError, within};
use crate::quantity::{Chance, Z90};

/// Smallest and largest value on the scale of logarithms.
const VALUES: (f64, f64) = (1e-6, 1e9);
/// How many trials a prior share is worth, at least and at most: a range that is next to nothing or all of it says no more.
const PRIOR_TRIALS: (f64, f64) = (2.0, 1000.0);
/// A share by which a beta still has a shape.
const SHARES: (f64, f64) = (0.001, 0.999);
/// The most trials of one record.
const TRIALS_MAX: f64 = 1e9;

/// A figure after own records were taken in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Posterior {
    /// One chance in ten that it is lower.
    pub low: f64,
    /// The middle: as likely higher as lower.
    pub middle: f64,
    /// One chance in ten that it is higher.
    pub high: f64,
    /// How much of it rests on own records, 0 to 1.
    pub weight: f64,
    /// How many whole plantings the own records are worth.
    pub plantings: f64,
}

/// A figure above zero before own records: log-normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogPrior {
    middle: f64,
    deviation: f64,
}

impl LogPrior {
    /// A figure whose middle is `middle` (1e-6 to 1e9) and whose logarithm has the standard deviation `deviation` (0.001 to 3).
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] beyond that (`middle`, `deviation`).
    pub fn new(middle: f64, deviation: f64) -> Result<Self, AgronomyError> {
        Ok(Self {
            middle: within("middle", middle, VALUES.0, VALUES.1)?,
            deviation: within("deviation", deviation, 0.001, 3.0)?,
        })
    }

    /// A figure with its usual range: 10, 50 and 90 in 100. The width is that of both ends together; of one end where the other
    /// is not known, or not above zero; and `otherwise` (a standard deviation of the logarithm) where neither is.
    ///
    /// # Errors
    /// As [`LogPrior::new`]; [`AgronomyError::OutOfOrder`] for a range that is upside down (`low`, `middle`).
    pub fn from_range(
        low: Option<f64>,
        middle: f64,
        high: Option<f64>,
        otherwise: f64,
    ) -> Result<Self, AgronomyError> {
        let low = low.filter(|low| *low >= VALUES.0);
        in_order("low", "middle", low.unwrap_or(middle), middle)?;
        in_order("middle", "high", middle, high.unwrap_or(middle))?;
        let below = low.map(|low| (middle / low).ln() / Z90);
        let above = high.map(|high| (high / middle).ln() / Z90);
        let width = match (below, above) {
            (Some(below), Some(above)) => f64::midpoint(below, above),
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => otherwise,
        };
        // An end that lies on the middle says that no width is known, not that there is none.
        Self::new(middle, if width > 0.0 { width } else { otherwise })
    }
}

/// What one planting gave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// The figure, 1e-6 to 1e9.
    pub value: f64,
    /// How much of a whole planting it is worth, 0 to 1000.
    pub weight: f64,
}

/// A figure above zero after what was seen, where the logarithms of plantings have the standard deviation `between` (0.001 to 3).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for `between`, and for a value or weight out of range (`seen`).
pub fn log_normal(
    prior: LogPrior,
    between: f64,
    seen: &[Seen],
) -> Result<Posterior, AgronomyError> {
    let between = within("between", between, 0.001, 3.0)?;
    let (mut plantings, mut sum) = (0.0, 0.0);
    for one in seen {
        let value = within("seen", one.value, VALUES.0, VALUES.1)?;
        let weight = within("seen", one.weight, 0.0, 1000.0)?;
        plantings += weight;
        sum += weight * value.ln();
    }
    let known = prior.deviation.powi(-2);
    let told = plantings / between.powi(2);
    let middle = (prior.middle.ln() * known + sum / between.powi(2)) / (known + told);
    let deviation = (known + told).sqrt().recip();
    Ok(Posterior {
        low: (middle - Z90 * deviation).exp(),
        middle: middle.exp(),
        high: (middle + Z90 * deviation).exp(),
        weight: told / (known + told),
        plantings,
    })
}

/// A share before own records: a beta, as after so many trials.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SharePrior {
    share: f64,
    trials: f64,
}

impl SharePrior {
    /// A share that so many trials stand for; brought to 2 to 1000 trials, and off the very ends.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for trials that are no number (`trials`).
    pub fn new(share: Chance, trials: f64) -> Result<Self, AgronomyError> {
        let trials = within("trials", trials, 0.0, TRIALS_MAX)?;
        Ok(Self {
            share: share.get().clamp(SHARES.0, SHARES.1),
            trials: trials.clamp(PRIOR_TRIALS.0, PRIOR_TRIALS.1),
        })
    }

    /// A share with its usual range, 10 and 90 in 100: the beta with about that width.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfOrder`] for a range that is upside down (`low`).
    pub fn from_range(low: Chance, share: Chance, high: Chance) -> Result<Self, AgronomyError> {
        in_order("low", "high", low.get(), high.get())?;
        let middle = share.get().clamp(SHARES.0, SHARES.1);
        let deviation = (high.get() - low.get()) / (2.0 * Z90);
        let trials = middle * (1.0 - middle) / deviation.powi(2).max(1e-9) - 1.0;
        Self::new(share, trials.clamp(PRIOR_TRIALS.0, PRIOR_TRIALS.1))
    }
}

/// How many of how many there were in one planting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tally {
    /// Those that did.
    pub did: u32,
    /// Of so many.
    pub of: u32,
    /// How much of a record of this figure it is worth, 0 to 1: less for another variety's.
    pub weight: f64,
}

/// A share after what was seen. `alike` (0 to 1) is how far trials of one planting go together: with 1, a planting is worth a
/// single trial, with less, no planting is worth more than 1 / `alike` trials. With 0 each trial is its own, and no number of
/// plantings can be told.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for `alike` and a weight out of range (`weight`); [`AgronomyError::OutOfOrder`] where more did
/// than there were (`did`).
pub fn share(prior: SharePrior, alike: f64, seen: &[Tally]) -> Result<Posterior, AgronomyError> {
    let alike = within("alike", alike, 0.0, 1.0)?;
    let (mut did, mut of) = (0.0, 0.0);
    for one in seen.iter().filter(|one| one.of > 0) {
        let (successes, trials) = (f64::from(one.did), f64::from(one.of));
        in_order("did", "of", successes, trials)?;
        let worth = within("weight", one.weight, 0.0, 1.0)? / (1.0 + (trials - 1.0) * alike);
        did += successes * worth;
        of += trials * worth;
    }
    let a = prior.share * prior.trials + did;
    let b = (1.0 - prior.share) * prior.trials + of - did;
    let quantile = |share| inv_beta_reg(a, b, share);
    Ok(Posterior {
        low: quantile(0.1),
        middle: quantile(0.5),
        high: quantile(0.9),
        weight: of / (prior.trials + of),
        plantings: of * alike,
    })
}

fn in_order(
    lower_field: &'static str,
    upper_field: &'static str,
    lower: f64,
    upper: f64,
) -> Result<(), AgronomyError> {
    if lower <= upper {
        return Ok(());
    }
    Err(AgronomyError::OutOfOrder {
        lower_field,
        upper_field,
        lower,
        upper,
    })
}

#[cfg(test)]
mod tests;
