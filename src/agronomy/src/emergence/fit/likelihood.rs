//! The log-likelihood of a log-logistic emergence curve with a final share, with its gradient and curvature.
//!
//! F(t) = d / (1 + (t / e)^-b). A seedling is only known to have emerged between two inspections; an empty
//! cell emerges later or never. At each inspection, the number newly up among those not up at the previous
//! one is binomial with probability (F - F') / (1 - F'); if all inspections cover the same seeds, the product
//! of these is the multinomial of Onofri, Mesgaran & Ritz 2022 (Weed Science 70:259-271).
//!
//! The parameters are (logit d, ln b, ln e), which are unconstrained.

use super::Inspection;
use super::matrix::Matrix;

/// The parameters of a curve: logit of the final share, log of the steepness, log of the half day. An
/// infinite logit is a final share of exactly 1.
pub(in crate::emergence) type Point = [f64; 3];

/// A function's value, gradient and curvature at a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::emergence) struct Second {
    pub(in crate::emergence) value: f64,
    pub(in crate::emergence) slope: [f64; 3],
    pub(in crate::emergence) curvature: Matrix,
}

impl Second {
    pub(in crate::emergence) const ZERO: Self = Self {
        value: 0.0,
        slope: [0.0; 3],
        curvature: [[0.0; 3]; 3],
    };

    /// Adds another function.
    pub(super) fn add(&mut self, other: &Self) {
        self.add_times(1.0, other);
    }

    /// Adds `factor` times another function.
    fn add_times(&mut self, factor: f64, other: &Self) {
        self.value += factor * other.value;
        for (slot, more) in self.slope.iter_mut().zip(other.slope) {
            *slot += factor * more;
        }
        for (row, more) in self.curvature.iter_mut().zip(other.curvature) {
            for (slot, more) in row.iter_mut().zip(more) {
                *slot += factor * more;
            }
        }
    }

    /// The log of this function.
    fn ln(&self) -> Self {
        let mut curvature = self.curvature;
        for (row, left) in curvature.iter_mut().zip(self.slope) {
            for (slot, right) in row.iter_mut().zip(self.slope) {
                *slot = *slot / self.value - left * right / (self.value * self.value);
            }
        }
        Self {
            value: self.value.ln(),
            slope: self.slope.map(|slope| slope / self.value),
            curvature,
        }
    }
}

/// The logistic function.
pub(in crate::emergence) fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// ln of the logistic function, accurate in both tails.
fn ln_logistic(x: f64) -> f64 {
    if x < 0.0 {
        x - x.exp().ln_1p()
    } else {
        -(-x).exp().ln_1p()
    }
}

/// Seeds that came up between two inspections; the ends are logs of days.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Interval {
    from: f64,
    to: f64,
    newly: f64,
}

/// Seeds seen empty on a day, given as its log. Negative if a later inspection covers more seeds than this
/// one.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Empty {
    at: f64,
    seeds: f64,
}

/// The inspections of one tray, prepared for the likelihood.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tray {
    came: f64,
    intervals: Vec<Interval>,
    empties: Vec<Empty>,
}

impl Tray {
    /// From inspections in chronological order, at most one a day.
    pub(super) fn new(inspections: &[Inspection]) -> Self {
        let mut tray = Self {
            came: 0.0,
            intervals: Vec::with_capacity(inspections.len()),
            empties: Vec::with_capacity(inspections.len()),
        };
        let (mut from, mut seen) = (f64::NEG_INFINITY, 0.0);
        for (step, inspection) in inspections.iter().enumerate() {
            let of = f64::from(inspection.of);
            let to = inspection.day.ln();
            let newly = of * (inspection.share - seen);
            if newly > 0.0 {
                tray.came += newly;
                tray.intervals.push(Interval { from, to, newly });
            }
            let next_of = inspections
                .get(step + 1)
                .map_or(0.0, |next| f64::from(next.of));
            let seeds = (of - next_of) * (1.0 - inspection.share);
            if seeds.abs() > 1e-9 {
                tray.empties.push(Empty { at: to, seeds });
            }
            (from, seen) = (to, inspection.share);
        }
        tray
    }

    /// The intervals in which seeds came up, as logs of days.
    pub(super) fn came_between(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.intervals
            .iter()
            .map(|interval| (interval.from, interval.to))
    }

    /// The log-likelihood at `point`.
    pub(super) fn log_likelihood(&self, point: Point) -> Second {
        let mut sum = Second::ZERO;
        sum.add_times(self.came, &ln_share(point[0]));
        for interval in &self.intervals {
            sum.add_times(interval.newly, &ln_between(point, interval));
        }
        for empty in &self.empties {
            sum.add_times(empty.seeds, &not_yet(point, empty.at).ln());
        }
        sum
    }
}

/// ln d.
fn ln_share(logit: f64) -> Second {
    let share = logistic(logit);
    let rest = logistic(-logit);
    let mut out = Second::ZERO;
    out.value = ln_logistic(logit);
    out.slope[0] = rest;
    out.curvature[0][0] = -share * rest;
    out
}

/// ln of the share of the final number that comes up in the interval, as a product so that nothing cancels in
/// the tails.
fn ln_between([_, log_b, log_e]: Point, interval: &Interval) -> Second {
    let b = log_b.exp();
    let to = b * (interval.to - log_e);
    let mut out = Second::ZERO;
    // `slope` and `bend` are the derivatives of a term by x = b (ln t - ln e), where dx/dln b = x and dx/dln
    // e = -b.
    let mut add = |x: f64, slope: f64, bend: f64| {
        out.slope[1] += slope * x;
        out.slope[2] -= slope * b;
        out.curvature[1][1] += bend * x * x + slope * x;
        out.curvature[1][2] -= bend * x * b + slope * b;
        out.curvature[2][2] += bend * b * b;
    };
    let (up, down) = (logistic(to), logistic(-to));
    add(to, down, -up * down);
    let mut value = ln_logistic(to);
    if interval.from.is_finite() {
        let from = b * (interval.from - log_e);
        let (up, down) = (logistic(from), logistic(-from));
        add(from, -up, -up * down);
        // ln(1 - exp(-width)), which depends only on the steepness.
        let width = to - from;
        let grown = width.exp_m1();
        value += ln_logistic(-from) + (-(-width).exp_m1()).ln();
        let slope = 1.0 / grown;
        let bend = -(1.0 + grown) / (grown * grown);
        out.slope[1] += slope * width;
        if grown.is_finite() {
            out.curvature[1][1] += bend * width * width + slope * width;
        }
    }
    out.value = value;
    out.curvature[2][1] = out.curvature[1][2];
    out
}

/// 1 - F: the share of all sown that is not up on a day, given as its log.
fn not_yet([logit, log_b, log_e]: Point, day: f64) -> Second {
    let (share, rest) = (logistic(logit), logistic(-logit));
    let b = log_b.exp();
    let x = b * (day - log_e);
    let (up, down) = (logistic(x), logistic(-x));
    let q = up * down;
    let turn = q * (down - up);
    let odds = share * rest;
    let mut out = Second {
        value: rest + share * down,
        slope: [-up * odds, -share * q * x, share * q * b],
        curvature: [[0.0; 3]; 3],
    };
    if x.is_finite() {
        out.curvature = [
            [-up * odds * (rest - share), -odds * q * x, odds * q * b],
            [
                -odds * q * x,
                -share * (x * q + x * x * turn),
                share * b * (q + x * turn),
            ],
            [
                odds * q * b,
                share * b * (q + x * turn),
                -share * b * b * turn,
            ],
        ];
    } else {
        // On the day of sowing nothing is up, whatever the curve.
        out.slope = [0.0; 3];
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tray() -> Tray {
        let inspection = |day, share| Inspection { day, share, of: 72 };
        Tray::new(&[
            inspection(0.0, 0.0),
            inspection(4.0, 0.1),
            inspection(6.0, 0.5),
            inspection(9.0, 0.75),
            inspection(12.0, 0.75),
            Inspection {
                day: 14.0,
                share: 0.8,
                of: 40,
            },
        ])
    }

    #[test]
    fn slopes_and_curvature_are_those_of_the_value() {
        let tray = tray();
        for point in [[1.2, 1.7, 1.8], [-0.4, 0.6, 2.2], [4.0, 2.4, 1.6]] {
            let here = tray.log_likelihood(point);
            for place in 0..3 {
                let mut ahead = point;
                let mut behind = point;
                ahead[place] += 1e-5;
                behind[place] -= 1e-5;
                let (ahead, behind) = (tray.log_likelihood(ahead), tray.log_likelihood(behind));
                let slope = (ahead.value - behind.value) / 2e-5;
                assert!(
                    (slope - here.slope[place]).abs() < 1e-5,
                    "{point:?} {place}"
                );
                for other in 0..3 {
                    let bend = (ahead.slope[other] - behind.slope[other]) / 2e-5;
                    assert!(
                        (bend - here.curvature[place][other]).abs() < 1e-4,
                        "{point:?} {place} {other}: {bend} {here:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn far_tails_stay_finite() {
        for point in [[40.0, 5.0, 1.0], [-40.0, -3.0, 6.0], [0.0, 5.0, 3.0]] {
            let here = tray().log_likelihood(point);
            assert!(here.value.is_finite(), "{point:?} {here:?}");
            assert!(here.curvature.iter().flatten().all(|v| v.is_finite()));
        }
    }
}
