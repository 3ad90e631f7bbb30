//! The parameters of a fitted curve with their standard errors.

use super::likelihood::logistic;
use super::matrix::spread_of;
use super::{Curve, Fit};
use crate::quantity::Chance;

/// A fitted number with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The fitted value.
    pub value: f64,
    /// Its standard error, in the unit of the value. `None` at the boundary (a final share of 1), where it
    /// does not exist.
    pub standard_error: Option<f64>,
}

impl Fit {
    /// The share of those sown that comes up in the end, from 0 to 1. If the counts alone do not identify a
    /// curve (see [`Fit::half_day`]), it is the share seen so far, with its binomial error.
    pub fn final_share(&self) -> Estimate {
        if let Some(curve) = &self.curve {
            let share = logistic(curve.point[0]);
            let error = share * (1.0 - share) * curve.covariance[0][0].sqrt();
            Estimate {
                value: share,
                standard_error: curve.point[0].is_finite().then_some(error),
            }
        } else {
            let share = self.seen_up() / self.covered().max(1.0);
            Estimate {
                value: share,
                standard_error: Some((share * (1.0 - share) / self.covered().max(1.0)).sqrt()),
            }
        }
    }

    /// The day by which half of the final number are up: the curve's e. `None` if the counts alone do not
    /// identify a curve: nothing is up yet, all seedlings came up between the same two inspections, or there
    /// are too few inspections.
    pub fn half_day(&self) -> Option<Estimate> {
        self.curve.as_ref().map(|curve| positive(curve, 2))
    }

    /// The curve's steepness b: 2 is a slow trickle, 20 a rush. `None` as for [`Fit::half_day`].
    pub fn steepness(&self) -> Option<Estimate> {
        self.curve.as_ref().map(|curve| positive(curve, 1))
    }

    /// The day by which `share` of the final number are up. `None` for a share of 0 or 1, which is never
    /// reached exactly, and as for [`Fit::half_day`].
    pub fn day_of_emerged(&self, share: Chance) -> Option<Estimate> {
        let curve = self.curve.as_ref()?;
        let share = share.get();
        (share > 0.0 && share < 1.0).then(|| day_at(curve, (share / (1.0 - share)).ln()))
    }

    /// Seedlings up at the last inspections.
    pub(super) fn seen_up(&self) -> f64 {
        self.lasts.iter().map(|last| last.up).sum()
    }

    /// Seeds or cells that the last inspections covered.
    pub(super) fn covered(&self) -> f64 {
        self.lasts.iter().map(|last| last.of).sum()
    }
}

/// A parameter that is stored as its log.
fn positive(curve: &Curve, place: usize) -> Estimate {
    let value = curve.point[place].exp();
    Estimate {
        value,
        standard_error: Some(value * curve.covariance[place][place].sqrt()),
    }
}

/// The day on which the share of the final number has log odds `logit`.
fn day_at(curve: &Curve, logit: f64) -> Estimate {
    let [_, log_b, log_e] = curve.point;
    let b = log_b.exp();
    let day = (log_e + logit / b).exp();
    let slope = [0.0, -logit / b, 1.0];
    Estimate {
        value: day,
        standard_error: Some(day * spread_of(slope, &curve.covariance).sqrt()),
    }
}
