//! Otsu's threshold: the one that parts the values into two classes whose means are as far apart as they can be.
//!
//! Otsu 1979, IEEE Transactions on Systems, Man and Cybernetics 9(1):62-66. Classes are told apart on a histogram, as scikit-image
//! does: what lies above the centre of the chosen bin is the upper class, and of several bins that part equally well the first is
//! taken.

/// Bins of a histogram.
pub const BINS: usize = 256;

/// How many values lie in each of [`BINS`] equally wide bins between the smallest and the largest.
#[derive(Debug, Clone, PartialEq)]
pub struct Histogram {
    low: f64,
    width: f64,
    counts: Vec<u32>,
}

impl Histogram {
    /// The histogram of some values; `None` if there are none or one of them is no number.
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
            // The last bin holds the largest value, too.
            counts[bin.min(BINS - 1)] += 1;
        }
        Some(Self { low, width, counts })
    }

    /// The value in the middle of a bin.
    pub fn centre(&self, bin: usize) -> f64 {
        self.low + (bin as f64 + 0.5) * self.width
    }

    /// The value below which a share (0 to 1) of all lies, to a bin.
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

    /// The share (0 to 1) of all in the bins up to the one whose centre a value is, or lies beyond.
    pub fn share_below(&self, value: f64) -> f64 {
        let all: u64 = self.counts.iter().map(|n| u64::from(*n)).sum();
        let below = (0..BINS).take_while(|bin| self.centre(*bin) <= value);
        let below: u64 = below.map(|bin| u64::from(self.counts[bin])).sum();
        below as f64 / all as f64
    }

    /// Otsu's threshold; the value itself where all are one.
    pub fn otsu(&self) -> f64 {
        split(&self.counts, |bin| self.centre(bin)).map_or(self.low, |bin| self.centre(bin))
    }
}

/// The bin after which counts part into two classes best; `None` where they do not fill two bins.
pub fn split(counts: &[u32], centre: impl Fn(usize) -> f64) -> Option<usize> {
    let all: f64 = counts.iter().map(|n| f64::from(*n)).sum();
    let weigh = |(bin, n): (usize, &u32)| f64::from(*n) * centre(bin);
    // Summed from the upper end for the upper class, so that empty bins change neither class by a rounding.
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
