//! What a fitted curve says of itself.

use super::likelihood::{Second, logistic};
use super::matrix::{Matrix, product, spread_of};
use super::{Curve, Fit, total};
use crate::quantity::Chance;

/// A fitted number with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The fitted value.
    pub value: f64,
    /// Its standard error, in the unit of the value. `None` at the edge of what
    /// is possible (a final share of 1), where it does not exist.
    pub standard_error: Option<f64>,
}

impl Fit {
    /// The share of those sown that comes up in the end, from 0 to 1. Where the
    /// counts alone tell no curve (see [`Fit::half_day`]) it is the share seen
    /// so far, with its binomial error.
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

    /// The day by which half of those that come up are up: the curve's e. `None`
    /// where the counts alone tell no curve: nothing up yet, all that came up
    /// came between the same two looks, or as many unknowns as there are looks.
    pub fn half_day(&self) -> Option<Estimate> {
        self.curve.as_ref().map(|curve| positive(curve, 2))
    }

    /// The curve's steepness b: 2 is a long drizzle, 20 a rush. `None` as for
    /// [`Fit::half_day`].
    pub fn steepness(&self) -> Option<Estimate> {
        self.curve.as_ref().map(|curve| positive(curve, 1))
    }

    /// The day by which `share` of those that come up are up. `None` for a share
    /// of 0 or 1, which have no day, and as for [`Fit::half_day`].
    pub fn day_of_emerged(&self, share: Chance) -> Option<Estimate> {
        let curve = self.curve.as_ref()?;
        let share = share.get();
        (share > 0.0 && share < 1.0).then(|| day_at(curve, (share / (1.0 - share)).ln(), 0.0))
    }

    /// The day by which `share` of all sown are up: not the same as of those
    /// that come up. `None` if so many never come, for a share of 0, and as for
    /// [`Fit::half_day`].
    pub fn day_of_sown(&self, share: Chance) -> Option<Estimate> {
        let curve = self.curve.as_ref()?;
        let most = logistic(curve.point[0]);
        let share = share.get();
        (share > 0.0 && share < most).then(|| {
            let by_final = -most * (1.0 - most) / (most - share);
            day_at(curve, (share / (most - share)).ln(), by_final)
        })
    }

    /// Log-likelihood of the counts under the curve, in natural logs, up to a
    /// constant of the counts alone. `None` as for [`Fit::half_day`].
    pub fn log_likelihood(&self) -> Option<f64> {
        let curve = self.curve.as_ref()?;
        Some(total(&self.trays, curve.point).value)
    }

    /// The same fit with standard errors that allow for trays that differ by
    /// more than chance: the "sandwich" of information and the trays' own
    /// scores, times g / (g - 1) for g trays. `None` with fewer than two trays,
    /// and as for [`Fit::half_day`].
    #[must_use]
    pub fn with_trays_apart(&self) -> Option<Self> {
        let curve = self.curve.as_ref()?;
        if self.trays.len() < 2 {
            return None;
        }
        let groups = self.trays.len() as f64;
        let mut meat = [[0.0; 3]; 3];
        for tray in &self.trays {
            let mut score = tray.log_likelihood(curve.point);
            if let Some(prior) = &self.prior {
                // Each tray bears its part of the prior, so that the scores sum to nothing.
                score.add(1.0 / groups, &prior.log_density(curve.point));
            }
            add_square(&mut meat, &score, groups / (groups - 1.0));
        }
        let covariance = product(&product(&curve.covariance, &meat), &curve.covariance);
        Some(Self {
            curve: Some(Curve {
                point: curve.point,
                covariance,
            }),
            ..self.clone()
        })
    }

    /// Seedlings seen up by the last looks.
    pub(super) fn seen_up(&self) -> f64 {
        self.lasts.iter().map(|last| last.up).sum()
    }

    /// Seeds or cells the last looks covered.
    pub(super) fn covered(&self) -> f64 {
        self.lasts.iter().map(|last| last.of).sum()
    }
}

fn add_square(meat: &mut Matrix, score: &Second, factor: f64) {
    for (row, left) in meat.iter_mut().zip(score.slope) {
        for (slot, right) in row.iter_mut().zip(score.slope) {
            *slot += factor * left * right;
        }
    }
}

/// A parameter that is held as its log.
fn positive(curve: &Curve, place: usize) -> Estimate {
    let value = curve.point[place].exp();
    Estimate {
        value,
        standard_error: Some(value * curve.covariance[place][place].sqrt()),
    }
}

/// The day on which the curve of those that come up has log odds `logit`, which
/// moves by `by_final` with the logit of the final share.
fn day_at(curve: &Curve, logit: f64, by_final: f64) -> Estimate {
    let [_, log_b, log_e] = curve.point;
    let b = log_b.exp();
    let day = (log_e + logit / b).exp();
    let slope = [by_final / b, -logit / b, 1.0];
    Estimate {
        value: day,
        standard_error: Some(day * spread_of(slope, &curve.covariance).sqrt()),
    }
}
