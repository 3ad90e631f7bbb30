//! Otsu's threshold: the one that maximises the variance between two classes.
//!
//! Otsu 1979, IEEE Transactions on Systems, Man and Cybernetics 9(1):62-66. Computed on a histogram as in
//! scikit-image: the upper class is above the centre of the chosen bin, and of several equally good bins the
//! first is chosen.

/// Number of bins.
pub const BINS: usize = 256;

/// Counts of values in [`BINS`] equal bins between the smallest and the largest.
#[derive(Debug, Clone, PartialEq)]
pub struct Histogram {
    low: f64,
    width: f64,
    counts: Vec<u32>,
}

impl Histogram {
    /// The histogram of some values; `None` if there are none or one of them is not finite.
    pub fn of(values: impl Iterator<Item = f32> + Clone) -> Option<Self> {
        let mut ends: Option<(f32, f32)> = None;
        for v in values.clone() {
            if !v.is_finite() {
                return None;
            }
            ends = Some(ends.map_or((v, v), |(low, high)| (low.min(v), high.max(v))));
        }
        let (low, high) = ends?;
        let (low, high) = (f64::from(low), f64::from(high));
        let width = (high - low) / BINS as f64;
        let mut counts = vec![0; BINS];
        for v in values {
            let bin = if width > 0.0 {
                ((f64::from(v) - low) / width) as usize
            } else {
                0
            };
            // The last bin includes the largest value.
            counts[bin.min(BINS - 1)] += 1;
        }
        Some(Self { low, width, counts })
    }

    /// The value at the centre of a bin.
    pub fn centre(&self, bin: usize) -> f64 {
        self.low + (bin as f64 + 0.5) * self.width
    }

    /// The quantile for a share (0 to 1), to the nearest bin.
    pub fn quantile(&self, share: f64) -> f64 {
        let all: u64 = self.counts.iter().map(|n| u64::from(*n)).sum();
        let mut below = 0;
        for (bin, n) in self.counts.iter().enumerate() {
            below += u64::from(*n);
            if below as f64 >= share * all as f64 {
                return self.centre(bin);
            }
        }
        self.centre(BINS - 1)
    }

    /// The share (0 to 1) in the bins with centres up to `value`.
    pub fn share_below(&self, value: f64) -> f64 {
        let all: u64 = self.counts.iter().map(|n| u64::from(*n)).sum();
        let below = (0..BINS).take_while(|bin| self.centre(*bin) <= value);
        let below: u64 = below.map(|bin| u64::from(self.counts[bin])).sum();
        below as f64 / all as f64
    }

    /// Otsu's threshold; the value itself if all are equal.
    pub fn otsu(&self) -> f64 {
        split(&self.counts, |bin| self.centre(bin)).map_or(self.low, |bin| self.centre(bin))
    }
}

/// The last bin of the lower class; `None` if fewer than two bins are filled.
pub fn split(counts: &[u32], centre: impl Fn(usize) -> f64) -> Option<usize> {
    let all: f64 = counts.iter().map(|n| f64::from(*n)).sum();
    let weigh = |(bin, n): (usize, &u32)| f64::from(*n) * centre(bin);
    // The upper class is summed from its end, so that empty bins change neither class by rounding.
    let mut above = vec![(0.0, 0.0); counts.len() + 1];
    for bin in (0..counts.len()).rev() {
        let (weight, sum) = above[bin + 1];
        above[bin] = (
            weight + f64::from(counts[bin]),
            sum + weigh((bin, &counts[bin])),
        );
    }
    let (mut weight, mut sum) = (0.0, 0.0);
    let mut best: Option<(usize, f64)> = None;
    for (bin, n) in counts.iter().enumerate() {
        weight += f64::from(*n);
        sum += weigh((bin, n));
        let (upper_weight, upper_sum) = above[bin + 1];
        if weight <= 0.0 || weight >= all || upper_weight <= 0.0 {
            continue;
        }
        let apart = sum / weight - upper_sum / upper_weight;
        let variance = weight * upper_weight * apart * apart;
        if best.is_none_or(|(_, most)| variance > most) {
            best = Some((bin, variance));
        }
    }
    best.map(|(bin, _)| bin)
}
