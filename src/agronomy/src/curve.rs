//! Smooth daily values from monthly means, preserving the means.

/// Days in each month of a common year.
pub(crate) const MONTH_DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Days of a common year; also the number of smoothing passes.
const YEAR_DAYS: usize = 365;

/// One value per day of a common year whose average over each month is that month's value (M. D. Rymes & D.
/// R. Myers 2001, Solar Energy 71:225): smooth each day with its neighbours and restore each month's mean,
/// 365 times.
pub(crate) fn daily_from_monthly(monthly: &[f64; 12]) -> Vec<f64> {
    smooth_year(monthly, |month, lost, _| shift(month, lost))
}

/// The same for values that cannot be negative, given months that are not: a month that would fall below zero
/// is scaled to its mean instead of shifted.
pub(crate) fn daily_from_monthly_above_zero(monthly: &[f64; 12]) -> Vec<f64> {
    smooth_year(monthly, |month, lost, mean| {
        let lowest = month.iter().copied().fold(f64::INFINITY, f64::min);
        if lowest + lost >= 0.0 {
            shift(month, lost);
        } else {
            // The smoothing pushed the mean down, so the mean is positive here.
            let scale = ((mean + lost) / mean).max(0.0);
            month.iter_mut().for_each(|day| *day *= scale);
        }
    })
}

fn shift(month: &mut [f64], by: f64) {
    month.iter_mut().for_each(|day| *day += by);
}

/// Alternates smoothing and restoring; `restore` gets a month's days, the change of their mean, and the mean.
fn smooth_year(monthly: &[f64; 12], restore: impl Fn(&mut [f64], f64, f64)) -> Vec<f64> {
    let mut year: Vec<f64> = monthly
        .iter()
        .zip(MONTH_DAYS)
        .flat_map(|(value, days)| std::iter::repeat_n(*value, days))
        .collect();
    for _ in 0..YEAR_DAYS {
        smooth(&mut year);
        let mut rest = year.as_mut_slice();
        for (value, days) in monthly.iter().zip(MONTH_DAYS) {
            let (month, later) = rest.split_at_mut(days.min(rest.len()));
            let mean = month.iter().sum::<f64>() / days as f64;
            restore(month, value - mean, mean);
            rest = later;
        }
    }
    year
}

/// Averages each day with its neighbours, wrapping around the year.
fn smooth(year: &mut [f64]) {
    let (Some(first), Some(last)) = (year.first().copied(), year.last().copied()) else {
        return;
    };
    let mut yesterday = last;
    let mut days = year.iter_mut().peekable();
    while let Some(day) = days.next() {
        let today = *day;
        let tomorrow = days.peek().map_or(first, |next| **next);
        *day = (yesterday + today + tomorrow) / 3.0;
        yesterday = today;
    }
}
