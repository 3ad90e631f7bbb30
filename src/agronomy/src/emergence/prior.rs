//! A crop's usual figures as the prior before the first count.

use statrs::function::beta::ln_beta;

use super::EmergenceFigures;
use super::fit::likelihood::{Point, Second, logistic};

/// Standard deviation of the log of emergence speed between sowings of one crop: a mix two or three degrees
/// off changes the days by a fifth to a quarter. Common practice; no source.
pub(super) const SPEED_DEVIATION: f64 = 0.22;

/// Standard deviation of the log of the curve's steepness: a crop's usual days include differences between
/// sowings, so a single tray is often steeper. No source.
pub(super) const SHAPE_DEVIATION: f64 = 0.40;

/// The largest number of seeds' worth of evidence that a range between lots can be for a new lot: that of a
/// packet's test. Common practice; no source.
const RANGE_SEEDS_MAX: f64 = 50.0;

/// Weight of sowings that are outliers, with any final share equally likely: dead seed, a cold mat, a
/// dried-out tray. It lets a tray with no seedlings be recognised as failed however certain its lot is. No
/// source.
const OUTLIER_WEIGHT: f64 = 0.02;

/// Log odds of 0.95, the share read as "nearly all".
const LOGIT_95: f64 = 2.944_438_979_166_44;

/// Steepness from the first and the most-up day: the mean of both estimates, limited so that the curve is
/// neither a step nor nearly flat.
pub(super) fn shape_of(usual: &EmergenceFigures) -> f64 {
    let steepness = |ratio: f64| {
        let log = ratio.ln();
        LOGIT_95 / log.max(0.05)
    };
    let early = steepness(usual.half_day / usual.first_day);
    let late = steepness(usual.most_day / usual.half_day);
    f64::midpoint(early, late).clamp(1.5, 25.0)
}

/// Beta prior of the final share, from its typical value and its range between lots (p10 to p90), or from its
/// weight in seeds without a range.
///
/// With a range the typical value is the median; since the distribution is skewed, the mean is lower if most
/// lots are good. A beta's median is about (alpha - 1/3) / (alpha + beta - 2/3) (J. Kerman 2011,
/// arXiv:1111.0433). Without a range the typical value is the mean.
pub(super) fn beta_of(usual: &EmergenceFigures) -> (f64, f64) {
    let typical = usual.germination.clamp(0.02, 0.98);
    let deviation = (usual.germination_high - usual.germination_low) / 2.563;
    if deviation <= 0.0 {
        let weight = usual.weight_seeds.max(2.0);
        return (typical * weight, (1.0 - typical) * weight);
    }
    let by_range = typical * (1.0 - typical) / (deviation * deviation) - 1.0;
    let weight = by_range.clamp(2.0, RANGE_SEEDS_MAX);
    let alpha = 1.0 / 3.0 + typical * (weight - 2.0 / 3.0);
    (alpha, weight - alpha)
}

/// CurvePrior of the final share: a beta distribution, mixed with a uniform one for outliers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FinalSharePrior {
    alpha: f64,
    beta: f64,
    ln_beta: f64,
}

impl FinalSharePrior {
    pub(super) fn of(usual: &EmergenceFigures) -> Self {
        let (alpha, beta) = beta_of(usual);
        Self {
            alpha,
            beta,
            ln_beta: ln_beta(alpha, beta),
        }
    }

    /// Log density at a share between 0 and 1.
    pub(super) fn log_density(&self, share: f64) -> f64 {
        let usual =
            (self.alpha - 1.0) * share.ln() + (self.beta - 1.0) * (1.0 - share).ln() - self.ln_beta;
        ((1.0 - OUTLIER_WEIGHT) * usual.exp() + OUTLIER_WEIGHT).ln()
    }
}

/// The usual figures as a log density over curves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CurvePrior {
    alpha: f64,
    beta: f64,
    log_steepness: f64,
    log_half_day: f64,
}

impl CurvePrior {
    pub(super) fn of(usual: &EmergenceFigures) -> Self {
        let (alpha, beta) = beta_of(usual);
        Self {
            alpha,
            beta,
            log_steepness: shape_of(usual).ln(),
            log_half_day: usual.half_day.ln(),
        }
    }

    /// The most likely curve.
    pub(super) fn mode(&self) -> Point {
        [
            (self.alpha / self.beta).ln(),
            self.log_steepness,
            self.log_half_day,
        ]
    }

    /// Log density at `point`, up to a constant: beta in the final share, over its logit, and normal in the
    /// two logs.
    pub(super) fn log_density(&self, point: Point) -> Second {
        let (share, rest) = (logistic(point[0]), logistic(-point[0]));
        let mut out = Second::ZERO;
        out.value = self.alpha * share.ln() + self.beta * rest.ln();
        out.slope[0] = self.alpha * rest - self.beta * share;
        out.curvature[0][0] = -(self.alpha + self.beta) * share * rest;
        for (place, middle, deviation) in [
            (1, self.log_steepness, SHAPE_DEVIATION),
            (2, self.log_half_day, SPEED_DEVIATION),
        ] {
            let away = (point[place] - middle) / deviation;
            out.value -= 0.5 * away * away;
            out.slope[place] = -away / deviation;
            out.curvature[place][place] = -1.0 / (deviation * deviation);
        }
        out
    }
}
