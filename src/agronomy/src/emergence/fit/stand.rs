//! The final stand, from a fitted curve.

use super::likelihood::logistic;
use super::matrix::spread_of;
use super::{Curve, Fit, Last};
use crate::counting::Counts;
use crate::emergence::quantiles;
use crate::quantity::Spread;

/// A beta distribution with less evidence than this, in seeds, concentrates at both ends.
const WORTH_MIN: f64 = 0.5;
/// With more evidence than this, in seeds, a beta distribution is practically a fixed probability.
const WORTH_MAX: f64 = 1e7;

impl Fit {
    /// Seeds or cells up by the last inspection of each tray.
    fn up_now(&self) -> u32 {
        self.seen_up().round() as u32
    }

    /// Seeds or cells that the last inspections covered.
    pub fn looked_at(&self) -> u32 {
        self.covered().round() as u32
    }

    /// How many are up `days` after the last inspection of each tray, of those it covered: at least those
    /// seen, at most all. Includes the binomial variation and the error of the curve. `None` if the counts
    /// alone do not identify a curve and some cells are empty. Negative days and NaN count as zero.
    pub fn stand_after(&self, days: f64) -> Option<Spread<f64>> {
        let up = f64::from(self.up_now());
        let waiting = self.looked_at() - self.up_now();
        if waiting == 0 {
            return Some(Spread::exact(up));
        }
        let curve = self.curve.as_ref()?;
        let (chance, variance) = self.late_chance(curve, days);
        let more = late_comers(waiting, chance, variance);
        let spread = quantiles(&more).map(|more| up + more);
        // At the boundary the fit says that all come up, and nothing about its error.
        Some(if curve.point[0].is_finite() {
            spread
        } else {
            Spread {
                p10: up,
                p50: spread.p50,
                p90: up + f64::from(waiting),
            }
        })
    }

    /// The probability that an empty cell comes up within `days`, over all trays, and its variance from the
    /// curve's error.
    fn late_chance(&self, curve: &Curve, days: f64) -> (f64, f64) {
        let mut waiting = 0.0;
        let mut sum = 0.0;
        let mut slope = [0.0; 3];
        for last in &self.lasts {
            let empty = last.of - last.up;
            let (chance, by) = late_of(curve, last, days.max(0.0));
            waiting += empty;
            sum += empty * chance;
            for (slot, part) in slope.iter_mut().zip(by) {
                *slot += empty * part;
            }
        }
        let slope = slope.map(|part| part / waiting);
        (sum / waiting, spread_of(slope, &curve.covariance))
    }
}

/// d (S2 - S1) / (1 - d S1) for one tray, with its gradient.
fn late_of(curve: &Curve, last: &Last, days: f64) -> (f64, [f64; 3]) {
    let [logit, log_b, log_e] = curve.point;
    let b = log_b.exp();
    let (share, rest) = (logistic(logit), logistic(-logit));
    // Share up, share not up, derivative by x, and x times that, at a day.
    let at = |day: f64| {
        let x = b * (day.ln() - log_e);
        let (up, down) = (logistic(x), logistic(-x));
        let q = up * down;
        (up, down, q, if q > 0.0 { x * q } else { 0.0 })
    };
    let (up, down, q, xq) = at(last.day);
    let (_, down_then, q_then, xq_then) = at(last.day + days);
    let came = (down - down_then).max(0.0);
    let open = rest + share * down;
    let chance = share * came / open;
    // Nothing can come up any more, or the sowing is so late that this is 0/0.
    if chance.is_nan() || chance <= 0.0 {
        return (0.0, [0.0; 3]);
    }
    let by = [
        // ln d, less ln(1 - d S1).
        chance * (rest + up * share * rest / open),
        share * ((xq_then - xq) / open + came * share * xq / (open * open)),
        -b * share * ((q_then - q) / open + came * share * q / (open * open)),
    ];
    (chance, by)
}

/// Weights of 0, 1, 2 and so on of `waiting` coming up, for a probability with a variance: beta-binomial with
/// those two moments.
fn late_comers(waiting: u32, chance: f64, variance: f64) -> Vec<f64> {
    let worth = (chance * (1.0 - chance) / variance - 1.0).max(WORTH_MIN);
    let counts = if worth < WORTH_MAX && chance > 0.0 && chance < 1.0 {
        Counts::beta_binomial(waiting, chance * worth, (1.0 - chance) * worth)
    } else {
        Counts::binomial(waiting, chance)
    };
    let mut weights = vec![0.0; waiting as usize + 1];
    counts.add_to(&mut weights, 1.0);
    weights
}
