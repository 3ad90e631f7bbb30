//! The posterior over final share, speed and evenness, summed on a grid.

use super::evidence::{Curve, Evidence};
use super::prior::{SHAPE_DEVIATION, SPEED_DEVIATION, Shares, shape_of};
use super::{Looked, Usual};
use crate::quantity::Spread;

/// Steps of the grid in final share, speed of the clock and evenness of the
/// curve: a coarse look over all that is possible, then a fine one where the
/// weight was found.
const COARSE: (usize, usize) = (24, 25);
const FINE: (usize, usize) = (48, 33);
const SHAPES: usize = 9;

/// How many deviations the grid reaches on both sides: a clock at 0.4 to 2.4
/// times the usual days.
const SPEED_REACH: f64 = 4.0;
const SHAPE_REACH: f64 = 2.5;

/// How many deviations of the coarse weights, and coarse steps, the fine grid
/// keeps on both sides.
const KEEP_DEVIATIONS: f64 = 4.5;
const KEEP_STEPS: f64 = 1.5;

/// Chances of coming late are gathered into this many steps.
const LATE_STEPS: usize = 80;

/// One curve with how many of the waiting and the unseen it expects, in units
/// of the curve's own share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TimePoint {
    curve: Curve,
    waiting: f64,
    unseen: f64,
}

impl TimePoint {
    pub(super) fn newly_up(&self, last_day: f64, from: f64, to: f64) -> f64 {
        let share = |from: f64| (self.curve.up_by(to) - self.curve.up_by(from)).max(0.0);
        self.waiting * share(from.max(last_day)) + self.unseen * share(from)
    }
}

/// What one final share expects of those seen empty: (weight, chance) pairs.
pub(super) struct Slice {
    pub(super) share: f64,
    pub(super) weight: f64,
    pub(super) late: Vec<(f64, f64)>,
}

/// The weights of all grid points after the counts.
pub(super) struct Posterior {
    usual_half_day: f64,
    curves: Vec<Curve>,
    /// Share of its final number that each curve has up by the last count.
    up_by_last: Vec<f64>,
    /// The clock speeds of the grid, in deviations; each has [`SHAPES`] curves.
    speeds: Vec<f64>,
    shares: Vec<f64>,
    /// Weight of each final share (outer) and curve (inner); they sum to 1.
    weights: Vec<Vec<f64>>,
}

/// What the grid spans: final shares, and speeds in deviations.
#[derive(Debug, Clone, Copy)]
struct Bounds {
    share: (f64, f64),
    speed: (f64, f64),
}

impl Posterior {
    pub(super) fn new(usual: &Usual, looks: &[Looked]) -> Self {
        let all = Bounds {
            share: (0.0, 1.0),
            speed: (-SPEED_REACH, SPEED_REACH),
        };
        let coarse = Self::over(usual, looks, all, COARSE);
        Self::over(usual, looks, coarse.narrowed(all), FINE)
    }

    fn over(
        usual: &Usual,
        looks: &[Looked],
        bounds: Bounds,
        (share_steps, speed_steps): (usize, usize),
    ) -> Self {
        let shares: Vec<f64> = steps(bounds.share, share_steps).collect();
        let speeds: Vec<f64> = steps(bounds.speed, speed_steps).collect();
        let (curves, curve_priors) = curves_of(usual, &speeds);
        let prior_shares = Shares::of(usual);

        let evidence: Vec<Evidence> = curves
            .iter()
            .zip(curve_priors)
            .map(|(curve, prior)| Evidence::new(curve, prior, looks))
            .collect();
        let mut weights: Vec<Vec<f64>> = shares
            .iter()
            .map(|share| {
                let prior = prior_shares.log_density(*share);
                evidence
                    .iter()
                    .map(|evidence| prior + evidence.log_weight(*share))
                    .collect()
            })
            .collect();
        // From logs to weights that sum to 1, the largest first brought to 1.
        let most = weights
            .iter()
            .flatten()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        let mut total = 0.0;
        for weight in weights.iter_mut().flatten() {
            *weight = (*weight - most).exp();
            total += *weight;
        }
        for weight in weights.iter_mut().flatten() {
            *weight /= total;
        }
        Self {
            usual_half_day: usual.half_day,
            up_by_last: evidence
                .iter()
                .map(|evidence| evidence.up_by_last)
                .collect(),
            curves,
            speeds,
            shares,
            weights,
        }
    }

    /// The part of `all` that holds next to all of this posterior's weight.
    fn narrowed(&self, all: Bounds) -> Bounds {
        let by_share: Vec<(f64, f64)> = self
            .shares
            .iter()
            .zip(&self.weights)
            .map(|(share, weights)| (*share, weights.iter().sum()))
            .collect();
        Bounds {
            share: kept(&by_share, all.share),
            speed: kept(&self.by_speed(), all.speed),
        }
    }

    /// The chances that what was seen empty still comes up, whatever the final share.
    pub(super) fn late(&self) -> Vec<(f64, f64)> {
        let mut steps = Late::new();
        for (share, weights) in self.shares.iter().zip(&self.weights) {
            steps.add(*share, weights, &self.up_by_last);
        }
        steps.gathered()
    }

    /// The same for each final share, with its weight.
    pub(super) fn late_by_share(&self) -> impl Iterator<Item = Slice> + '_ {
        self.shares
            .iter()
            .zip(&self.weights)
            .filter_map(|(share, weights)| {
                let weight: f64 = weights.iter().sum();
                (weight > 1e-9).then(|| {
                    let mut steps = Late::new();
                    steps.add(*share, weights, &self.up_by_last);
                    Slice {
                        share: *share,
                        weight,
                        late: steps.gathered(),
                    }
                })
            })
    }

    /// The curves, each with the numbers it expects of `waiting` and `unseen`.
    pub(super) fn expected_by_time(&self, waiting: u32, unseen: u32) -> Vec<TimePoint> {
        let mut points: Vec<TimePoint> = self
            .curves
            .iter()
            .map(|curve| TimePoint {
                curve: *curve,
                waiting: 0.0,
                unseen: 0.0,
            })
            .collect();
        for (share, weights) in self.shares.iter().zip(&self.weights) {
            for ((point, weight), up) in points.iter_mut().zip(weights).zip(&self.up_by_last) {
                point.unseen += weight * share * f64::from(unseen);
                point.waiting += weight * share / (1.0 - share * up) * f64::from(waiting);
            }
        }
        points
    }

    /// The weight of each clock speed, in deviations.
    fn by_speed(&self) -> Vec<(f64, f64)> {
        self.speeds
            .iter()
            .enumerate()
            .map(|(step, speed)| {
                let weight = self
                    .weights
                    .iter()
                    .flat_map(|row| row.iter().skip(step * SHAPES).take(SHAPES))
                    .sum();
                (*speed, weight)
            })
            .collect()
    }

    /// Quantiles of the day by which half of those that come up are up.
    pub(super) fn half_day(&self) -> Spread<f64> {
        let speeds = self.by_speed();
        let day = |share| self.usual_half_day * clock(weighted_quantile(&speeds, share));
        Spread {
            p10: day(0.1),
            p50: day(0.5),
            p90: day(0.9),
        }
    }
}

/// How many times the usual days a sowing takes at a clock speed in deviations.
fn clock(speed: f64) -> f64 {
    (speed * SPEED_DEVIATION).exp()
}

/// Weights by chance of coming late, gathered into steps that keep their mean.
struct Late(Vec<(f64, f64)>);

impl Late {
    fn new() -> Self {
        Self(vec![(0.0, 0.0); LATE_STEPS])
    }

    fn add(&mut self, share: f64, weights: &[f64], up_by_last: &[f64]) {
        for (weight, up) in weights.iter().zip(up_by_last) {
            let chance = late_chance(share, *up);
            // Finer steps towards 0, where most of the weight ends up.
            let step = (chance.sqrt() * LATE_STEPS as f64) as usize;
            if let Some((sum, mean)) = self.0.get_mut(step.min(LATE_STEPS - 1)) {
                *sum += weight;
                *mean += weight * chance;
            }
        }
    }

    /// (Weight, mean chance) of the steps that matter; the weights sum to 1.
    fn gathered(self) -> Vec<(f64, f64)> {
        let total: f64 = self.0.iter().map(|(sum, _)| sum).sum();
        self.0
            .into_iter()
            .filter(|(sum, _)| *sum > 1e-9 * total)
            .map(|(sum, mean)| (sum / total, mean / sum))
            .collect()
    }
}

/// Chance that what is not up comes up yet, by final share and share of it up.
fn late_chance(share: f64, up: f64) -> f64 {
    share * (1.0 - up) / (1.0 - share * up)
}

/// The quantile of weighted values in order, each weight spread evenly between
/// the midpoints to its neighbours.
fn weighted_quantile(values: &[(f64, f64)], share: f64) -> f64 {
    let mut sum = 0.0;
    let mut before: Option<(f64, f64)> = None;
    for (value, weight) in values {
        let centre = sum + weight / 2.0;
        if centre >= share {
            return match before {
                Some((last, at)) if centre > at => {
                    last + (value - last) * (share - at) / (centre - at)
                }
                _ => *value,
            };
        }
        before = Some((*value, centre));
        sum += weight;
    }
    before.map_or(0.0, |(value, _)| value)
}

/// The curves of the grid with the logs of their prior weights.
fn curves_of(usual: &Usual, speeds: &[f64]) -> (Vec<Curve>, Vec<f64>) {
    let usual_shape = shape_of(usual);
    let mut curves = Vec::with_capacity(speeds.len() * SHAPES);
    let mut priors = Vec::with_capacity(speeds.len() * SHAPES);
    for speed in speeds {
        for shape in steps((-SHAPE_REACH, SHAPE_REACH), SHAPES) {
            curves.push(Curve {
                half_day: usual.half_day * clock(*speed),
                shape: usual_shape * (shape * SHAPE_DEVIATION).exp(),
            });
            priors.push(-0.5 * (speed * speed + shape * shape));
        }
    }
    (curves, priors)
}

/// The middles of `count` equal steps from `low` to `high`.
fn steps((low, high): (f64, f64), count: usize) -> impl Iterator<Item = f64> {
    let width = (high - low) / count.max(1) as f64;
    (0..count).map(move |step| low + (step as f64 + 0.5) * width)
}

/// Mean plus and minus a few deviations and steps of weighted values.
fn kept(values: &[(f64, f64)], (low, high): (f64, f64)) -> (f64, f64) {
    let mean: f64 = values.iter().map(|(value, weight)| value * weight).sum();
    let variance: f64 = values
        .iter()
        .map(|(value, weight)| (value - mean) * (value - mean) * weight)
        .sum();
    let step = (high - low) / values.len().max(1) as f64;
    let reach = KEEP_DEVIATIONS * variance.sqrt() + KEEP_STEPS * step;
    ((mean - reach).max(low), (mean + reach).min(high))
}
