//! Plants from cells when the germination that they share is only known as a
//! beta distribution, and cells hold several seeds or seedlings get lost.
//!
//! Given the rate, plants are binomial; what is left is the average over the
//! beta. It is taken in the logit of the rate, where the integrand is smooth and
//! dies away at both ends, so that the trapezoid rule errs less than 1e-12
//! (L. N. Trefethen & J. A. C. Weideman 2014, SIAM Review 56:385, from memory;
//! checked against the exact sum where there is one, and against scipy).

use super::search::Tails;
use crate::counting::Counts;

/// Parts smaller than e to the power of minus this are left out.
const NEGLIGIBLE_LOG: f64 = 45.0;

/// A share of seeds that come up that is Beta(`alpha`, `beta`), `seeds` in a
/// cell, and `survival` of the cells with one that come up still there in the end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Uncertain {
    pub(super) alpha: f64,
    pub(super) beta: f64,
    pub(super) seeds: f64,
    pub(super) survival: f64,
}

impl Uncertain {
    /// Chances of at least `wanted` and of fewer from `cells`.
    pub(super) fn tails(self, wanted: u32, cells: u32) -> Tails {
        let step = self.step(wanted, cells);
        let mode = (self.alpha / self.beta).ln();
        let height = self.log_density(mode);
        let (mut total, mut enough, mut short) = (0.0, 0.0, 0.0);
        // Outwards from the mode: above it with the mode itself, then below.
        for (first, direction) in [(0.0, 1.0), (1.0, -1.0)] {
            let mut steps = first;
            // Far out, cells are all but sure to be occupied: nothing changes any more.
            let mut last: Option<(f64, Tails)> = None;
            loop {
                let logit = mode + direction * steps * step;
                let log = self.log_density(logit) - height;
                if log.is_nan() || log < -NEGLIGIBLE_LOG {
                    break;
                }
                let weight = log.exp();
                let rate = self.per_cell(logit);
                let tails = match last {
                    Some((before, tails)) if before.to_bits() == rate.to_bits() => tails,
                    _ => binomial_tails(wanted, cells, rate),
                };
                last = Some((rate, tails));
                total += weight;
                enough += weight * tails.enough;
                short += weight * tails.short;
                steps += 1.0;
            }
        }
        Tails {
            enough: enough / total,
            short: short / total,
        }
    }

    /// Logarithm of the beta's density over the logit, but for a constant.
    fn log_density(self, logit: f64) -> f64 {
        -self.alpha * softplus(-logit) - self.beta * softplus(logit)
    }

    /// The chance that a cell gives a plant.
    fn per_cell(self, logit: f64) -> f64 {
        -self.survival * (-self.seeds * softplus(logit)).exp_m1()
    }

    /// A step well below the width of everything that is multiplied: of the
    /// beta, of the rise from too few to enough, and of the logistic curve.
    fn step(self, wanted: u32, cells: u32) -> f64 {
        let own = ((self.alpha + self.beta) / (self.alpha * self.beta)).sqrt();
        let n = f64::from(cells.max(1));
        let share = ((f64::from(wanted) - 0.5) / n).clamp(0.5 / n, 1.0 - 0.5 / n);
        let empty = 1.0 - share / self.survival;
        let rise = if empty > 0.0 {
            let rate = 1.0 - empty.powf(1.0 / self.seeds);
            let slope = self.survival * self.seeds * empty * rate;
            (share * (1.0 - share) / n).sqrt() / slope
        } else {
            f64::INFINITY
        };
        (0.15 / self.seeds).min(0.35 * own).min(0.35 * rise)
    }
}

/// ln(1 + e^x) without overflow: minus the logarithm of the share that does not
/// come up, for the logit of the one that does.
fn softplus(x: f64) -> f64 {
    x.max(0.0) + (-x.abs()).exp().ln_1p()
}

/// Both tails of a binomial; the sums are spared where Chernoff's bound says
/// that one of them is next to nothing.
fn binomial_tails(wanted: u32, cells: u32, rate: f64) -> Tails {
    let n = f64::from(cells);
    let least_enough = f64::from(wanted) / n;
    let most_short = (f64::from(wanted) - 1.0) / n;
    let unlikely = |share| n * divergence(share, rate) > NEGLIGIBLE_LOG;
    if wanted == 0 || rate > most_short && unlikely(most_short) {
        Tails {
            enough: 1.0,
            short: 0.0,
        }
    } else if wanted > cells || rate < least_enough && unlikely(least_enough) {
        Tails {
            enough: 0.0,
            short: 1.0,
        }
    } else {
        Tails::of(&Counts::binomial(cells, rate), wanted)
    }
}

/// How much a share of `seen` speaks against a rate (Kullback-Leibler divergence).
fn divergence(seen: f64, rate: f64) -> f64 {
    let part = |seen: f64, rate: f64| {
        if seen > 0.0 {
            seen * (seen / rate).ln()
        } else {
            0.0
        }
    };
    part(seen, rate) + part(1.0 - seen, 1.0 - rate)
}
