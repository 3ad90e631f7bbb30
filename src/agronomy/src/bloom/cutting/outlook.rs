//! The harvest still to come, over all scenarios consistent with the cuts.

use crate::bloom::FlushShape;
use crate::normal::cdf;
use crate::quantity::Spread;

/// Standard deviation, as a logarithm, of the stems still to come beyond size and flush length: weather and
/// pests of the weeks ahead (from memory).
const WEATHER_DEVIATION: f64 = 0.05;
/// Share of the difference between actual and expected cuts that later cuts of the flush make up: stems left
/// standing by one cut are taken by the next (from memory of practice).
const MADE_UP: f64 = 0.9;
/// Bisection steps of a quantile.
const BISECTIONS: usize = 36;

/// One length and start of the flush, with the size fitted to it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Scenario {
    pub(super) shape: FlushShape,
    pub(super) start: f64,
    pub(super) log_size: f64,
    pub(super) deviation: f64,
    pub(super) weight: f64,
}

/// The posterior distribution of a planting's harvest, given its cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct HarvestForecast {
    scenarios: Vec<Scenario>,
    /// Day of the last cut, and total stems cut by then.
    cut: (f64, f64),
}

impl HarvestForecast {
    /// Takes log weights and normalises them.
    pub(super) fn of(mut scenarios: Vec<Scenario>, cut: (f64, f64)) -> Self {
        let most = scenarios
            .iter()
            .fold(f64::NEG_INFINITY, |most, one| most.max(one.weight));
        let mut sum = 0.0;
        for one in &mut scenarios {
            one.weight = (one.weight - most).exp();
            sum += one.weight;
        }
        scenarios.retain_mut(|one| {
            one.weight /= sum;
            one.weight > 1e-5
        });
        Self { scenarios, cut }
    }

    /// Expected share of all stems that is cut by a day after the first cut, 0 to 1.
    pub fn share_cut_by(&self, day: f64) -> f64 {
        let shares = self
            .scenarios
            .iter()
            .map(|one| one.weight * one.shape.share_by(day + one.start));
        shares.sum::<f64>().min(1.0)
    }

    /// Days after the first cut by which the last stems are cut, in the slowest plausible scenario.
    pub fn end(&self) -> f64 {
        let likely = self.scenarios.iter().filter(|one| one.weight > 1e-3);
        likely
            .map(|one| one.shape.end() - one.start)
            .fold(0.0, f64::max)
    }

    /// Stems expected in spans of days after the first cut, given as `(from, to, share spared by frost)`: the
    /// total with its uncertainty, and the mean of each span.
    pub fn remaining(&self, spans: &[(f64, f64, f64)]) -> (Spread<f64>, Vec<f64>) {
        let mut means = vec![0.0; spans.len()];
        let mut lines = Vec::with_capacity(self.scenarios.len());
        for one in &self.scenarios {
            let mean = (one.log_size + one.deviation * one.deviation / 2.0).exp();
            // Each span gets its share of the whole times `more`, less what was cut times `less`.
            let done = if self.cut.1 > 0.0 {
                one.shape.share_by(self.cut.0 + one.start)
            } else {
                0.0
            };
            let (more, less) = (1.0 + MADE_UP * done, MADE_UP * self.cut.1);
            let mut share = 0.0;
            for ((from, to, spared), sum) in spans.iter().zip(&mut means) {
                let part =
                    one.shape.share_by(to + one.start) - one.shape.share_by(from + one.start);
                let part = part.max(0.0) * spared;
                share += part;
                *sum += one.weight * part * (mean * more - less).max(0.0);
            }
            // A crop with little prior variation does not vary more once it blooms.
            let ahead = WEATHER_DEVIATION.min(one.deviation / 4.0);
            let deviation = one.deviation.hypot(ahead);
            lines.push((
                one.weight,
                share * more,
                share * less,
                one.log_size,
                deviation,
            ));
        }
        let below = |stems: f64| -> f64 {
            let chance =
                |(weight, share, less, log_size, deviation): &(f64, f64, f64, f64, f64)| {
                    if *share < 1e-9 {
                        *weight
                    } else {
                        weight * cdf((((stems + less) / share).ln() - log_size) / deviation)
                    }
                };
            lines.iter().map(chance).sum()
        };
        let most = lines
            .iter()
            .map(|(_, share, _, log_size, deviation)| share * (log_size + 5.0 * deviation).exp())
            .fold(0.0, f64::max);
        let quantile = |chance: f64| {
            if most <= 0.0 || below(1e-6) >= chance {
                return 0.0;
            }
            // On the log scale, because the total may be a few stems or thousands.
            let (mut low, mut high) = (1e-6_f64.ln(), most.max(2e-6).ln());
            for _ in 0..BISECTIONS {
                let middle = f64::midpoint(low, high);
                if below(middle.exp()) < chance {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            high.exp()
        };
        let stems = Spread {
            p10: quantile(0.1),
            p50: quantile(0.5),
            p90: quantile(0.9),
        };
        (stems, means)
    }
}
