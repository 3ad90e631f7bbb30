//! Date arithmetic that saturates at the ends of the calendar.

use chrono::{NaiveDate, TimeDelta};

/// The date `days` later, or earlier if negative.
pub(crate) fn shifted(date: NaiveDate, days: i64) -> NaiveDate {
    let end = if days < 0 {
        NaiveDate::MIN
    } else {
        NaiveDate::MAX
    };
    TimeDelta::try_days(days)
        .and_then(|span| date.checked_add_signed(span))
        .unwrap_or(end)
}

/// `date` plus a fractional number of days, rounded to the nearest date. NaN counts as zero.
pub(crate) fn shifted_by(date: NaiveDate, days: f64) -> NaiveDate {
    // The cast saturates and turns NaN into zero.
    shifted(date, days.round() as i64)
}

/// Whole days from `from` to `to`; negative if `to` is earlier.
pub(crate) fn between(from: NaiveDate, to: NaiveDate) -> i64 {
    to.signed_duration_since(from).num_days()
}
