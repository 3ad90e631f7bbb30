//! What is still to come, over all paces that the cuts leave open.

use crate::bloom::FlushShape;
use crate::probit::share_below;
use crate::quantity::Spread;

/// How the stems still to come stray beyond size and pace, as a logarithm: weather and pests of the weeks ahead (from memory).
const AHEAD_DEVIATION: f64 = 0.05;
/// How much of what the cuts fell short of, or went beyond, is made up for while the flush lasts: what one cut leaves standing
/// the next ones find (from memory of practice).
const MADE_UP: f64 = 0.9;
/// Steps of halving by which a quantile is found.
const HALVINGS: usize = 36;

/// One pace of the flush and what it makes of the cuts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Told {
    pub(super) shape: FlushShape,
    pub(super) start: f64,
    pub(super) log_size: f64,
    pub(super) deviation: f64,
    pub(super) weight: f64,
}

/// What the cuts leave open.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    told: Vec<Told>,
    /// Day of the last cut, and stems cut by then.
    cut: (f64, f64),
}

impl Outlook {
    /// Weights come as logarithms, and leave as shares of a whole.
    pub(super) fn of(mut told: Vec<Told>, cut: (f64, f64)) -> Self {
        let most = told
            .iter()
            .fold(f64::NEG_INFINITY, |most, one| most.max(one.weight));
        let mut sum = 0.0;
        for one in &mut told {
            one.weight = (one.weight - most).exp();
            sum += one.weight;
        }
        told.retain_mut(|one| {
            one.weight /= sum;
            one.weight > 1e-5
        });
        Self { told, cut }
    }

    /// How far the flushes are along by a day after the first cut: share of all stems, 0 to 1.
    pub fn along_by(&self, day: f64) -> f64 {
        let shares = self
            .told
            .iter()
            .map(|one| one.weight * one.shape.share_by(day + one.start));
        shares.sum::<f64>().min(1.0)
    }

    /// Days after the first cut by which the last stems are cut, at the slowest pace that is not out of the question.
    pub fn end(&self) -> f64 {
        let likely = self.told.iter().filter(|one| one.weight > 1e-3);
        likely
            .map(|one| one.shape.end() - one.start)
            .fold(0.0, f64::max)
    }

    /// Stems that come in spans of days after the first cut, `(from, to, share that is spared)`: all together with their band,
    /// and each span's expected ones.
    pub fn to_come(&self, spans: &[(f64, f64, f64)]) -> (Spread<f64>, Vec<f64>) {
        let mut means = vec![0.0; spans.len()];
        let mut lines = Vec::with_capacity(self.told.len());
        for one in &self.told {
            let mean = (one.log_size + one.deviation * one.deviation / 2.0).exp();
            // Of the whole times `more`, less what was cut times `less`, each span gets its part.
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
            // A crop that hardly strays beforehand does not begin to when it blooms.
            let ahead = AHEAD_DEVIATION.min(one.deviation / 4.0);
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
                        weight * share_below((((stems + less) / share).ln() - log_size) / deviation)
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
            // Halved on the logarithm: stems to come may be few or thousands.
            let (mut low, mut high) = (1e-6_f64.ln(), most.max(2e-6).ln());
            for _ in 0..HALVINGS {
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
