//! Plants from cells whose shared germination rate is known only as a beta distribution, if cells hold
//! several seeds or seedlings are lost.
//!
//! Given the rate, the number of plants is binomial; it remains to average over the beta. The integral is
//! taken over the logit of the rate, where the integrand is smooth and vanishes at both ends, so the
//! trapezoidal rule is accurate to 1e-12 (L. N. Trefethen & J. A. C. Weideman 2014, SIAM Review 56:385, from
//! memory; checked against exact sums and against scipy).

use super::search::Tails;
use crate::counting::Counts;

/// Terms below e to the power of minus this are dropped.
const NEGLIGIBLE_LOG: f64 = 45.0;

/// A germination rate distributed as Beta(`alpha`, `beta`), with `seeds` in a cell; `survival` of the
/// occupied cells keep their seedling.
#[derive(Debug, Clone, Copy)]
pub(super) struct Uncertain {
    pub(super) alpha: f64,
    pub(super) beta: f64,
    pub(super) seeds: f64,
    pub(super) survival: f64,
}

impl Uncertain {
    /// Probabilities of at least `wanted` and of fewer from `cells`.
    pub(super) fn tails(self, wanted: u32, cells: u32) -> Tails {
        let step = self.step(wanted, cells);
        let mode = (self.alpha / self.beta).ln();
        let height = self.log_density(mode);
        let (mut total, mut enough, mut short) = (0.0, 0.0, 0.0);
        // Outwards from the mode: first upwards including the mode, then downwards.
        for (first, direction) in [(0.0, 1.0), (1.0, -1.0)] {
            let mut steps = first;
            // Far out all cells are almost surely occupied and nothing changes.
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

    /// Logarithm of the beta's density over the logit, up to a constant.
    fn log_density(self, logit: f64) -> f64 {
        -self.alpha * softplus(-logit) - self.beta * softplus(logit)
    }

    /// The probability that a cell gives a plant.
    fn per_cell(self, logit: f64) -> f64 {
        -self.survival * (-self.seeds * softplus(logit)).exp_m1()
    }

    /// A step well below the width of each factor: the beta, the transition from too few to enough, and the
    /// logistic curve.
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

/// ln(1 + e^x) without overflow: for the logit of a probability, minus the logarithm of its complement.
fn softplus(x: f64) -> f64 {
    x.max(0.0) + (-x.abs()).exp().ln_1p()
}

/// Both tails of a binomial. The sums are skipped where Chernoff's bound shows one of them to be negligible.
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

/// Kullback-Leibler divergence of an observed share from a rate.
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
