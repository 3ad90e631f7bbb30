//! The posterior distribution of final share, speed and shape, summed on a grid.

use super::likelihood::{Curve, CurveLikelihood};
use super::prior::{FinalSharePrior, SHAPE_DEVIATION, SPEED_DEVIATION, shape_of};
use super::{EmergenceFigures, Inspection};
use crate::quantity::Spread;

/// Steps of the grid in final share and speed: a coarse grid over the whole range, then a fine one where the
/// weight is.
const COARSE: (usize, usize) = (24, 25);
const FINE: (usize, usize) = (48, 33);
const SHAPES: usize = 9;

/// Standard deviations that the grid covers on either side; for speed, 0.4 to 2.4 times the usual days.
const SPEED_REACH: f64 = 4.0;
const SHAPE_REACH: f64 = 2.5;

/// Standard deviations of the coarse weights, and coarse steps, that the fine grid covers on either side.
const REFINE_DEVIATIONS: f64 = 4.5;
const REFINE_STEPS: f64 = 1.5;

/// Number of bins for the probability of coming up late.
const LATE_STEPS: usize = 80;

/// One curve with the expected number of waiting and unseen seeds, relative to the curve's own final share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct WeightedCurve {
    curve: Curve,
    waiting: f64,
    unseen: f64,
}

impl WeightedCurve {
    pub(super) fn newly_up(&self, last_day: f64, from: f64, to: f64) -> f64 {
        let share = |from: f64| (self.curve.up_by(to) - self.curve.up_by(from)).max(0.0);
        self.waiting * share(from.max(last_day)) + self.unseen * share(from)
    }
}

/// For one final share: (weight, probability) pairs of coming up late.
pub(super) struct ShareSlice {
    pub(super) share: f64,
    pub(super) weight: f64,
    pub(super) late: Vec<(f64, f64)>,
}

/// The posterior weights of all grid points.
pub(super) struct Posterior {
    usual_half_day: f64,
    curves: Vec<Curve>,
    /// Share of its final number that each curve has up by the last count.
    up_by_last: Vec<f64>,
    /// Speeds of the grid, in standard deviations; each has [`SHAPES`] curves.
    speeds: Vec<f64>,
    shares: Vec<f64>,
    /// Weight by final share (outer) and curve (inner); the sum is 1.
    weights: Vec<Vec<f64>>,
}

/// The extent of the grid in final share and in speed (standard deviations).
#[derive(Debug, Clone, Copy)]
struct Bounds {
    share: (f64, f64),
    speed: (f64, f64),
}

impl Posterior {
    pub(super) fn new(usual: &EmergenceFigures, inspections: &[Inspection]) -> Self {
        let all = Bounds {
            share: (0.0, 1.0),
            speed: (-SPEED_REACH, SPEED_REACH),
        };
        let coarse = Self::over(usual, inspections, all, COARSE);
        Self::over(usual, inspections, coarse.narrowed(all), FINE)
    }

    fn over(
        usual: &EmergenceFigures,
        inspections: &[Inspection],
        bounds: Bounds,
        (share_steps, speed_steps): (usize, usize),
    ) -> Self {
        let shares: Vec<f64> = steps(bounds.share, share_steps).collect();
        let speeds: Vec<f64> = steps(bounds.speed, speed_steps).collect();
        let (curves, curve_priors) = curves_of(usual, &speeds);
        let prior_shares = FinalSharePrior::of(usual);

        let likelihoods: Vec<CurveLikelihood> = curves
            .iter()
            .zip(curve_priors)
            .map(|(curve, prior)| CurveLikelihood::new(curve, prior, inspections))
            .collect();
        let mut weights: Vec<Vec<f64>> = shares
            .iter()
            .map(|share| {
                let prior = prior_shares.log_density(*share);
                likelihoods
                    .iter()
                    .map(|likelihood| prior + likelihood.log_likelihood(*share))
                    .collect()
            })
            .collect();
        // From logs to weights that sum to 1, scaled by the largest to avoid underflow.
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
            up_by_last: likelihoods
                .iter()
                .map(|likelihood| likelihood.up_by_last)
                .collect(),
            curves,
            speeds,
            shares,
            weights,
        }
    }

    /// The part of `all` that has nearly all the weight of this posterior.
    fn narrowed(&self, all: Bounds) -> Bounds {
        let by_share: Vec<(f64, f64)> = self
            .shares
            .iter()
            .zip(&self.weights)
            .map(|(share, weights)| (*share, weights.iter().sum()))
            .collect();
        Bounds {
            share: central_range(&by_share, all.share),
            speed: central_range(&self.by_speed(), all.speed),
        }
    }

    /// Probabilities that an empty cell still comes up, over all final shares.
    pub(super) fn late(&self) -> Vec<(f64, f64)> {
        let mut steps = LateChances::new();
        for (share, weights) in self.shares.iter().zip(&self.weights) {
            steps.add(*share, weights, &self.up_by_last);
        }
        steps.gathered()
    }

    /// The same by final share, with the weight of each.
    pub(super) fn late_by_share(&self) -> impl Iterator<Item = ShareSlice> + '_ {
        self.shares
            .iter()
            .zip(&self.weights)
            .filter_map(|(share, weights)| {
                let weight: f64 = weights.iter().sum();
                (weight > 1e-9).then(|| {
                    let mut steps = LateChances::new();
                    steps.add(*share, weights, &self.up_by_last);
                    ShareSlice {
                        share: *share,
                        weight,
                        late: steps.gathered(),
                    }
                })
            })
    }

    /// The curves, each with its expected numbers of `waiting` and `unseen`.
    pub(super) fn expected_by_time(&self, waiting: u32, unseen: u32) -> Vec<WeightedCurve> {
        let mut points: Vec<WeightedCurve> = self
            .curves
            .iter()
            .map(|curve| WeightedCurve {
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

    /// The weight of each speed, in standard deviations.
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

    /// Quantiles of the day by which half of the final number are up.
    pub(super) fn half_day(&self) -> Spread<f64> {
        let speeds = self.by_speed();
        let day = |share| self.usual_half_day * time_factor(weighted_quantile(&speeds, share));
        Spread {
            p10: day(0.1),
            p50: day(0.5),
            p90: day(0.9),
        }
    }
}

/// Factor on the usual days for a speed in standard deviations.
fn time_factor(speed: f64) -> f64 {
    (speed * SPEED_DEVIATION).exp()
}

/// Weights by probability of coming up late, in bins that preserve the mean.
struct LateChances(Vec<(f64, f64)>);

impl LateChances {
    fn new() -> Self {
        Self(vec![(0.0, 0.0); LATE_STEPS])
    }

    fn add(&mut self, share: f64, weights: &[f64], up_by_last: &[f64]) {
        for (weight, up) in weights.iter().zip(up_by_last) {
            let chance = late_chance(share, *up);
            // Finer bins towards 0, where most of the weight is.
            let step = (chance.sqrt() * LATE_STEPS as f64) as usize;
            if let Some((sum, mean)) = self.0.get_mut(step.min(LATE_STEPS - 1)) {
                *sum += weight;
                *mean += weight * chance;
            }
        }
    }

    /// (Weight, mean probability) of the bins that matter; the weights sum to 1.
    fn gathered(self) -> Vec<(f64, f64)> {
        let total: f64 = self.0.iter().map(|(sum, _)| sum).sum();
        self.0
            .into_iter()
            .filter(|(sum, _)| *sum > 1e-9 * total)
            .map(|(sum, mean)| (sum / total, mean / sum))
            .collect()
    }
}

/// Probability that an empty cell still comes up, given the final share and the share of it that is up.
fn late_chance(share: f64, up: f64) -> f64 {
    share * (1.0 - up) / (1.0 - share * up)
}

/// Quantile of weighted values in ascending order, interpolated between the centres of their weights.
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
fn curves_of(usual: &EmergenceFigures, speeds: &[f64]) -> (Vec<Curve>, Vec<f64>) {
    let usual_shape = shape_of(usual);
    let mut curves = Vec::with_capacity(speeds.len() * SHAPES);
    let mut priors = Vec::with_capacity(speeds.len() * SHAPES);
    for speed in speeds {
        for shape in steps((-SHAPE_REACH, SHAPE_REACH), SHAPES) {
            curves.push(Curve {
                half_day: usual.half_day * time_factor(*speed),
                shape: usual_shape * (shape * SHAPE_DEVIATION).exp(),
            });
            priors.push(-0.5 * (speed * speed + shape * shape));
        }
    }
    (curves, priors)
}

/// The midpoints of `count` equal steps from `low` to `high`.
fn steps((low, high): (f64, f64), count: usize) -> impl Iterator<Item = f64> {
    let width = (high - low) / count.max(1) as f64;
    (0..count).map(move |step| low + (step as f64 + 0.5) * width)
}

/// Mean plus and minus a few standard deviations and steps of weighted values.
fn central_range(values: &[(f64, f64)], (low, high): (f64, f64)) -> (f64, f64) {
    let mean: f64 = values.iter().map(|(value, weight)| value * weight).sum();
    let variance: f64 = values
        .iter()
        .map(|(value, weight)| (value - mean) * (value - mean) * weight)
        .sum();
    let step = (high - low) / values.len().max(1) as f64;
    let reach = REFINE_DEVIATIONS * variance.sqrt() + REFINE_STEPS * step;
    ((mean - reach).max(low), (mean + reach).min(high))
}
