//! Counting what came out, in room that does not grow with the seasons.

use super::outcome::{Estimate, PartOutcome};
use super::spread::Spread;

/// Stems below this fall into one bin.
const LEAST: f32 = 0.25;
/// Bits of an `f32` below those that number the bins: 32 bins for every doubling.
const SHIFT: u32 = 18;
/// Bins: doublings from the least to a quarter of a million stems, and the rest in the last. Few, so that those in use stay at hand.
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

/// The stems of one part of a demand, season by season.
#[derive(Debug, Clone)]
pub(super) struct Tally {
    stems: Moments,
    missing: Moments,
    short: u32,
    least: f64,
    most: f64,
    bins: Vec<u32>,
}

impl Tally {
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

    /// Adds a season in which there were so many stems and so many were missing.
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

    /// What came out in `n` seasons.
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

    /// The stems that a share of the seasons stayed below; 0 before any.
    pub fn quantile(&self, share: f64) -> f64 {
        let all: f64 = self.bins.iter().map(|n| f64::from(*n)).sum();
        let wanted = share * all;
        let mut below = 0.0;
        for (bin, n) in self.bins.iter().enumerate() {
            let here = f64::from(*n);
            if here > 0.0 && below + here >= wanted {
                // The last bin has no end but the most that was seen.
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

/// Where a bin begins.
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
    fn quantiles_are_near_those_of_the_sorted_figures() {
        let mut tally = Tally::new();
        let figures: Vec<f64> = (0..5000).map(|n| 3.0 * 1.002f64.powi(n)).collect();
        for stems in &figures {
            tally.add(*stems, 0.0);
        }
        for n in 1..10 {
            let share = f64::from(n) / 10.0;
            let exact = figures[5000 * n as usize / 10];
            let found = tally.quantile(share);
            assert!(
                (found / exact - 1.0).abs() < 0.01,
                "{share}: {found} {exact}"
            );
        }
    }

    #[test]
    fn what_never_varies_is_told_exactly() {
        let mut tally = Tally::new();
        for _ in 0..100 {
            tally.add(31.0, 4.0);
        }
        let found = tally.outcome(100.0);
        assert_eq!(found.stems, Spread::exact(31.0));
        assert_eq!((found.mean.value, found.mean.error), (31.0, 0.0));
        assert_eq!((found.missing.value, found.short.value), (4.0, 1.0));
        assert!(found.short.error > 0.0 && found.short.error < 0.02);
        for extreme in [0.0, 1e9] {
            tally.add(extreme, 0.0);
        }
        assert_eq!((tally.quantile(0.0), tally.quantile(1.0)), (0.0, 1e9));
    }
}
