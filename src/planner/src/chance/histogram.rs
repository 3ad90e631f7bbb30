//! Statistics of the simulated seasons, in memory independent of their number.

use super::outcome::{Estimate, PartOutcome};
use super::spread::Spread;

/// Stems below this share one bin.
const LEAST: f32 = 0.25;
/// Bits of an `f32` below those that number the bins: 32 bins per doubling.
const SHIFT: u32 = 18;
/// Number of bins: doublings from the smallest up to a quarter of a million stems, the last one open-ended.
/// Few, so that they stay in the cache.
const BINS: usize = 20 * 32;

/// Sums of a figure and of its square.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Moments {
    sum: f64,
    squares: f64,
}

impl Moments {
    pub fn add(&mut self, value: f64) {
        self.sum += value;
        self.squares += value * value;
    }

    pub fn estimate(&self, n: f64) -> Estimate {
        Estimate::mean(self.sum, self.squares, n)
    }
}

/// The stems of one part of a demand, over the seasons.
#[derive(Debug, Clone)]
pub(super) struct Histogram {
    stems: Moments,
    missing: Moments,
    short: u32,
    least: f64,
    most: f64,
    bins: Vec<u32>,
}

impl Histogram {
    pub fn new() -> Self {
        Self {
            stems: Moments::default(),
            missing: Moments::default(),
            short: 0,
            least: f64::INFINITY,
            most: 0.0,
            bins: vec![0; BINS],
        }
    }

    /// Adds a season.
    pub fn add(&mut self, stems: f64, missing: f64) {
        self.stems.add(stems);
        self.missing.add(missing);
        self.short += u32::from(missing > 0.0);
        if stems < self.least {
            self.least = stems;
        }
        if stems > self.most {
            self.most = stems;
        }
        if let Some(bin) = self.bins.get_mut(bin_of(stems)) {
            *bin += 1;
        }
    }

    /// The result after `n` seasons.
    pub fn outcome(&self, n: f64) -> PartOutcome {
        PartOutcome {
            short: Estimate::chance(self.short, n),
            stems: Spread {
                p10: self.quantile(0.1),
                p50: self.quantile(0.5),
                p90: self.quantile(0.9),
            },
            mean: self.stems.estimate(n),
            missing: self.missing.estimate(n),
        }
    }

    /// The quantile of the stems; 0 before the first season.
    pub fn quantile(&self, share: f64) -> f64 {
        let all: f64 = self.bins.iter().map(|n| f64::from(*n)).sum();
        let wanted = share * all;
        let mut below = 0.0;
        for (bin, n) in self.bins.iter().enumerate() {
            let here = f64::from(*n);
            if here > 0.0 && below + here >= wanted {
                // The last bin ends at the maximum.
                let to = if bin + 1 == BINS {
                    self.most
                } else {
                    edge(bin + 1)
                };
                let from = edge(bin);
                let found = from + (to - from) * (wanted - below) / here;
                return found.clamp(self.least, self.most);
            }
            below += here;
        }
        0.0
    }
}

fn bin_of(stems: f64) -> usize {
    let bits = (stems as f32).max(LEAST).to_bits() >> SHIFT;
    ((bits - (LEAST.to_bits() >> SHIFT)) as usize).min(BINS - 1)
}

/// Lower edge of a bin.
fn edge(bin: usize) -> f64 {
    if bin == 0 {
        return 0.0;
    }
    f64::from(f32::from_bits(
        ((LEAST.to_bits() >> SHIFT) + bin as u32) << SHIFT,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_close_to_those_of_the_sorted_figures() {
        let mut histogram = Histogram::new();
        let figures: Vec<f64> = (0..5000).map(|n| 3.0 * 1.002f64.powi(n)).collect();
        for stems in &figures {
            histogram.add(*stems, 0.0);
        }
        for n in 1..10 {
            let share = f64::from(n) / 10.0;
            let exact = figures[5000 * n as usize / 10];
            let found = histogram.quantile(share);
            assert!(
                (found / exact - 1.0).abs() < 0.01,
                "{share}: {found} {exact}"
            );
        }
    }

    #[test]
    fn constant_figures_are_exact() {
        let mut histogram = Histogram::new();
        for _ in 0..100 {
            histogram.add(31.0, 4.0);
        }
        let found = histogram.outcome(100.0);
        assert_eq!(found.stems, Spread::exact(31.0));
        assert_eq!((found.mean.value, found.mean.error), (31.0, 0.0));
        assert_eq!((found.missing.value, found.short.value), (4.0, 1.0));
        assert!(found.short.error > 0.0 && found.short.error < 0.02);
        for extreme in [0.0, 1e9] {
            histogram.add(extreme, 0.0);
        }
        assert_eq!(
            (histogram.quantile(0.0), histogram.quantile(1.0)),
            (0.0, 1e9)
        );
    }
}
