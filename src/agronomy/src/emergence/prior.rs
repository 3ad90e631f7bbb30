//! The crop's usual figures as what is believed before the first count.

use statrs::function::beta::ln_beta;

use super::Usual;
use super::fit::likelihood::{Point, Second, logistic};

/// Standard deviation of the log of the clock's speed between sowings of one
/// crop: a mix two or three degrees off moves the days by a fifth to a quarter.
/// Common practice; no source.
pub(super) const SPEED_DEVIATION: f64 = 0.22;

/// Standard deviation of the log of the curve's steepness: a crop's usual days
/// hold the differences between sowings, so a single tray is often steeper. No
/// source.
pub(super) const SHAPE_DEVIATION: f64 = 0.40;

/// A range between lots is taken for no more seeds' worth of evidence on one that
/// was never seen than the test of a packet. Common practice; no source.
const RANGE_SEEDS_MAX: f64 = 50.0;

/// One sowing in fifty goes a way of its own, any final share as likely as any
/// other: dead seed, a mat gone cold, a tray dried out. So a tray in which nothing
/// comes up is soon known for failed, however sure its lot is. No source.
const ASTRAY: f64 = 0.02;

/// Log odds of 19 in 20, the share read as "nearly all".
const LOGIT_95: f64 = 2.944_438_979_166_44;

/// Steepness from the first and the most-up day: the mean of what each says,
/// held where a curve is neither a step nor a drizzle.
pub(super) fn shape_of(usual: &Usual) -> f64 {
    let steepness = |ratio: f64| {
        let log = ratio.ln();
        LOGIT_95 / log.max(0.05)
    };
    let early = steepness(usual.half_day / usual.first_day);
    let late = steepness(usual.most_day / usual.half_day);
    f64::midpoint(early, late).clamp(1.5, 25.0)
}

/// Beta prior of the final share from its typical value and the range between
/// lots, read as 10 to 90 in 100, or without one from its weight in seeds.
///
/// With a range the typical value is its middle, 50 in 100: where most lots are
/// good the mean lies below it. A beta's median is about (alpha - 1/3) / (alpha +
/// beta - 2/3) (J. Kerman 2011, arXiv:1111.0433). Without one it is the mean.
pub(super) fn beta_of(usual: &Usual) -> (f64, f64) {
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

/// The final share before the first count: a beta, and now and then a sowing that
/// goes astray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shares {
    alpha: f64,
    beta: f64,
    ln_beta: f64,
}

impl Shares {
    pub(super) fn of(usual: &Usual) -> Self {
        let (alpha, beta) = beta_of(usual);
        Self {
            alpha,
            beta,
            ln_beta: ln_beta(alpha, beta),
        }
    }

    /// The log of the density at a share between 0 and 1.
    pub(super) fn log_density(&self, share: f64) -> f64 {
        let usual =
            (self.alpha - 1.0) * share.ln() + (self.beta - 1.0) * (1.0 - share).ln() - self.ln_beta;
        ((1.0 - ASTRAY) * usual.exp() + ASTRAY).ln()
    }
}

/// The usual figures as a log-density over curves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Prior {
    alpha: f64,
    beta: f64,
    log_steepness: f64,
    log_half_day: f64,
}

impl Prior {
    pub(super) fn of(usual: &Usual) -> Self {
        let (alpha, beta) = beta_of(usual);
        Self {
            alpha,
            beta,
            log_steepness: shape_of(usual).ln(),
            log_half_day: usual.half_day.ln(),
        }
    }

    /// The curve it holds for the likeliest.
    pub(super) fn middle(&self) -> Point {
        [
            (self.alpha / self.beta).ln(),
            self.log_steepness,
            self.log_half_day,
        ]
    }

    /// The log-density at `point`, up to a constant: beta in the final share,
    /// taken over its logit, and normal in the two logs.
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
