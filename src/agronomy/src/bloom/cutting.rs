//! What the cuts so far say of the stems to come.
//!
//! A planting's size, the time its flush takes and how late the first cut fell
//! are not known beforehand; the crop's ranges say how far each may stray. Every
//! cut then speaks for those that explain it. Stems of a cut are taken as a
//! negative binomial about what the flush should have given since the cut
//! before: nobody cuts evenly, so a single cut is believed to within a fifth or
//! so. For each pace of the flush the size is fitted by Newton's method to the
//! prior and the cuts together (a normal in its logarithm about the best, as
//! Laplace approximated), and the paces are weighed by how well they do.

mod outlook;
mod size;

use super::flush::FlushShape;
use crate::yields::LogRange;
pub use outlook::Outlook;
use outlook::Told;
use size::fitted;

/// Stems cut in a span of days, counted from the first cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutSpan {
    /// Where it begins: the cut before.
    pub from: f64,
    /// Where it ends: the cut.
    pub to: f64,
    /// Stems cut.
    pub stems: f64,
}

/// How a planting's flushes are expected to go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// Days one flush is cut for.
    pub window: LogRange,
    /// Flushes.
    pub flushes: f64,
    /// Days from one flush to the next.
    pub interval: f64,
    /// Whether the cuts have shown the interval; else it may be a sixth longer or shorter.
    pub interval_seen: bool,
}

/// Paces that are tried, in deviations of the window, with the weight of their part of a normal. The farthest stand for flushes
/// that outlast all expectation.
const PACES: [(f64, f64); 11] = [
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
/// Days into its flush at which a planting is first cut, with their chance (from memory of practice: it is looked at every few
/// days).
const STARTS: [(f64, f64); 3] = [(0.5, 0.5), (2.5, 0.35), (5.0, 0.15)];
/// Intervals of flushes that are tried, as shares of the usual one, with their chance (from memory of practice).
const INTERVALS: [(f64, f64); 3] = [(1.0, 0.5), (0.84, 0.25), (1.18, 0.25)];

/// What is to be expected after the cuts of some spans, in order of time: of `size` stems over the season beforehand.
pub fn after_cuts(size: LogRange, expected: &Expected, cuts: &[CutSpan]) -> Outlook {
    let (shorter, longer) = expected.window.deviations();
    let intervals = if expected.interval_seen || expected.flushes <= 1.0 {
        &INTERVALS[..1]
    } else {
        &INTERVALS[..]
    };
    let shapes = PACES.iter().flat_map(|(deviations, chance)| {
        let by = deviations * if *deviations < 0.0 { shorter } else { longer };
        let window = expected.window.middle() * by.exp();
        intervals.iter().map(move |(times, interval_chance)| {
            let interval = expected.interval * times;
            let shape = FlushShape::new(window, expected.flushes, interval);
            (shape, chance * interval_chance)
        })
    });
    let mut told = Vec::with_capacity(PACES.len() * STARTS.len() * intervals.len());
    for (shape, chance) in shapes {
        for (start, start_chance) in STARTS {
            let shares = cuts.iter().map(|cut| {
                // The first cut takes all that stood in bloom by then.
                let from = if cut.from < cut.to {
                    shape.share_by(cut.from + start)
                } else {
                    0.0
                };
                (shape.share_by(cut.to + start) - from, cut.stems)
            });
            let shares: Vec<(f64, f64)> = shares.collect();
            let (log_size, deviation, likelihood) = fitted(size, &shares);
            told.push(Told {
                shape,
                start,
                log_size,
                deviation,
                weight: likelihood + f64::ln(chance * start_chance),
            });
        }
    }
    let last = cuts.last().map_or(0.0, |cut| cut.to);
    Outlook::of(told, (last, cuts.iter().map(|cut| cut.stems).sum()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn expected() -> Expected {
        Expected {
            window: LogRange::new(Some(35.0), 50.0, Some(75.0)),
            flushes: 1.0,
            interval: 50.0,
            interval_seen: false,
        }
    }

    fn size() -> LogRange {
        LogRange::new(Some(800.0), 1500.0, Some(2500.0))
    }

    /// Cuts every third day of a planting that gives so many stems over so many days.
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
        let outlook = after_cuts(size(), &expected(), cuts);
        outlook.to_come(&[(today, 400.0, 1.0)]).0
    }

    #[test]
    fn without_cuts_the_ranges_stand() {
        let whole = after_cuts(size(), &expected(), &[])
            .to_come(&[(-10.0, 400.0, 1.0)])
            .0;
        for (found, wanted) in [(whole.p10, 800.0), (whole.p50, 1500.0), (whole.p90, 2500.0)] {
            assert!((found / wanted - 1.0).abs() < 0.15, "{whole:?}");
        }
    }

    #[test]
    fn more_than_was_ever_expected_is_believed() {
        let stems = rest(&cuts(9000.0, 50.0, 24.0));
        // Some 4,700 of 9,000 are still to come; the most expected of the whole was 2,500.
        assert!(stems.p50 > 2500.0 && stems.p90 > 4000.0, "{stems:?}");
    }

    #[test]
    fn each_cut_narrows_the_band_and_moves_it_to_the_truth() {
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
    fn a_fortnight_without_stems_ends_it() {
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
