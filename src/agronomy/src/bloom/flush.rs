//! How the stems of one planting spread over the weeks after first bloom.

/// Ends of the phases, in windows: stems rise to the full rate, hold it, then tail off beyond the window.
/// Shape from common practice; no source.
const RISE_END: f64 = 0.15;
const FULL_END: f64 = 0.70;
const TAIL_END: f64 = 1.20;

/// Size of each weekly_shares relative to the one before (from memory: thinner).
const LATER_FLUSH: f64 = 0.6;

/// Limits of the window and interval in days, and of the number of flushes.
const WINDOW_DAYS: (f64, f64) = (1.0, 365.0);
const FLUSHES: (f64, f64) = (1.0, 12.0);

/// The distribution of a planting's stems over the days after first bloom.
///
/// One weekly_shares is cut over about its window: a quick rise, a plateau and a tail. Each further weekly_shares (the number
/// may be fractional, such as 1.5) starts one interval after the one before and gives 0.6 of its stems.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlushShape {
    window: f64,
    flushes: f64,
    interval: f64,
    whole: f64,
}

impl FlushShape {
    /// Values out of range (window and interval 1 to 365 days, 1 to 12 flushes) are clamped; NaN counts as
    /// the minimum.
    pub fn new(window_days: f64, flushes: f64, interval_days: f64) -> Self {
        let mut shape = Self {
            window: clamped(window_days, WINDOW_DAYS),
            flushes: clamped(flushes, FLUSHES),
            interval: clamped(interval_days, WINDOW_DAYS),
            whole: 1.0,
        };
        shape.whole = shape.sum(f64::INFINITY);
        shape
    }

    /// Share of all stems cut within `day` days of first bloom, 0 to 1.
    pub fn share_by(&self, day: f64) -> f64 {
        (self.sum(day) / self.whole).clamp(0.0, 1.0)
    }

    /// Days after first bloom by which the last stems are cut.
    pub fn end(&self) -> f64 {
        self.window * TAIL_END + self.interval * (self.flushes.ceil() - 1.0)
    }

    /// Shares by week after first bloom, which sum to 1.
    pub fn weeks(&self) -> Vec<f64> {
        let count = (self.end() / 7.0).ceil().max(1.0) as usize;
        let by = |week: usize| self.share_by(7.0 * week as f64);
        (0..count).map(|week| by(week + 1) - by(week)).collect()
    }

    fn sum(&self, day: f64) -> f64 {
        let mut left = self.flushes;
        let (mut size, mut start, mut sum) = (1.0, 0.0, 0.0);
        while left > 1e-9 && start < day {
            sum += size * left.min(1.0) * cut_by((day - start) / self.window);
            left -= 1.0;
            size *= LATER_FLUSH;
            start += self.interval;
        }
        sum
    }
}

/// Shares of a planting's stems by week after first bloom, which sum to 1; see [`FlushShape::new`] for the
/// arguments.
pub fn weekly_shares(window_days: f64, flushes: f64, interval_days: f64) -> Vec<f64> {
    FlushShape::new(window_days, flushes, interval_days).weeks()
}

fn clamped(value: f64, (low, high): (f64, f64)) -> f64 {
    if value.is_nan() {
        low
    } else {
        value.clamp(low, high)
    }
}

/// Stems cut by time `t` (in windows), up to a constant factor: the area under a trapezium that rises to 1,
/// holds, and falls to 0.
fn cut_by(t: f64) -> f64 {
    let rise = t.clamp(0.0, RISE_END);
    let full = (t - RISE_END).clamp(0.0, FULL_END - RISE_END);
    let tail = (t - FULL_END).clamp(0.0, TAIL_END - FULL_END);
    rise * rise / (2.0 * RISE_END) + full + tail - tail * tail / (2.0 * (TAIL_END - FULL_END))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_long_window_holds_a_plateau_and_ends_in_a_tail() {
        let weeks = weekly_shares(70.0, 1.0, 28.0);
        assert_eq!(weeks.len(), 12);
        assert!(weeks[0] < weeks[2]);
        assert!((weeks[3] - weeks[5]).abs() < 1e-12);
        assert!(weeks[11] < weeks[9] && weeks[9] < weeks[5]);
    }

    #[test]
    fn a_second_flush_is_thinner_and_comes_after_its_interval() {
        let weeks = weekly_shares(14.0, 2.0, 42.0);
        assert!(weeks[4].abs() < 1e-12 && weeks[5].abs() < 1e-12);
        let first: f64 = weeks[..4].iter().sum();
        assert!((first - 1.0 / 1.6).abs() < 1e-9, "{first}");
    }

    proptest! {
        #[test]
        fn shares_are_never_negative_and_sum_to_one(
            window in -5.0f64..400.0, flushes in -1.0f64..14.0, interval in -5.0f64..400.0,
        ) {
            let weeks = weekly_shares(window, flushes, interval);
            prop_assert!(weeks.iter().all(|share| *share >= 0.0));
            prop_assert!((weeks.iter().sum::<f64>() - 1.0).abs() < 1e-9);
        }
    }
}
