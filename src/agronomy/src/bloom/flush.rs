//! How one planting's stems spread over the weeks after first bloom.

/// Parts of the window: stems come up to full rate, hold it, then fall away
/// past the window's end. Shape from common practice; no source.
const RISE_END: f64 = 0.15;
const FULL_END: f64 = 0.70;
const TAIL_END: f64 = 1.20;

/// A later flush gives this share of the one before (from memory: thinner).
const LATER_FLUSH: f64 = 0.6;

/// Windows are held within these many days, flushes within these many.
const WINDOW_DAYS: (f64, f64) = (1.0, 365.0);
const FLUSHES: (f64, f64) = (1.0, 12.0);

/// Shares of a planting's stems by week after first bloom, summing to 1.
///
/// One flush is cut for about `window_days`: a quick rise, a plateau and a tail.
/// Each further flush (`flushes` may have a fraction, as 1.5) starts
/// `interval_days` after the one before and gives six tenths of it. Values out
/// of range (window 1 to 365 days, 1 to 12 flushes, interval 1 to 365 days) are
/// held at the nearest end; those that are no number count as the least.
pub fn flush(window_days: f64, flushes: f64, interval_days: f64) -> Vec<f64> {
    let window = held(window_days, WINDOW_DAYS);
    let interval = held(interval_days, WINDOW_DAYS);
    let mut left = held(flushes, FLUSHES);
    let mut size = 1.0;
    let mut start = 0.0;
    let mut weeks: Vec<f64> = Vec::new();
    while left > 1e-9 {
        add_flush(&mut weeks, start, window, size * left.min(1.0));
        left -= 1.0;
        size *= LATER_FLUSH;
        start += interval;
    }
    let total: f64 = weeks.iter().sum();
    for share in &mut weeks {
        *share /= total;
    }
    weeks
}

fn held(value: f64, (low, high): (f64, f64)) -> f64 {
    if value.is_nan() {
        low
    } else {
        value.clamp(low, high)
    }
}

fn add_flush(weeks: &mut Vec<f64>, start: f64, window: f64, size: f64) {
    let end = start + window * TAIL_END;
    let count = (end / 7.0).ceil().max(1.0) as usize;
    if weeks.len() < count {
        weeks.resize(count, 0.0);
    }
    for (week, slot) in weeks.iter_mut().enumerate() {
        let from = (week as f64 * 7.0 - start) / window;
        let to = ((week + 1) as f64 * 7.0 - start) / window;
        *slot += size * (cut_by(to) - cut_by(from));
    }
}

/// Stems cut by time `t` (in windows), up to a constant factor: the area under
/// a trapezium that rises to 1, holds, and falls to 0.
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
        let weeks = flush(70.0, 1.0, 28.0);
        assert_eq!(weeks.len(), 12);
        assert!(weeks[0] < weeks[2]);
        assert!((weeks[3] - weeks[5]).abs() < 1e-12);
        assert!(weeks[11] < weeks[9] && weeks[9] < weeks[5]);
    }

    #[test]
    fn a_second_flush_is_thinner_and_comes_after_its_interval() {
        let weeks = flush(14.0, 2.0, 42.0);
        assert!(weeks[4].abs() < 1e-12 && weeks[5].abs() < 1e-12);
        let first: f64 = weeks[..4].iter().sum();
        assert!((first - 1.0 / 1.6).abs() < 1e-9, "{first}");
    }

    proptest! {
        #[test]
        fn shares_are_never_negative_and_sum_to_one(
            window in -5.0f64..400.0, flushes in -1.0f64..14.0, interval in -5.0f64..400.0,
        ) {
            let weeks = flush(window, flushes, interval);
            prop_assert!(weeks.iter().all(|share| *share >= 0.0));
            prop_assert!((weeks.iter().sum::<f64>() - 1.0).abs() < 1e-9);
        }
    }
}
