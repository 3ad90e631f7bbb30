//! The stems still to come, given the cuts so far.
//!
//! The size of a planting, the length of its flush and the delay of the first cut are unknown beforehand; the
//! crop's ranges are their priors. The stems of a cut are modelled as negative binomial around what the flush
//! should have given since the previous cut: cutting is never even, so a single cut is only informative to
//! within about a fifth. For each length of the flush, the size is fitted to the prior and the cuts by
//! Newton's method (a Laplace approximation on the log scale), and the lengths are weighted by their
//! posterior probability.

mod outlook;
mod size;

use super::flush::FlushShape;
use crate::yields::LogRange;
pub use outlook::HarvestForecast;
use outlook::Scenario;
use size::fitted;

/// Stems cut in a span of days, counted from the first cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutSpan {
    /// Start: the previous cut.
    pub from: f64,
    /// End: this cut.
    pub to: f64,
    /// Stems cut.
    pub stems: f64,
}

/// What is expected of a planting's flushes before the cuts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlushPrior {
    /// Days over which one flush is cut.
    pub window: LogRange,
    /// Number of flushes.
    pub flushes: f64,
    /// Days from the start of one flush to the next.
    pub interval: f64,
    /// Whether the cuts have shown the interval; otherwise it may be a sixth longer or shorter.
    pub interval_seen: bool,
}

/// Lengths of the flush that are tried, in standard deviations of the window, with their probability under a
/// normal. The outermost is for flushes that outlast every expectation.
const WINDOWS: [(f64, f64); 11] = [
    (-2.4, 0.022),
    (-1.7, 0.065),
    (-1.1, 0.134),
    (-0.6, 0.179),
    (-0.2, 0.187),
    (0.3, 0.177),
    (0.8, 0.121),
    (1.3, 0.069),
    (1.9, 0.034),
    (2.7, 0.010),
    (3.8, 0.002),
];
/// Days into its flush at which a planting is first cut, with their probability (from memory of practice: it
/// is inspected every few days).
const STARTS: [(f64, f64); 3] = [(0.5, 0.5), (2.5, 0.35), (5.0, 0.15)];
/// Intervals between flushes that are tried, relative to the usual one, with their probability (from memory
/// of practice).
const INTERVALS: [(f64, f64); 3] = [(1.0, 0.5), (0.84, 0.25), (1.18, 0.25)];

/// The harvest still to come after `cuts` in chronological order, for a planting expected to give `size`
/// stems over the season.
pub fn after_cuts(size: LogRange, expected: &FlushPrior, cuts: &[CutSpan]) -> HarvestForecast {
    let (shorter, longer) = expected.window.deviations();
    let intervals = if expected.interval_seen || expected.flushes <= 1.0 {
        &INTERVALS[..1]
    } else {
        &INTERVALS[..]
    };
    let shapes = WINDOWS.iter().flat_map(|(deviations, chance)| {
        let by = deviations * if *deviations < 0.0 { shorter } else { longer };
        let window = expected.window.middle() * by.exp();
        intervals.iter().map(move |(times, interval_chance)| {
            let interval = expected.interval * times;
            let shape = FlushShape::new(window, expected.flushes, interval);
            (shape, chance * interval_chance)
        })
    });
    let mut scenarios = Vec::with_capacity(WINDOWS.len() * STARTS.len() * intervals.len());
    for (shape, chance) in shapes {
        for (start, start_chance) in STARTS {
            let shares = cuts.iter().map(|cut| {
                // The first cut takes everything in bloom by then.
                let from = if cut.from < cut.to {
                    shape.share_by(cut.from + start)
                } else {
                    0.0
                };
                (shape.share_by(cut.to + start) - from, cut.stems)
            });
            let shares: Vec<(f64, f64)> = shares.collect();
            let (log_size, deviation, likelihood) = fitted(size, &shares);
            scenarios.push(Scenario {
                shape,
                start,
                log_size,
                deviation,
                weight: likelihood + f64::ln(chance * start_chance),
            });
        }
    }
    let last = cuts.last().map_or(0.0, |cut| cut.to);
    HarvestForecast::of(scenarios, (last, cuts.iter().map(|cut| cut.stems).sum()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn expected() -> FlushPrior {
        FlushPrior {
            window: LogRange::new(Some(35.0), 50.0, Some(75.0)),
            flushes: 1.0,
            interval: 50.0,
            interval_seen: false,
        }
    }

    fn size() -> LogRange {
        LogRange::new(Some(800.0), 1500.0, Some(2500.0))
    }

    /// Cuts every third day of a planting that gives `stems` over `window` days.
    fn cuts(stems: f64, window: f64, until: f64) -> Vec<CutSpan> {
        let shape = FlushShape::new(window, 1.0, window);
        let mut cuts = Vec::new();
        let (mut from, mut to) = (0.0, 0.0);
        while to <= until {
            let before = if to > 0.0 {
                shape.share_by(from + 2.0)
            } else {
                0.0
            };
            cuts.push(CutSpan {
                from,
                to,
                stems: (stems * (shape.share_by(to + 2.0) - before)).round(),
            });
            from = to;
            to += 3.0;
        }
        cuts
    }

    fn rest(cuts: &[CutSpan]) -> crate::quantity::Spread<f64> {
        let today = cuts.last().map_or(0.0, |cut| cut.to);
        let forecast = after_cuts(size(), &expected(), cuts);
        forecast.remaining(&[(today, 400.0, 1.0)]).0
    }

    #[test]
    fn without_cuts_the_forecast_is_the_prior_range() {
        let whole = after_cuts(size(), &expected(), &[])
            .remaining(&[(-10.0, 400.0, 1.0)])
            .0;
        for (found, wanted) in [(whole.p10, 800.0), (whole.p50, 1500.0), (whole.p90, 2500.0)] {
            assert!((found / wanted - 1.0).abs() < 0.15, "{whole:?}");
        }
    }

    #[test]
    fn a_yield_far_above_the_prior_is_followed() {
        let stems = rest(&cuts(9000.0, 50.0, 24.0));
        // About 4,700 of 9,000 are still to come; at most 2,500 in total were expected.
        assert!(stems.p50 > 2500.0 && stems.p90 > 4000.0, "{stems:?}");
    }

    #[test]
    fn each_cut_narrows_the_band_around_the_true_yield() {
        let wide = |until| {
            let stems = rest(&cuts(2200.0, 50.0, until));
            stems.p90 - stems.p10
        };
        let widths: Vec<f64> = [3.0, 15.0, 30.0, 45.0].map(wide).to_vec();
        assert!(
            widths.windows(2).all(|pair| pair[0] > pair[1]),
            "{widths:?}"
        );
        let found = rest(&cuts(2200.0, 50.0, 30.0));
        let truth = 2200.0 * (1.0 - FlushShape::new(50.0, 1.0, 50.0).share_by(32.0));
        assert!(found.p10 < truth && truth < found.p90, "{found:?} {truth}");
    }

    #[test]
    fn a_fortnight_without_stems_ends_the_flush() {
        let mut seen = cuts(1500.0, 35.0, 36.0);
        let before = rest(&seen).p50;
        seen.push(CutSpan {
            from: 36.0,
            to: 52.0,
            stems: 0.0,
        });
        assert!(rest(&seen).p50 < 0.25 * before, "{before}");
    }
}
