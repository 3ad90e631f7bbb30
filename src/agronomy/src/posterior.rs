//! A crop's figures updated by a grower's own records: the usual range is the prior.
//!
//! Yields and the time to bloom are log-normal with a known variance between plantings, so their prior and
//! posterior are normal on the log scale; shares are beta-binomial. Both are the conjugate models of Gelman
//! et al., *Bayesian Data Analysis*, 3rd ed.: sections 2.5 (equations 2.9 to 2.12) and 2.4, from memory.
//! Plants of one planting are correlated, which reduces their effective number: the design effect 1 + (n - 1)
//! r (Kish 1965, from memory).

use statrs::function::beta::inv_beta_reg;

use crate::error::{AgronomyError, within};
use crate::quantity::{Chance, Z90};

/// Range of positive figures.
const VALUES: (f64, f64) = (1e-6, 1e9);
/// Range of a prior share's weight in trials: a very narrow or very wide range does not mean more or less
/// than this.
const PRIOR_TRIALS: (f64, f64) = (2.0, 1000.0);
/// Range of a prior share in which a beta distribution has a mode.
const SHARES: (f64, f64) = (0.001, 0.999);
/// The largest number of trials in one record.
const TRIALS_MAX: f64 = 1e9;

/// A figure updated by own records.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Posterior {
    /// 10th percentile.
    pub low: f64,
    /// Median.
    pub middle: f64,
    /// 90th percentile.
    pub high: f64,
    /// Share of the result that comes from own records, 0 to 1.
    pub weight: f64,
    /// How many whole plantings the own records are worth.
    pub plantings: f64,
}

/// Log-normal prior of a positive figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogNormalPrior {
    middle: f64,
    deviation: f64,
}

impl LogNormalPrior {
    /// With median `middle` (1e-6 to 1e9) and standard deviation `deviation` of the logarithm (0.001 to 3).
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] outside these ranges (`middle`, `deviation`).
    pub fn new(middle: f64, deviation: f64) -> Result<Self, AgronomyError> {
        Ok(Self {
            middle: within("middle", middle, VALUES.0, VALUES.1)?,
            deviation: within("deviation", deviation, 0.001, 3.0)?,
        })
    }

    /// From a figure's usual range, p10, median and p90. The width is the mean of both ends; of one end if
    /// the other is unknown or not positive; and `otherwise` (a standard deviation of the logarithm) without
    /// either.
    ///
    /// # Errors
    /// As [`LogNormalPrior::new`]; [`AgronomyError::OutOfOrder`] for a range that is out of order (`low`,
    /// `middle`).
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
        // An end equal to the middle means that the width is unknown, not zero.
        Self::new(middle, if width > 0.0 { width } else { otherwise })
    }
}

/// The figure of one planting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ValueRecord {
    /// The figure, 1e-6 to 1e9.
    pub value: f64,
    /// How much of a whole planting it is worth, 0 to 1000.
    pub weight: f64,
}

/// A positive figure updated by records, if the logarithms of plantings have the standard deviation `between`
/// (0.001 to 3).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for `between`, and for a value or weight out of range (`records`).
pub fn log_normal(
    prior: LogNormalPrior,
    between: f64,
    records: &[ValueRecord],
) -> Result<Posterior, AgronomyError> {
    let between = within("between", between, 0.001, 3.0)?;
    let (mut plantings, mut sum) = (0.0, 0.0);
    for record in records {
        let value = within("records", record.value, VALUES.0, VALUES.1)?;
        let weight = within("records", record.weight, 0.0, 1000.0)?;
        plantings += weight;
        sum += weight * value.ln();
    }
    let known = prior.deviation.powi(-2);
    let data = plantings / between.powi(2);
    let middle = (prior.middle.ln() * known + sum / between.powi(2)) / (known + data);
    let deviation = (known + data).sqrt().recip();
    Ok(Posterior {
        low: (middle - Z90 * deviation).exp(),
        middle: middle.exp(),
        high: (middle + Z90 * deviation).exp(),
        weight: data / (known + data),
        plantings,
    })
}

/// Beta prior of a share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BetaPrior {
    share: f64,
    trials: f64,
}

impl BetaPrior {
    /// A share worth `trials`, which are clamped to 2 to 1000.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for a negative number of trials or NaN (`trials`).
    pub fn new(share: Chance, trials: f64) -> Result<Self, AgronomyError> {
        let trials = within("trials", trials, 0.0, TRIALS_MAX)?;
        Ok(Self {
            share: share.get().clamp(SHARES.0, SHARES.1),
            trials: trials.clamp(PRIOR_TRIALS.0, PRIOR_TRIALS.1),
        })
    }

    /// From a share's usual range, p10 to p90: the beta distribution with about that width.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfOrder`] for a range that is out of order (`low`).
    pub fn from_range(low: Chance, share: Chance, high: Chance) -> Result<Self, AgronomyError> {
        in_order("low", "high", low.get(), high.get())?;
        let middle = share.get().clamp(SHARES.0, SHARES.1);
        let deviation = (high.get() - low.get()) / (2.0 * Z90);
        let trials = middle * (1.0 - middle) / deviation.powi(2).max(1e-9) - 1.0;
        Self::new(share, trials.clamp(PRIOR_TRIALS.0, PRIOR_TRIALS.1))
    }
}

/// Successes in one planting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShareRecord {
    /// Number of successes.
    pub successes: u32,
    /// Number of trials.
    pub trials: u32,
    /// Weight of the record, 0 to 1: less than 1 for another variety's.
    pub weight: f64,
}

/// A share updated by records. With an intraclass correlation `icc` (0 to 1) of the trials of one planting,
/// no planting is worth more than 1 / `icc` trials; with 0 all trials are independent, and the result's
/// `plantings` is 0.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for `icc` or a weight out of range (`weight`); [`AgronomyError::OutOfOrder`]
/// for more successes than trials (`successes`).
pub fn beta(
    prior: BetaPrior,
    icc: f64,
    records: &[ShareRecord],
) -> Result<Posterior, AgronomyError> {
    let icc = within("icc", icc, 0.0, 1.0)?;
    let (mut all_successes, mut all_trials) = (0.0, 0.0);
    for record in records.iter().filter(|record| record.trials > 0) {
        let (successes, trials) = (f64::from(record.successes), f64::from(record.trials));
        in_order("successes", "trials", successes, trials)?;
        let worth = within("weight", record.weight, 0.0, 1.0)? / (1.0 + (trials - 1.0) * icc);
        all_successes += successes * worth;
        all_trials += trials * worth;
    }
    let a = prior.share * prior.trials + all_successes;
    let b = (1.0 - prior.share) * prior.trials + all_trials - all_successes;
    let quantile = |share| inv_beta_reg(a, b, share);
    Ok(Posterior {
        low: quantile(0.1),
        middle: quantile(0.5),
        high: quantile(0.9),
        weight: all_trials / (prior.trials + all_trials),
        plantings: all_trials * icc,
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
