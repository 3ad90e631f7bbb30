//! Stems of a flush by week, for a first bloom on any day.

use super::spread::Spread;

/// Days per week.
const WEEK: f64 = 7.0;

/// The week of a first bloom, and how far into it the bloom comes (0 to below 1). That share of each seven
/// days of the flush is in the next calendar week.
pub(super) fn first_week(day: f64) -> (i64, f64) {
    let week = libm::floor(day / WEEK);
    (week as i64, day / WEEK - week)
}

/// Adds `stems`, distributed by `shares` over the weeks from first bloom; weeks outside `made` are ignored.
pub(super) fn share_out(
    made: &mut [f64],
    shares: &[f64],
    spared: impl Fn(usize) -> f64,
    day: f64,
    stems: f64,
) {
    let (first, part) = first_week(day);
    let mut before = 0.0;
    for (n, share) in shares.iter().chain(core::iter::once(&0.0)).enumerate() {
        let here = share * (1.0 - part) + before * part;
        before = *share;
        let Ok(week) = usize::try_from(first.saturating_add(n as i64)) else {
            continue;
        };
        match made.get_mut(week) {
            Some(made) => *made += stems * here * spared(week),
            None => break,
        }
    }
}

/// The mean share of a flush that is in `week`, over the distribution of its first day.
///
/// As a function of the day of first bloom, the overlap of a calendar week with a week of the flush is a
/// triangle, whose mean is a second difference of [`Spread::mean_above`].
pub(super) fn mean_share(shares: &[f64], bloom: Spread, week: usize) -> f64 {
    let tent = |n: usize| {
        let top = WEEK * (week as f64 - n as f64);
        let above = |day: f64| bloom.mean_above(day);
        (above(top - WEEK) - 2.0 * above(top) + above(top + WEEK)) / WEEK
    };
    let sum: f64 = shares
        .iter()
        .enumerate()
        .map(|(n, share)| share * tent(n))
        .sum();
    sum.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flush_that_begins_on_a_thursday_has_four_sevenths_of_each_week_in_the_same_calendar_week()
    {
        let mut made = [0.0; 4];
        share_out(&mut made, &[0.75, 0.25], |_| 1.0, 7.0 + 3.0, 70.0);
        let wanted = [0.0, 0.75 * 40.0, 0.75 * 30.0 + 0.25 * 40.0, 0.25 * 30.0];
        for (made, wanted) in made.iter().zip(wanted) {
            assert!((made - wanted).abs() < 1e-9, "{made} {wanted}");
        }
        for (week, wanted) in wanted.iter().enumerate() {
            let mean = mean_share(&[0.75, 0.25], Spread::exact(10.0), week);
            assert!((70.0 * mean - wanted).abs() < 1e-9, "{week}");
        }
    }

    #[test]
    fn weeks_out_of_range_are_ignored_and_frost_reduces_the_rest() {
        let mut made = [0.0; 2];
        share_out(
            &mut made,
            &[0.25; 4],
            |week| if week == 0 { 1.0 } else { 0.5 },
            -7.0,
            8.0,
        );
        assert!(
            (made[0] - 2.0).abs() < 1e-12 && (made[1] - 1.0).abs() < 1e-12,
            "{made:?}"
        );
    }

    #[test]
    fn the_mean_share_is_the_mean_over_the_days() {
        let bloom = Spread {
            p10: 24.0,
            p50: 30.0,
            p90: 41.0,
        };
        let shares = [0.4, 0.3, 0.2, 0.1];
        let mut mean = [0.0; 14];
        let steps = 200_000;
        for n in 0..steps {
            // Equal steps of z weighted by the normal density.
            let z = -6.0 + 12.0 * (f64::from(n) + 0.5) / f64::from(steps);
            let weight =
                libm::exp(-0.5 * z * z) / (core::f64::consts::TAU).sqrt() * 12.0 / f64::from(steps);
            share_out(&mut mean, &shares, |_| 1.0, bloom.at(z), weight);
        }
        for (week, sum) in mean.iter().enumerate() {
            assert!(
                (mean_share(&shares, bloom, week) - sum).abs() < 1e-6,
                "{week}: {sum}"
            );
        }
    }
}
